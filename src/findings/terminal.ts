/**
 * How text is set where a person reads it: wrapped to the width of a terminal, bold and red on one that shows them.
 * What goes into a file or another program has neither.
 */
import { stripVTControlCharacters, styleText } from "node:util";
import wrapAnsi from "wrap-ansi";

/** What is known of where text goes. */
export interface Terminal {
  /** Columns; absent where lines may be as long as they are. */
  readonly columns?: number;
  /** Makes words stand out; returns them as they are where nothing can. Never the only sign of anything. */
  readonly mark: (words: string, as: "bold" | "red") => string;
}

/** A file, a pipe, a test: nothing is wrapped and nothing coloured. */
export const PLAIN: Terminal = { mark: (words) => words };

/** Narrower than this, wrapping makes columns of single words. */
const LEAST_COLUMNS = 40;

/**
 * The terminal behind a stream, `PLAIN` where there is none. Node decides on colours: none with `NO_COLOR` set to
 * anything, or with `TERM=dumb`.
 */
export function terminalOf(stream: NodeJS.WriteStream): Terminal {
  if (!stream.isTTY) return PLAIN;
  return {
    columns: Math.max(LEAST_COLUMNS, stream.columns ?? 80),
    mark: (words, as) => styleText(as === "red" ? ["bold", "red"] : "bold", words, { stream }),
  };
}

/**
 * A text after `before`, its further lines indented by `indent` columns. Where less than half the width is left for
 * it, it begins on a line of its own, indented by four.
 */
export function hang(before: string, text: string, indent: number, { columns }: Pick<Terminal, "columns">): string {
  if (columns === undefined) return before + text;
  const fits = indent * 2 <= columns,
    left = fits ? indent : 4;
  const lines = wrapAnsi(text, columns - left, { hard: true, trim: true }).split("\n");
  return `${fits ? before : `${before.trimEnd()}\n${" ".repeat(left)}`}${lines.join(`\n${" ".repeat(left)}`)}`;
}

/** What a line is hung under: its indent, with a number, a box, a sign or a word in a column of its own. */
const HEAD = /^ *(?:\[ \] |\d+\. +|[\p{L}-]+ {2,})?/u;

/** A text wrapped line by line to the width of a terminal, what goes on below what it goes on from. */
export function wrapped(text: string, { columns }: Pick<Terminal, "columns">): string {
  if (columns === undefined) return text;
  return text
    .split("\n")
    .map((line) => {
      const head = HEAD.exec(line)![0];
      // A line that already fits is left as it is, with its columns.
      return stripVTControlCharacters(line).length <= columns
        ? line
        : hang(head, line.slice(head.length), head.length, { columns });
    })
    .join("\n");
}

/** Writes for a person: wrapped where a terminal shows it, as it is into a file or another program. */
export function writeTo(stream: NodeJS.WriteStream, text: string): void {
  stream.write(wrapped(text, terminalOf(stream)));
}

/** Says what a long command does: in one line of a terminal that changes, else line after line. */
export function progressOn(stream: NodeJS.WriteStream): {
  readonly say: (line: string) => void;
  readonly end: () => void;
} {
  if (!stream.isTTY) return { say: (line) => void stream.write(`${line}\n`), end: () => {} };
  const clear = "\r\u001b[2K";
  return {
    say: (line) => void stream.write(clear + line.slice(0, Math.max(0, (stream.columns ?? 80) - 1))),
    end: () => void stream.write(clear),
  };
}
