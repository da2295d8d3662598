/** What procedures, configurations and options share: revision, status, dates, people, changes and band. */
import type { Findings } from "../findings/finding.ts";
import type { Band, Change, Controlled, Range, Status, Where } from "../schema/collection.ts";
import type { FoundObject } from "../read/read-fields.ts";
import type { procedureHead } from "../schema/files.ts";

const ANY_WEIGHT: Range = { text: "any weight" };
const ANY_AGE: Range = { text: "any age" };

type Head = FoundObject<
  Pick<(typeof procedureHead)["shape"], "effective" | "review-by" | "owner" | "approved-by" | "changes">
> & {
  readonly fields: {
    readonly title?: string;
    readonly code?: string;
    readonly revision?: number;
    readonly status?: Status;
    readonly weight?: Range;
    readonly age?: Range;
  };
};

/** The shared fields; what was missing or wrong gets a stand-in, since it has been reported. */
export function compileControlled(head: Head, id: string, platform: string, file: string): Controlled {
  const { fields, at } = head,
    where = { file, line: 1, column: 1 };
  return {
    id,
    platform,
    file,
    title: fields.title ?? id,
    code: fields.code ?? "",
    revision: fields.revision ?? 1,
    status: fields.status ?? "approved",
    ...(fields.effective !== undefined ? { effective: fields.effective } : {}),
    ...(fields["review-by"] !== undefined ? { reviewBy: fields["review-by"] } : {}),
    ...(fields.owner !== undefined ? { owner: fields.owner } : {}),
    ...(fields["approved-by"] !== undefined ? { approvedBy: fields["approved-by"] } : {}),
    changes: (fields.changes ?? []).map((change) => compileChange(change)),
    band: bandOf(fields.weight, fields.age),
    where,
    at,
  };
}

/** A band of the ranges given; any weight and any age where there is none. */
export function bandOf(weight: Range | undefined, age: Range | undefined): Band {
  return { weight: weight ?? ANY_WEIGHT, age: age ?? ANY_AGE };
}

function compileChange({ value: { fields, at }, where }: NonNullable<Head["fields"]["changes"]>[number]): Change {
  return {
    revision: fields.revision ?? 0,
    date: fields.date ?? "",
    by: fields.by ?? "",
    summary: fields.summary ?? "",
    ...(fields.reason !== undefined ? { reason: fields.reason } : {}),
    ...(fields["sign-offs"] !== undefined ? { signOffs: fields["sign-offs"] } : {}),
    ...(fields.steps !== undefined ? { steps: fields.steps.map(({ value }) => value) } : {}),
    where,
    at,
  };
}

/** What an approved document of each kind names: who owns it and who approved it, a procedure its two days as well. */
const APPROVED = {
  procedure: ["effective", "review-by", "owner", "approved-by"],
  configuration: ["owner", "approved-by"],
  option: ["owner", "approved-by"],
} as const;

/** Reports what is missing of an approval; nothing for a document that does not say it is approved. */
export function requireApproval(head: Head, kind: keyof typeof APPROVED, file: string, findings: Findings): void {
  if (head.fields.status !== "approved") return;
  const where: Where = { file, line: 1, column: 1 },
    status = head.at.status;
  for (const key of APPROVED[kind])
    if (!head.raws.has(key))
      findings.error("text/missing-field", where, {
        message: `\`${key}\` is missing from an approved ${kind}`,
        fix: `Add \`${key}\`, or set \`status\` to \`draft\` or \`in review\``,
        ...(status ? { cause: status } : {}),
      });
}
