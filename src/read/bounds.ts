/**
 * What would keep the parser busy for minutes is refused before it is parsed, with its line: paragraphs without end,
 * and blocks nested as nobody writes them. Measured on what took longest: `tests/read/bounds.test.ts`.
 */
import type { Findings } from "../findings/finding.ts";
import type { Source } from "./source.ts";

/** Characters of a paragraph; time grows with their square (runs of backticks, brackets, attributes). */
export const MOST_IN_PARAGRAPH = 10_000;
/** Marks of emphasis or tags in a paragraph; time grows with more than their square. */
export const MOST_MARKS = 600;
/** Blocks `:::` open inside each other. */
export const MOST_OPEN = 30;
/** Lists and quotes inside each other. */
export const MOST_NESTED = 40;

const OPENS = /^[\s>]*:{3,}[ \t]*[A-Za-z]/;
const CLOSES = /^[\s>]*:{3,}[ \t]*$/;
/** What a line begins with: indents, marks of lists and of quotes. */
const MARKS = /^(?:[ \t]*(?:[-*+]|\d{1,9}[.)]|>)(?=[ \t]|$|>))*/;
/** An item begins a paragraph. */
const BEGINS = /^\s*(?:[-*+]|\d{1,9}[.)])\s/;
/** A heading, a directive, a row of a table or code is of no paragraph. */
const STANDS_ALONE = /^\s*(?:#{1,6}\s|:{2,}|\||`{3,}|~{3,})/;
const CODE = /^[\s>]*(`{3,}|~{3,})/;
const ITEM = /^([ \t]*)(?:[-*+]|\d{1,9}[.)])(?=[ \t]|$)/;

/** Reports the first line from which on a text is not parsed; false if it can be. */
export function reportTooMuch(source: Source, bodyOffset: number, findings: Findings): boolean {
  let open = 0,
    length = 0,
    marks = 0,
    first = 0,
    code: string | undefined;
  for (const [index, start] of source.starts.entries()) {
    if (start < bodyOffset) continue;
    const line = source.line(index + 1);
    const refuse = (at: number, message: string, fix: string): true => {
      findings.error("text/syntax", source.where(at), { message: `${message}; the text is not read`, fix });
      return true;
    };
    const fence = CODE.exec(line)?.[1];
    if (fence && (code === undefined || fence.startsWith(code))) code = code === undefined ? fence : undefined;
    if (line.trim() === "" || BEGINS.test(line) || STANDS_ALONE.test(line)) length = marks = 0;
    if (code !== undefined || line.trim() === "") continue;
    if (!STANDS_ALONE.test(line) || line.length > MOST_IN_PARAGRAPH) {
      if (length === 0) first = start;
      length += line.length + 1;
      marks += line.match(/[*_]+|</g)?.length ?? 0;
    }
    if (marks > MOST_MARKS)
      return refuse(
        first,
        `This paragraph holds more than ${MOST_MARKS} marks of emphasis or tags (\`*\`, \`_\`, \`<\`)`,
        "Part it by blank lines; look for something that was pasted by mistake",
      );
    if (length > MOST_IN_PARAGRAPH)
      return refuse(
        first,
        `This paragraph goes on for more than ${MOST_IN_PARAGRAPH.toLocaleString("en-GB")} characters`,
        "Part it by blank lines where a thought ends; look for something that was pasted by mistake",
      );
    if (OPENS.test(line)) open += 1;
    else if (CLOSES.test(line)) open = Math.max(0, open - 1);
    if (open > MOST_OPEN)
      return refuse(
        start,
        `Here ${open} blocks \`:::\` are open inside each other`,
        "Close each block with a line `:::` where it ends",
      );
    if (nestedIn(line) > MOST_NESTED)
      return refuse(
        start,
        `This line is nested more than ${MOST_NESTED} deep in lists or quotes`,
        "Write it flat: look for long rows of `>`, `-` or `*`, and for very deep indents",
      );
  }
  return false;
}

/** How deep a line may stand in lists and quotes: by its marks, or by its indent where it begins an item. */
function nestedIn(line: string): number {
  const marks = MARKS.exec(line)![0].match(/[-*+>]|\d+[.)]/g)?.length ?? 0;
  const indent = ITEM.exec(line)?.[1]!.replaceAll("\t", "    ").length ?? 0;
  return Math.max(marks, indent / 2);
}
