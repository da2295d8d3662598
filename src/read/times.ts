/** Files of times and notes, as a device gave them out, or as a spreadsheet saved them again. */
import { CsvError, parse } from "csv-parse/sync";
import type { z } from "zod";
import { TIMES_COLUMNS, TIMES_END, TIMES_MARK } from "../schema/times/times-columns.ts";
import {
  stepNoteShape,
  type StepNote,
  timedRunShape,
  timedStepShape,
  type TimedRun,
  type TimedRunStep,
  type TimesFile,
  timesFileShape,
} from "../schema/times/times.ts";
import { separatorOf } from "./separator.ts";

/** What a file holds, or, in words that follow its name, what it is in the place of that. */
type ReadTimes =
  { readonly kind: "times"; readonly file: TimesFile } | { readonly kind: "wrong"; readonly what: string };

const CUT_OFF = "is cut off: its end is missing. Save it again on the device";
const NOT_ONE = "is no file of times and notes. They come from the end of a step-through, as CSV or JSON";

/** Reads a file by what is in it, whatever its name. Of a CSV at fault it names the row (from 1, with the head). */
export function readTimes(bytes: Uint8Array): ReadTimes {
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return { kind: "wrong", what: "is not in UTF-8. Save it again as “CSV UTF-8”" };
  }
  if (text.trim() === "") return { kind: "wrong", what: "is empty" };
  return text.trimStart().startsWith("{") ? readJson(text) : readCsv(text);
}

const wrong = (what: string): ReadTimes => ({ kind: "wrong", what });

function readJson(text: string): ReadTimes {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return wrong(text.includes(`"${TIMES_MARK}"`) ? CUT_OFF : NOT_ONE);
  }
  if ((value as { file?: unknown }).file !== TIMES_MARK) return wrong(NOT_ONE);
  const read = timesFileShape.safeParse(value);
  if (read.success) return { kind: "times", file: read.data };
  const path = read.error.issues[0]?.path.join(" ") ?? "";
  return wrong(`can't be read at \`${path}\`: somebody changed it. Save it again on the device`);
}

type Cells = Partial<Record<(typeof TIMES_COLUMNS)[number], string>>;

function readCsv(text: string): ReadTimes {
  const names = TIMES_COLUMNS as readonly string[],
    delimiter = separatorOf(text, (cell) => names.includes(cell)),
    head = text.replace(/^\ufeff/, "").split(/[\r\n]/, 1)[0]!;
  const cells = head.split(delimiter).map((cell) => cell.replaceAll('"', "").trim());
  if (!names.every((name) => cells.includes(name))) return wrong(NOT_ONE);
  let rows: Cells[];
  try {
    rows = parse(text, { bom: true, columns: true, delimiter, relax_column_count: true, skip_empty_lines: true });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return error.code === "CSV_QUOTE_NOT_CLOSED"
      ? wrong(CUT_OFF)
      : wrong(`can't be read at row ${error.lines ?? "?"}: a quote stands where none should`);
  }
  const last = rows.pop();
  if (last?.row !== "whole" || last.words !== TIMES_END) return wrong(CUT_OFF);
  if (Number(last.number) !== rows.length)
    return wrong(`is not whole: of ${last.number} rows there are ${rows.length}. Save it again on the device`);
  return gather(rows, last.collection ?? "");
}

/** The rows of a whole CSV as runs and notes. */
function gather(rows: readonly Cells[], collection: string): ReadTimes {
  const runs = new Map<string, { head: unknown; steps: TimedRunStep[]; counted?: number }>();
  const notes: StepNote[] = [];
  const bad = (at: number, what: string) => wrong(`can't be read at row ${at + 2}: ${what}`);
  for (const [at, row] of rows.entries()) {
    const cells = Object.fromEntries(
      Object.entries(row).flatMap(([column, cell]): [string, string | number | true][] =>
        cell === "" ? [] : [[column, NUMBERS.has(column) ? Number(cell) : column === "back" ? true : cell]],
      ),
    );
    if (row.row === "note") {
      const read = stepNoteShape.safeParse({ ...cells, words: row.words?.replace(/^'(?=['=+\-@\t\r])/, "") });
      if (!read.success) return bad(at, sayCells(read.error));
      notes.push(read.data);
      continue;
    }
    if (row.row !== "step" && row.row !== "counted") return bad(at, `\`${row.row}\` in the column \`row\` is unknown`);
    const run = runs.get(row.id ?? "") ?? { head: cells, steps: [] };
    runs.set(row.id ?? "", run);
    if (row.row === "counted") {
      run.counted = cells["done"] as number;
      continue;
    }
    const read = timedStepShape.safeParse(cells);
    if (!read.success) return bad(at, sayCells(read.error));
    run.steps.push(read.data);
  }
  const list: TimedRun[] = [];
  for (const { head, steps, counted } of runs.values()) {
    const read = timedRunShape.safeParse({ ...(head as object), steps, counted });
    if (!read.success) return wrong(`can't be read: of a run, ${sayCells(read.error)}`);
    list.push(read.data);
  }
  return { kind: "times", file: { collection, runs: list, notes } };
}

const NUMBERS = new Set<string>([
  "drill",
  "number",
  "revision",
  "step",
  "takes",
  "start",
  "end",
  "took",
  "done",
  "interrupted",
]);

const sayCells = ({ issues }: z.ZodError): string =>
  `unexpected or missing: ${[...new Set(issues.map(({ path }) => `\`${path.join(" ")}\``))].join(", ")}`;
