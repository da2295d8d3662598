/** Colons with a space after them: Markdown takes `::: step` for a paragraph, in silence. */
import type { Findings } from "../findings/finding.ts";
import type { Source } from "./source.ts";

/** Colons, a name, and what may follow them, with spaces where none belong. */
const SPACED = /^([ \t]*)(:{2,})([ \t]*)([A-Za-z][\w-]*(?:\[[^\]]*\])?)([ \t]*)(\{.*\}[ \t]*|\[.*)?$/;
const MAYBE = /^[ \t]*:{2,}(?:[ \t]+[A-Za-z]|[A-Za-z][\w-]*(?:\[[^\]\r\n]*\])?[ \t]+[{[])/m;

/**
 * Reports `::: step` and gives a text of the same length in which the space stands before the colons, so that the step
 * is read all the same.
 * Lines in fenced code are left alone.
 */
export function repairSpacedFences(source: Source, bodyOffset: number, findings: Findings): string {
  const { text } = source;
  if (!MAYBE.test(text)) return text;
  let mended = text,
    code: string | undefined;
  source.starts.forEach((start, index) => {
    if (start < bodyOffset) return;
    const line = source.line(index + 1);
    const fence = /^[ ]{0,3}(`{3,}|~{3,})/.exec(line)?.[1];
    if (fence) code = code === undefined ? fence : fence.startsWith(code) ? undefined : code;
    const found = code === undefined ? SPACED.exec(line) : null;
    if (!found) return;
    const [, indent = "", colons = "", first = "", name = "", second = "", rest = ""] = found;
    const isSecond = first === "" && second !== "" && rest !== "";
    if (first === "" && !isSecond) return;
    const at = start + indent.length + colons.length + (isSecond ? first.length + name.length : 0);
    findings.error("text/syntax", source.where(isSecond ? at : start + indent.length), {
      message: `Unexpected space after \`${isSecond ? colons + name : colons}\`: the line is read as plain text`,
      fix: isSecond ? `Write \`${colons}${name}${rest[0]}…\`, without a space between` : `Write \`${colons}${name}\``,
    });
    const front = indent + " ".repeat(Math.min(first.length, Math.max(0, 3 - indent.length)));
    const straight = (front + colons + name + rest).padEnd(line.length);
    mended = mended.slice(0, start) + straight + mended.slice(start + line.length);
  });
  return mended;
}
