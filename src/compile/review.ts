/** A file of `reviews/`: what was said of one revision of a document, and what its author answered. */
import { Findings } from "../findings/finding.ts";
import { readFields } from "../read/read-fields.ts";
import type { Source } from "../read/source.ts";
import { readYaml } from "../read/yaml.ts";
import type { Platform, Review } from "../schema/collection.ts";
import { documentsOf } from "../schema/documents.ts";
import { reviewFile } from "../schema/files.ts";
import { resolveName } from "./names.ts";

/** The review; `undefined` where its document is not known or not named, which is reported. */
export function compileReview(source: Source, platforms: readonly Platform[], all: Findings): Review | undefined {
  const { raw, broken } = readYaml(source, source.text, 0, all),
    where = { file: source.file, line: 1, column: 1 },
    findings = broken ? new Findings() : all;
  const { fields, at } = readFields(
    reviewFile,
    raw,
    { source, findings, quiet: broken },
    { what: "the review", where },
  );
  if (fields.document === undefined) return undefined;
  const documents = platforms.flatMap((platform) =>
    documentsOf(platform).map((document) => ({ platform: platform.id, document })),
  );
  const named = (written: string) =>
    documents.filter(({ platform, document: { id } }) => id === written || `${platform}/${id}` === written);
  const place = at["document"] ?? where,
    found = named(
      named(fields.document).length > 0
        ? fields.document
        : resolveName(
            {
              word: "procedure, configuration or option",
              ids: new Set(documents.map(({ platform, document: { id } }) => `${platform}/${id}`)),
              complete: true,
              declaredIn: "the collection",
            },
            fields.document,
            place,
            findings,
          ),
    );
  const first = found[0];
  if (!first) return undefined;
  if (found.some(({ platform }) => platform !== first.platform))
    findings.error("text/bad-value", place, {
      message: `\`${fields.document}\` is a document of ${found.length} platforms`,
      fix: `Write which one: ${found.map(({ platform, document }) => `\`${platform}/${document.id}\``).join(" or ")}`,
    });
  const revision = fields.revision ?? first.document.revision;
  if (revision > first.document.revision)
    findings.error("text/bad-value", at["revision"] ?? where, {
      message: `\`${first.document.id}\` has no revision ${revision}: it is at ${first.document.revision}`,
      fix: `Write the revision that was read: ${first.document.revision} at most`,
      expected: [String(first.document.revision)],
      actual: String(revision),
    });
  return {
    file: source.file,
    platform: first.platform,
    document: first.document.id,
    revision,
    remarks: (fields.remarks ?? []).map(({ value, where: here }) => ({
      ...(value.fields.step === undefined ? {} : { step: value.fields.step }),
      by: value.fields.by ?? "",
      date: value.fields.date ?? "",
      text: value.fields.text ?? "",
      ...(value.fields.answer === undefined ? {} : { answer: value.fields.answer }),
      ...(value.fields.answered === undefined ? {} : { answered: value.fields.answered }),
      where: here,
      at: value.at,
    })),
    where,
    at,
  };
}
