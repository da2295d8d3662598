/**
 * A service's own register of sign-offs: CSV as RFC 4180 writes it, or separated by semicolons or tabs as spreadsheets
 * save it, read row by row, every bad row a finding. It is read and never kept.
 */
import { CsvError, parse } from "csv-parse/sync";
import type { Findings, Remark } from "../findings/finding.ts";
import type { Collection, Configuration, Procedure, Where } from "../schema/collection.ts";
import type { SignOff } from "../schema/sign-off.ts";
import { listNames, nearestName } from "./nearest.ts";
import { type Separator, separatorOf, SEPARATORS } from "./separator.ts";
import { isDate } from "../schema/quantities.ts";

const COLUMNS = ["person", "procedure", "configuration", "revision", "date", "assessor", "lapses", "attempts"] as const;
type Column = (typeof COLUMNS)[number];
const REQUIRED: readonly Column[] = ["person", "revision", "date", "assessor"];

/** The number of the newest revision of a document. */
type Newest = (document: Procedure | Configuration) => number;

/** What a register is read against. */
interface RegisterContext {
  /** Its name in findings. */
  readonly file: string;
  /** Whose documents its rows may name. */
  readonly collection: Collection;
  /** The day of reading, as `2026-11-28`; a sign-off of a later day is a finding. */
  readonly today: string;
  readonly findings: Findings;
  /** The newest revision of a document that somebody can have seen; its own if left out. */
  readonly newest?: Newest;
}

/**
 * Reads a register, the text of the whole file. Columns stand in any order and others are passed over: `person`,
 * `procedure` or `configuration` (id or code), `revision`, `date`, `assessor`; optional `lapses`, `attempts`. Rows with
 * a finding are left out; none are left where the text cannot be divided into rows or a column is missing.
 */
export function readRegister(text: string, context: RegisterContext): SignOff[] {
  const { file, findings } = context;
  const separator = separatorOf(text, (cell) => (COLUMNS as readonly string[]).includes(cell));
  const rows = splitRows(text, separator, file, findings);
  if (!rows) return [];
  const [head, ...body] = rows;
  if (!head) {
    findings.error(
      "register/empty",
      { file, line: 1, column: 1 },
      {
        message: "The register is empty; expected a first row with the names of the columns",
        fix: `Begin it with \`${["person", "procedure", "revision", "date", "assessor"].join(",")}\``,
      },
    );
    return [];
  }
  const columns = readHead(head, file, findings);
  if (!columns) return [];
  const reader = new RowReader({ columns, width: head.cells.length, separator }, context);
  const seen = new Map<string, number>();
  return body.flatMap((row) => {
    if (row.cells.every((cell) => cell.trim() === "")) return [];
    const entry = reader.read(row);
    if (!entry) return [];
    const key = JSON.stringify([
      entry.person,
      entry.document.platform,
      entry.document.id,
      "steps" in entry.document,
      entry.revision,
      entry.date,
    ]);
    const first = seen.get(key);
    if (first !== undefined) {
      findings.add("register/repeated", "warning", entry.where, {
        message: `The same sign-off as on line ${first}`,
        fix: "Delete one of the two",
      });
      return [];
    }
    seen.set(key, entry.where.line);
    return [entry];
  });
}

/** A row with the line on which it begins and where in it each cell begins. */
interface Row {
  readonly cells: readonly string[];
  readonly places: readonly { readonly line: number; readonly column: number }[];
  readonly line: number;
}

/**
 * Rows as RFC 4180, section 2, divides them: CRLF or LF, quotes around separators, breaks and doubled quotes; spaces
 * are part of a cell. `undefined` after a finding.
 */
