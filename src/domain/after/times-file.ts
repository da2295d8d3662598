/** The file of times and notes, as CSV (RFC 4180) and as JSON. */
import type { StepNote, TimedRun, TimesFile } from "../../schema/times/times.ts";
import { TIMES_COLUMNS, TIMES_END, TIMES_MARK, type TimesRow } from "../../schema/times/times-columns.ts";

type Cells = Partial<Record<(typeof TIMES_COLUMNS)[number], string | number | undefined>>;

/**
 * The file as CSV: a head, a row for each step, each count and each note, and a last row that says how many there are,
 * so that a file that was cut off can be told. Lines end in CR LF (RFC 4180, 2.1).
 */
export function timesCsv({ collection, runs, notes }: TimesFile): string {
  const rows = [...runs.flatMap(runRows), ...notes.map(noteRow)];
  const line = (row: TimesRow, cells: Cells) =>
    TIMES_COLUMNS.map((column) => csvCell({ ...cells, row, collection }[column] ?? "")).join(",");
  return [
    TIMES_COLUMNS.join(","),
    ...rows.map(([row, cells]) => line(row, cells)),
    line("whole", { number: rows.length, words: TIMES_END }),
    "",
  ].join("\r\n");
}

/** The file as JSON. */
export function timesJson({ collection, runs, notes }: TimesFile): string {
  return `${JSON.stringify({ file: TIMES_MARK, collection, runs, notes }, undefined, 2)}\n`;
}

function runRows({ id, day, platform, from, to, begun, drill, steps, counted }: TimedRun): [TimesRow, Cells][] {
  const run = { id, day, platform, from, to, begun, drill };
  return [
    ...steps.map((step): [TimesRow, Cells] => ["step", { ...run, ...step, back: step.back && "back" }]),
    ["counted", { ...run, done: counted }],
  ];
}

function noteRow(note: StepNote): [TimesRow, Cells] {
  return ["note", { ...note, words: guardWords(note.words) }];
}

/** A cell (RFC 4180, 2.5 to 2.7): quoted where it holds a comma, a quote or the end of a line; quotes doubled. */
export function csvCell(value: string | number): string {
  const text = String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * A spreadsheet takes a cell that begins with one of these for a formula (OWASP, CSV injection): an apostrophe before
 * it keeps it text. One that begins with an apostrophe gets another, so that reading takes off exactly one.
 */
const guardWords = (words: string): string => (/^['=+\-@\t\r]/.test(words) ? `'${words}` : words);
