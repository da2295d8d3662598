/** Colons with a space after them: Markdown takes `::: step` for a paragraph, in silence. */
import type { Findings } from "../findings/finding.ts";
import type { Source } from "./source.ts";

/** Names that authors may put after two or three colons. */
const SPACED = /^([ \t]*)(:{2,})[ \t]+([A-Za-z][\w-]*)(.*)$/;

/**
 * Reports `::: step` and gives a text of the same length in which the space stands before the colons, so that the step is read all the same.
 * Lines in fenced code are left alone.
 */
export function repairSpacedFences(source: Source, bodyOffset: number, findings: Findings): string {
  const { text } = source;
  if (!/^[ \t]*:{2,}[ \t]+[A-Za-z]/m.test(text)) return text;
  let mended = text, code: string | undefined;
  source.starts.forEach((start, index) => {
    if (start < bodyOffset) return;
    const line = source.line(index + 1);
    const fence = /^[ ]{0,3}(`{3,}|~{3,})/.exec(line)?.[1];
    if (fence) code = code === undefined ? fence : fence.startsWith(code) ? undefined : code;
    const found = code === undefined ? SPACED.exec(line) : null;
    if (!found) return;
    const [, indent = "", colons = "", name = "", rest = ""] = found;
    const spaces = line.length - indent.length - colons.length - name.length - rest.length;
    findings.error("text/syntax", source.where(start + indent.length), { message: `Unexpected space after \`${colons}\`: the line is read as plain text`, fix: `Write \`${colons}${name}\`` });
    const front = indent + " ".repeat(Math.min(spaces, Math.max(0, 3 - indent.length)));
    const line2 = (front + colons + name + rest).padEnd(line.length);
    mended = mended.slice(0, start) + line2 + mended.slice(start + line.length);
  });
  return mended;
}
