/** Tables with bars: CommonMark has none, so a paragraph of bars would be shown as it is written. */
import type { Block, Inline, Paragraph } from "../schema/collection.ts";

const DELIMITER = /^[ \t]*\|?[ \t]*:?-+:?[ \t]*(?:\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*$/;

/**
 * The table that a paragraph is written as (GitHub Flavored Markdown 0.29, section 4.10), its head as the first row;
 * nothing if it is none. `source` is the paragraph as written.
 */
export function readTable(paragraph: Paragraph, source: string): Block | undefined {
  const lines = source.split(/\r\n?|\n/);
  if (lines.length < 2 || !lines[0]!.includes("|") || !lines[1]!.includes("|") || !DELIMITER.test(lines[1]!))
    return undefined;
  const rows: Inline[][][] = [[[]]];
  for (const inline of paragraph.children) {
    if (inline.kind !== "text") {
      rows.at(-1)!.at(-1)!.push(inline);
      continue;
    }
    for (const part of inline.text.split(/(\r\n?|\n|\|)/)) {
      if (part === "|") rows.at(-1)!.push([]);
      else if (/^[\r\n]/.test(part)) rows.push([[]]);
      else if (part !== "")
        rows
          .at(-1)!
          .at(-1)!
          .push({ ...inline, text: part });
    }
  }
  rows.splice(1, 1);
  const width = trimRow(rows[0]!).length;
  return {
    kind: "table",
    rows: rows.map((row) => trimRow(row)).map((row) => Array.from({ length: width }, (_, column) => row[column] ?? [])),
    where: paragraph.where,
  };
}

/** A row without the empty cells outside its outer bars, and cells without spaces at their ends. */
function trimRow(row: readonly (readonly Inline[])[]): Inline[][] {
  const isBlank = (cell: readonly Inline[] | undefined) =>
    cell !== undefined && cell.every((inline) => inline.kind === "text" && inline.text.trim() === "");
  const inner = row.slice(isBlank(row[0]) ? 1 : 0, row.length > 1 && isBlank(row.at(-1)) ? -1 : undefined);
  return inner.map((cell) =>
    cell
      .map((inline, index) => {
        if (inline.kind !== "text") return inline;
        const start = index === 0 ? inline.text.trimStart() : inline.text;
        return { ...inline, text: index === cell.length - 1 ? start.trimEnd() : start };
      })
      .filter((inline) => inline.kind !== "text" || inline.text !== ""),
  );
}
