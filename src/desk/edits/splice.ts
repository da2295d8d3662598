/** Text put in place of other text, with the line ends that stand around it. */

/** The characters from one offset to another, and what takes their place. */
export interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The text with splices made; they do not overlap. */
export function splice(text: string, splices: readonly Splice[]): string {
  return [...splices]
    .sort((a, b) => b.from - a.from || b.to - a.to)
    .reduce((made, each) => made.slice(0, each.from) + each.text + made.slice(each.to), text);
}

/** How the line before an offset ends; where there is none as the first line of the text does, else a line feed. */
export function lineEndAt(text: string, offset: number): string {
  const before = /(?:\r\n|\n|\r)(?=[^\r\n]*$)/.exec(text.slice(0, offset))?.[0];
  return before ?? /\r\n|\n|\r/.exec(text)?.[0] ?? "\n";
}

/** Offset of the first character of the line in which an offset lies. */
export function lineBegin(text: string, offset: number): number {
  return Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
}

/** Offset at which the line ends in which an offset lies, before its line end. */
export function lineFinish(text: string, offset: number): number {
  const found = /[\r\n]/g;
  found.lastIndex = offset;
  return found.exec(text)?.index ?? text.length;
}

/** Offset of the line after the one that ends at an offset: behind its line end, if it has one. */
export function behindLineEnd(text: string, offset: number): number {
  return offset + (text.startsWith("\r\n", offset) ? 2 : /[\r\n]/.test(text[offset] ?? "") ? 1 : 0);
}
