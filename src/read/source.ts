/** One text file of the collection, with the line and column of every place in it. */
import type { Where } from "../schema/collection.ts";

/** Text of a file without its byte-order mark. Lines end at LF, CRLF or CR, as in CommonMark 0.31.2, section 2.1. */
export class Source {
  readonly file: string;
  /** False for what could not be read as text, which has been reported: what is missing from it is not reported too. */
  readonly isText: boolean;
  #text: string;
  readonly #written: string;
  #starts: number[] | undefined;

  constructor(file: string, text: string, isText = true) {
    this.file = file;
    this.isText = isText;
    this.#text = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
    this.#written = this.#text;
  }

  /** The text as it is read. */
  get text(): string {
    return this.#text;
  }

  /** The text as the author wrote it, also where it was mended since. */
  get written(): string {
    return this.#written;
  }

  /** Puts a mended text of the same length and the same lines in place, after what was wrong with it was reported. */
  mend(text: string): void {
    void this.starts;
    if (text.length === this.#text.length) this.#text = text;
  }

  /** Offset at which the line begins that holds an offset. */
  lineStart(offset: number): number {
    return this.starts[this.where(offset).line - 1] ?? 0;
  }

  /** Offsets at which the lines begin. */
  get starts(): readonly number[] {
    if (this.#starts) return this.#starts;
    const starts = [0],
      text = this.text;
    const ends = /\r\n?|\n/g;
    while (ends.exec(text)) starts.push(ends.lastIndex);
    return (this.#starts = starts);
  }

  /** Place of an offset; what lies outside the text is moved to its nearest end. */
  where(offset: number): Where {
    const starts = this.starts,
      place = Math.max(0, Math.min(offset, this.text.length));
    let low = 0,
      high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= place) low = middle;
      else high = middle - 1;
    }
    return { file: this.file, line: low + 1, column: place - starts[low]! + 1 };
  }

  /** The words from an offset to another. Nothing, or what reaches over a line, is told by its beginning alone. */
  words(from: number, to: number): Where {
    const start = this.where(from),
      end = this.where(to);
    if (end.line !== start.line || end.column <= start.column) return start;
    return { ...start, end: { line: end.line, column: end.column } };
  }

  /** Text of a line, counted from 1, without its end. */
  line(number: number): string {
    const start = this.starts[number - 1];
    return start === undefined
      ? ""
      : this.text.slice(start, this.starts[number] ?? this.text.length).replace(/[\r\n]+$/, "");
  }
}
