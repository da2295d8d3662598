/** An approval as it is written into a document's head, and what is in its way: for the desk and `rerig approve`. */
import { type Approval, whyNotApproved } from "../../domain/records/remarks.ts";
import type { Finding } from "../../findings/finding.ts";
import type { Collection, Configuration, Option, Procedure } from "../../schema/collection.ts";
import { applyAll } from "../edits/apply-all.ts";

/** Errors of the document's own file, and sentences for a person; both empty if the role may approve it. */
interface Hindrances {
  readonly errors: readonly Finding[];
  readonly why: readonly string[];
}

/** What keeps a role from approving a document's present revision. `findings`: what reading its file found. */
export function hindrancesOf(
  files: Pick<Collection, "reviews">,
  findings: readonly Finding[],
  document: Procedure | Configuration | Option,
  approval: Approval,
): Hindrances {
  return {
    errors: findings.filter(({ file, severity }) => file === document.file && severity === "error"),
    why: whyNotApproved(files, document, approval),
  };
}

/** The text of a document whose head says that it is approved; everything else in it stays as it is. */
export function withApproval(
  text: string,
  { role, effective, reviewBy }: Approval,
): { readonly text: string } | { readonly refused: string } {
  const fields = [
    ["effective", effective],
    ...(reviewBy === undefined ? [] : [["review-by", reviewBy] as const]),
    ["approved-by", role],
    ["status", "approved"],
  ] as const;
  return applyAll(
    text,
    fields.map(([name, value]) => ({ kind: "set-field", path: [name], value })),
  );
}
