/** What parts the cells of a table that a spreadsheet saved or a person copied. */

/** Separators of cells, each with the word for it (RFC 4180 knows the comma; spreadsheets save the others too). */
export const SEPARATORS = { ",": "comma", ";": "semicolon", "\t": "tab" } as const;
/** One of them, as it stands in the file. */
export type Separator = keyof typeof SEPARATORS;

/**
 * The separator that divides a table's first row into the most cells for which `isKnown` says yes; each cell is given
 * without quotes, trimmed, in small letters. A comma if none does.
 */
export function separatorOf(text: string, isKnown: (cell: string) => boolean): Separator {
  const [head = ""] = text.replace(/^\ufeff/, "").split(/[\r\n]/, 1);
  const known = (separator: string) => head.split(separator).filter((cell) => isKnown(nameIn(cell))).length;
  return (Object.keys(SEPARATORS) as Separator[]).reduce((best, each) => (known(each) > known(best) ? each : best));
}

/** The name of a column in a cell of the first row, whose quotes may still stand round it. */
function nameIn(cell: string): string {
  return cell
    .trim()
    .replace(/^"(.*)"$/, "$1")
    .trim()
    .toLowerCase();
}
