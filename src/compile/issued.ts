/**
 * Frozen issues and editions of cards from `issued/`. Only their frame is read here; what they hold is the business of
 * the record rules.
 */
import type { Findings } from "../findings/finding.ts";
import type { CardEdition, Issued } from "../schema/collection.ts";
import type { Source } from "../read/source.ts";

/** A frozen issue, or a frozen edition of a card; nothing, with a finding, if the file is no such thing. */
export function compileIssued(
  source: Source,
  platform: string,
  id: string,
  revision: number,
  findings: Findings,
): Issued | CardEdition | undefined {
  const frame = readFrame(source, findings);
  if (!frame) return undefined;
  return frame.kind === "card"
    ? compileEdition(source, platform, frame, findings)
    : compileFrame(source, platform, id, revision, frame, findings);
}

const RESTORE =
  "Restore the file from your version control, or from a backup or another copy of the folder: `rerig issue` writes " +
  "it, nobody edits it";

function readFrame(source: Source, findings: Findings): Readonly<Record<string, unknown>> | undefined {
  let value: unknown;
  try {
    value = JSON.parse(source.text);
  } catch (error) {
    const position = /position (\d+)/.exec(error instanceof Error ? error.message : "")?.[1];
    findings.error("text/syntax", position ? source.where(Number(position)) : source.where(source.text.length), {
      message: "This frozen issue can't be read as JSON",
      fix: RESTORE,
    });
    return undefined;
  }
  return typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Record<string, unknown>) : {};
}

function compileEdition(
  source: Source,
  platform: string,
  frame: Readonly<Record<string, unknown>>,
  findings: Findings,
): CardEdition | undefined {
  const where = { file: source.file, line: 1, column: 1 };
  const { hash, ...frozen } = frame;
  const { id: card, edition, effective, code } = frozen;
  if (
    typeof hash !== "string" ||
    typeof card !== "string" ||
    typeof edition !== "number" ||
    typeof effective !== "string" ||
    typeof code !== "string"
  ) {
    findings.error("text/missing-field", where, {
      message: "`id`, `edition`, `effective`, `code` or `hash` is missing from this frozen edition of a card",
      fix: RESTORE,
    });
    return undefined;
  }
  const at = { hash: source.where(Math.max(0, source.text.indexOf('"hash"'))) };
  return { file: source.file, platform, card, edition, effective, code, frozen, hash, where, at };
}

function compileFrame(
  source: Source,
  platform: string,
  id: string,
  revision: number,
  frame: Readonly<Record<string, unknown>>,
  findings: Findings,
): Issued | undefined {
  const where = { file: source.file, line: 1, column: 1 };
  const kind = frame.kind;
  if (
    (kind !== "procedure" && kind !== "configuration" && kind !== "option") ||
    typeof frame.hash !== "string" ||
    !Object.hasOwn(frame, "content")
  ) {
    findings.error("text/missing-field", where, {
      message: "`kind`, `hash` or `content` is missing from this frozen issue",
      fix: RESTORE,
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
