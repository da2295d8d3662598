/** Frozen issues from `issued/`. Only their frame is read here; what they hold is the record rules' business. */
import type { Findings } from "../findings/finding.ts";
import type { Issued } from "../schema/collection.ts";
import type { Source } from "../read/source.ts";

/** A frozen issue; nothing, with a finding, if the file is no such thing. */
export function compileIssued(
  source: Source,
  platform: string,
  id: string,
  revision: number,
  findings: Findings,
): Issued | undefined {
  const where = { file: source.file, line: 1, column: 1 };
  let value: unknown;
  try {
    value = JSON.parse(source.text);
  } catch (error) {
    const position = /position (\d+)/.exec(error instanceof Error ? error.message : "")?.[1];
    findings.error("text/syntax", position ? source.where(Number(position)) : source.where(source.text.length), {
      message: "This frozen issue can't be read as JSON",
      fix: "Restore the file from your version control: `rerig issue` writes it, nobody edits it",
    });
    return undefined;
  }
  const frame =
    typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Record<string, unknown>) : {};
  const kind = frame.kind;
  if (
    (kind !== "procedure" && kind !== "configuration" && kind !== "option") ||
    typeof frame.hash !== "string" ||
    !Object.hasOwn(frame, "content")
  ) {
    findings.error("text/missing-field", where, {
      message: "`kind`, `hash` or `content` is missing from this frozen issue",
      fix: "Restore the file from your version control: `rerig issue` writes it, nobody edits it",
    });
    return undefined;
  }
  const { hash: _h, content: _c, ...head } = frame;
  return {
    file: source.file,
    platform,
    kind,
    id,
    revision,
    ...(frame.form === 1 ? {} : { form: 2 as const }),
    head,
    hash: frame.hash,
    content: frame.content,
    where,
    at: Object.fromEntries(
      ["hash", "kind", "platform", "id", "revision"].map((key) => [
        key,
        source.where(Math.max(0, source.text.indexOf(`"${key}"`))),
      ]),
    ),
  };
}