function splitRows(text: string, separator: Separator, file: string, findings: Findings): Row[] | undefined {
  try {
    const records = parse(text, {
      bom: true,
      delimiter: separator,
      raw: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: false,
    }) as unknown as { record: string[]; raw: string; info: { lines: number } }[];
    let line = 1;
    return records.map(({ record, raw }) => {
      const row = { cells: record, places: placesIn(raw, separator, line), line };
      line += (raw.match(/\r\n|\n|\r/g) ?? []).length || 1;
      return row;
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const { lines = 1, column = 0 } = error as unknown as { lines?: number; column?: number | string };
    findings.error("register/syntax", { file, line: lines, column: 1 }, quoteRemark(error.code, Number(column) + 1));
    return undefined;
  }
}

function quoteRemark(code: string, cell: number): Remark {
  if (code === "CSV_QUOTE_NOT_CLOSED")
    return {
      message: "A quote that was opened is not closed before the end of the file",
      fix: 'Close it; write a quote inside a quoted cell twice: ""',
    };
  return {
    message: `A quote stands in the middle of cell ${Number.isFinite(cell) ? cell : "?"}`,
    fix: 'Put the whole cell in quotes, and write the quote inside it twice: "the ""old"" pins"',
  };
}

/** Where each cell of a raw record begins. */
function placesIn(raw: string, separator: Separator, firstLine: number): { line: number; column: number }[] {
  const places = [{ line: firstLine, column: 1 }];
  let [line, column, quoted] = [firstLine, 1, false];
  for (const sign of raw.replace(/\r\n?/g, "\n").replace(/\n$/, "")) {
    if (sign === '"') quoted = !quoted;
    if (sign === "\n") [line, column] = [line + 1, 0];
    column += 1;
    if (sign === separator && !quoted) places.push({ line, column });
  }
  return places;
}

/** Column name -> its position; `undefined` if one that must be there is missing. */
function readHead({ cells, places }: Row, file: string, findings: Findings): ReadonlyMap<Column, number> | undefined {
  const columns = new Map<Column, number>();
  cells.forEach((cell, at) => {
    const name = cell.trim().toLowerCase() as Column;
    if (!COLUMNS.includes(name)) return;
    if (columns.has(name))
      findings.error(
        "register/repeated-column",
        { file, ...places[at]! },
        { message: `The column \`${name}\` is there twice`, fix: "Delete or rename one of them" },
      );
    else columns.set(name, at);
  });
  const missing = [
    ...REQUIRED.filter((name) => !columns.has(name)),
    ...(columns.has("procedure") || columns.has("configuration") ? [] : ["procedure"]),
  ];
  for (const name of missing) {
    const near = nearestName(
      name,
      cells.map((cell) => cell.trim()),
    );
    findings.error(
      "register/missing-column",
      { file, line: 1, column: 1 },
      {
        message: `The column \`${name}\` is missing`,
        fix: near
          ? `Rename \`${near}\` to \`${name}\``
          : `Add it to the first row${name === "procedure" ? ", or `configuration`" : ""}`,
      },
    );
  }
  return missing.length ? undefined : columns;
}

/** How a register's rows are laid out, by its first row. */
interface Layout {
  readonly columns: ReadonlyMap<Column, number>;
  /** Cells of the first row. */
  readonly width: number;
  readonly separator: Separator;
}

class RowReader {
  readonly #layout: Layout;
  readonly #file: string;
  readonly #collection: Collection;
  readonly #today: string;
  readonly #findings: Findings;
  readonly #newest: Newest;

  constructor(layout: Layout, context: RegisterContext) {
    this.#layout = layout;
    this.#file = context.file;
    this.#collection = context.collection;
    this.#today = context.today;
    this.#findings = context.findings;
    this.#newest = context.newest ?? (({ revision }) => revision);
  }

  read(row: Row): SignOff | undefined {
    const before = this.#findings.list.length;
    const extra = row.cells.length > this.#layout.width ? row.cells[this.#layout.width] : undefined;
    // What follows a comma too many stands in the wrong columns: nothing of it is judged.
    if (extra !== undefined && extra.trim() !== "")
      return void this.#report("register/too-many-cells", this.#whereAt(row, this.#layout.width), {
        message: `This row has ${row.cells.length} cells; the first row has ${this.#layout.width}`,
        fix: `Put a cell that holds a ${SEPARATORS[this.#layout.separator]} in quotes`,
      });
    const person = this.#required(row, "person");
    const assessor = this.#required(row, "assessor");
    const document = this.#document(row);
    const revision = this.#revision(row, document);
    const date = this.#date(row, "date", true);
    const lapses = this.#date(row, "lapses", false);
    const attempts = this.#attempts(row);
    if (date && date > this.#today)
      this.#report("register/date-order", this.#where(row, "date"), {
        message: `\`${date}\` is in the future; today is ${this.#today}`,
        fix: "Write the day on which it was seen",
      });
    if (date && lapses && lapses < date)
      this.#report("register/date-order", this.#where(row, "lapses"), {
        message: `It lapses on ${lapses}, before the day on which it was seen, ${date}`,
        fix: "Correct one of the two dates",
      });
    if (person && assessor && person.toLowerCase() === assessor.toLowerCase())
      this.#report("register/same-person", this.#where(row, "assessor"), {
        message: `\`${assessor}\` assessed themselves`,
        fix: "Name the person who watched",
      });
    if (this.#findings.list.slice(before).some(({ severity }) => severity === "error")) return undefined;
    if (!person || !assessor || !document || revision === undefined || !date) return undefined;
    return {
      person,
      document,
      revision,
      date,
      assessor,
      ...(lapses ? { lapses } : {}),
      ...(attempts === undefined ? {} : { attempts }),
      where: { file: this.#file, line: row.line, column: 1 },
    };
  }

  #cell(row: Row, name: Column): string {
    const at = this.#layout.columns.get(name);
    return at === undefined ? "" : (row.cells[at] ?? "").trim();
  }

  #required(row: Row, name: Column): string | undefined {
    const value = this.#cell(row, name);
    if (value) return value;
    this.#report("register/missing-value", this.#where(row, name), {
      message: `The column \`${name}\` is empty in this row`,
      fix: name === "assessor" ? "Write who watched; without an assessor it is no sign-off" : `Write the ${name}`,
    });
    return undefined;
  }

  #document(row: Row): Procedure | Configuration | undefined {
    const [procedure, configuration] = [this.#cell(row, "procedure"), this.#cell(row, "configuration")];
    const name: Column = procedure || !this.#layout.columns.has("configuration") ? "procedure" : "configuration";
    if (procedure && configuration) {
      this.#report("register/bad-value", this.#where(row, "configuration"), {
        message: "The row names a procedure and a configuration",
        fix: "Use one row for each",
      });
      return undefined;
    }
    const wanted = procedure || configuration;
    if (!wanted) return void this.#required(row, name);
    const kinds = (platform: Collection["platforms"][number]): readonly (Procedure | Configuration)[] =>
      procedure ? [...platform.procedures, ...platform.configurations] : platform.configurations;
    const all = this.#collection.platforms.flatMap(kinds);
    const key = wanted.toLowerCase();
    const exact = all.filter(({ id, code, platform }) =>
      [id, code, `${platform}/${id}`].some((each) => each.toLowerCase() === key),
    );
    // The column is called `procedure` in many registers that hold configurations too; a procedure of that name comes
    // first.
    const found = exact.filter((each) => "steps" in each === (name === "procedure"));
    const matches = found.length ? found : exact;
    if (matches.length === 1) return matches[0];
    if (matches.length > 1) {
      this.#report("register/unclear", this.#where(row, name), {
        message: `\`${wanted}\` is in ${listNames(
          matches.map(({ platform, id }) => `${platform}/${id}`),
          "and",
        )}`,
        fix: `Write it in full, such as \`${matches[0]!.platform}/${matches[0]!.id}\`, or write the code`,
      });
      return undefined;
    }
    const near = nearestName(
      wanted,
      all.flatMap(({ id, code }) => [id, code]),
    );
    this.#report("register/unknown-document", this.#where(row, name), {
      message: `There is no ${name} \`${wanted}\` in the collection`,
      fix: near
        ? `Write \`${near}\`, if that is meant; delete the row if it was withdrawn and taken out`
        : "Write its id or its code; delete the row if it was withdrawn and taken out",
    });
    return undefined;
  }

  #revision(row: Row, document: Procedure | Configuration | undefined): number | undefined {
    const value = this.#required(row, "revision");
    if (value === undefined) return undefined;
    const match = /^(?:rev(?:ision)?\.?\s*|r)?(\d{1,6})$/i.exec(value);
    const revision = Number(match?.[1] ?? 0);
    if (revision < 1) {
      this.#report("register/bad-value", this.#where(row, "revision"), {
        message: `Unexpected revision \`${value}\`, expected a whole number from 1`,
        fix: "Write the revision that stands on the form, such as `3`",
      });
      return undefined;
    }
    if (document && revision > this.#newest(document)) {
      this.#report("register/unknown-revision", this.#where(row, "revision"), {
        message: `\`${document.code}\` has no revision ${revision}; the latest is ${this.#newest(document)}`,
        fix: "Write the revision that stands on the form, or use the collection that has it",
      });
      return undefined;
    }
    return revision;
  }

  #date(row: Row, name: "date" | "lapses", needed: boolean): string | undefined {
    const value = needed ? this.#required(row, name) : this.#cell(row, name);
    if (!value) return undefined;
    if (isDate(value)) return value;
    const days = daysInFigures(value);
    if (days?.length === 1) return days[0];
    const match = /^\d{4}-\d{2}-\d{2}$/.test(value) || days?.length === 0;
    const slashes = /^\d{1,2}[./-]\d{1,2}[./-]\d{2,4}$/.test(value);
    this.#report("register/bad-value", this.#where(row, name), {
      message: match
        ? `\`${value}\` is no day of the calendar`
        : slashes
          ? `\`${value}\` does not say which number is the month`
          : `Unexpected date \`${value}\`, expected year-month-day`,
      fix: "Write it as year-month-day, such as `2026-09-14`",
    });
    return undefined;
  }

  #attempts(row: Row): number | undefined {
    const value = this.#cell(row, "attempts");
    if (!value) return undefined;
    if (/^\d{1,4}$/.test(value)) return Number(value);
    this.#report("register/bad-value", this.#where(row, "attempts"), {
      message: `Unexpected number of attempts \`${value}\`, expected a whole number`,
      fix: "Write how many supervised attempts there were, such as `4`, or leave it empty",
    });
    return undefined;
  }

  #report(rule: string, where: Where, remark: Remark): void {
    this.#findings.error(rule, where, remark);
  }

  #where(row: Row, name: Column): Where {
    return this.#whereAt(row, this.#layout.columns.get(name) ?? 0);
  }

  #whereAt(row: Row, cell: number): Where {
    return { file: this.#file, ...(row.places[cell] ?? { line: row.line, column: 1 }) };
  }
}

/** The days that figures such as `30.11.2026` or `11/30/2026` can mean; `undefined` for what is not so written. */
function daysInFigures(value: string): string[] | undefined {
  const match = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$/.exec(value);
  if (!match) return undefined;
  const [first, second] = [match[1]!.padStart(2, "0"), match[2]!.padStart(2, "0")];
  const days = [`${match[3]}-${second}-${first}`, `${match[3]}-${first}-${second}`];
  return [...new Set(days)].filter((day) => isDate(day));
}
