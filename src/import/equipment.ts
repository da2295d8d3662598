/** A table of equipment, as a spreadsheet saves or a person copies it, to entries of `equipment.yaml`. */
import { CsvError, parse } from "csv-parse/sync";
import { CannotRun } from "../findings/cannot-run.ts";
import { heard } from "../words/heard.ts";
import { nearestName } from "../read/nearest.ts";
import { type Separator, SEPARATORS } from "../read/separator.ts";
import type { Place } from "../schema/collection.ts";
import { parseDate, parseDuration, parseKg, parseLitres, parseRange } from "../schema/quantities.ts";
import { slugOf } from "../schema/wording.ts";

/** Fields of an item that a table can say, with what people write over such a column (common practice, no source). */
const COLUMNS = {
  name: ["name", "item", "equipment", "description", "article"],
  count: ["count", "quantity", "qty", "pieces", "how many"],
  mass: ["mass", "weight", "mass of one", "weight of one", "unit weight", "weight each", "mass each"],
  home: ["home", "place", "location", "kept in", "kept", "where", "stowed", "stowage"],
  restrains: ["restrains", "restrains weight"],
  replaced: ["replaced"],
  contents: ["contents"],
  runs: ["runs"],
} as const;
type Field = keyof typeof COLUMNS;
const FIELDS = Object.keys(COLUMNS) as Field[];

/** What stands at the end of a column of figures, or is worked out by the spreadsheet. */
const IS_SUM = /^(?:(?:sub|grand )?total|sum)s?:?$|^[=#]/i;

/** An item as its entry says it: values as an author writes them. */
export interface Imported {
  readonly id: string;
  readonly fields: Readonly<Partial<Record<Field, string | number>>>;
}

interface Column {
  readonly at: number;
  readonly field: Field;
  /** The unit that the head of the column gives: `kg` in `Weight (kg)`; empty if none. */
  readonly unit: string;
}

/** What there is already, and where what names no home is kept; without it such rows are left out. */
interface Known {
  readonly items: ReadonlySet<string>;
  readonly places: readonly Pick<Place, "id" | "name">[];
  readonly home?: string | undefined;
}

/**
 * Reads a table whose columns stand in any order below a row of heads; rows above it are listed. What is not placed
 * (a row, a cell, a column) is in `left`, each in a sentence with its row as the spreadsheet counts it. Throws
 * `CannotRun` if there is no column of names, or a quote stands where none should.
 */
export function readEquipment(text: string, known: Known): { readonly items: Imported[]; readonly left: string[] } {
  const { rows, head } = divide(text);
  if (head < 0)
    throw new CannotRun(
      "No column of this table is called `name` (or `item`). Write over the columns what they are: name, count, " +
        "mass, home; and save it again. Nothing was written.",
    );
  const left = rows.slice(0, head).flatMap((row, at) => leftRow(row, at, "it stands above the heads of the columns")),
    reader = new RowReader(rows[head]!, known, left);
  const items = rows.slice(head + 1).flatMap((row, at) => reader.read(row, head + 1 + at) ?? []);
  return { items, left: [...left, ...reader.columnsLeft()] };
}

/** A table's rows, and which of them holds the heads; -1: none. */
interface Divided {
  readonly rows: readonly (readonly string[])[];
  readonly head: number;
}

/** By the separator that gives the head the most known columns; throws if it can be read by none. */
function divide(text: string): Divided {
  const knownIn = ({ rows, head }: Divided) => rows[head]?.filter((cell) => columnIn(cell)).length ?? 0;
  const failed: CsvError[] = [];
  const ways = (Object.keys(SEPARATORS) as Separator[]).flatMap((delimiter): Divided[] => {
    try {
      const rows = parse(text, {
        bom: true,
        delimiter,
        relax_column_count: true,
        // Inches, as people write them: `Pin 3/4" long`.
        relax_quotes: true,
        trim: true,
        skip_empty_lines: false,
      }) as string[][];
      return [{ rows, head: rows.findIndex((row) => row.some((cell) => columnIn(cell)?.field === "name")) }];
    } catch (error) {
      if (!(error instanceof CsvError)) throw error;
      failed.push(error);
      return [];
    }
  });
  const best = ways.sort((one, other) => knownIn(other) - knownIn(one))[0];
  if (best && (best.head >= 0 || failed.length === 0)) return best;
  throw new CannotRun(
    `The table can't be read at row ${failed[0]?.lines ?? "?"}: a quote stands where none should, or is not closed. ` +
      "Save it again as “CSV UTF-8”. Nothing was written.",
  );
}

/** `Weight (kg)`, `Mass, kg`, `weight in kg`: the field and its unit. */
function columnIn(cell: string): { field: Field; unit: string } | undefined {
  const [, words = "", unit = ""] =
      /^(.*?)(?:\s*[([,/]\s*|\s+in\s+)?(kg|g|lb|oz|l|litres|h|min)?[)\]]?$/i.exec(cell) ?? [],
    spoken = words.toLowerCase().replace(/\s+/g, " ").trim();
  const field = FIELDS.find((each) => (COLUMNS[each] as readonly string[]).includes(spoken));
  return field && { field, unit: unit.toLowerCase() };
}

/** A row in one sentence; nothing for an empty one. */
function leftRow(row: readonly string[], at: number, why: string): string[] {
  const words = row.filter(Boolean).join(" | ");
  return words ? [`Row ${at + 1} (${words}): ${why}`] : [];
}

/** A bare number is given the column's unit; a comma that can only be a decimal comma becomes a point. */
function tidyNumber(words: string, unit: string): string {
  const pointed = /^\d+,(?:\d{1,2}|\d{4,})(?!\d)/.test(words) || /^0,\d+/.test(words) ? words.replace(",", ".") : words;
  return unit && /^[\d.,]+$/.test(pointed) ? `${pointed} ${unit}` : pointed;
}

class RowReader {
  readonly #columns: readonly Column[];
  readonly #heads: readonly string[];
  readonly #known: Known;
  readonly #left: string[];
  /** Id -> the row that it stands in. */
  readonly #rowOf = new Map<string, number>();
  readonly #others = new Map<number, number>();

  constructor(heads: readonly string[], known: Known, left: string[]) {
    this.#heads = heads;
    this.#known = known;
    this.#left = left;
    const taken = new Set<Field>();
    this.#columns = heads.flatMap((head, at) => {
      const column = columnIn(head);
      if (!column || taken.has(column.field)) return [];
      taken.add(column.field);
      return [{ at, ...column }];
    });
  }

  /** The item of a row, counted from 0; `undefined` if it is left out, which is said, or empty. */
  read(row: readonly string[], at: number): Imported | undefined {
    if (!row.some(Boolean)) return undefined;
    this.#countOthers(row);
    const name = row[this.#columns.find(({ field }) => field === "name")!.at] ?? "",
      id = slugOf(name);
    const above = this.#rowOf.get(id);
    const why = !id
      ? "it has no name"
      : this.#known.items.has(id)
        ? `there is an item \`${id}\` already, and nothing is overwritten`
        : above !== undefined
          ? `its item stands in row ${above + 1} already`
          : IS_SUM.test(name)
            ? heard("tableTaken").isSum
            : undefined;
    if (why !== undefined) {
      this.#left.push(...leftRow(row, at, why));
      return undefined;
    }
    const home = this.#home(row, at);
    if (home === undefined) return undefined;
    this.#rowOf.set(id, at);
    const fields = this.#columns.map(({ at: column, field, unit }): [Field, string | number | undefined] => {
      const words = row[column] ?? "";
      if (field === "name") return [field, name];
      if (field === "home") return [field, home];
      return [field, words && this.#value(field, tidyNumber(words, unit), words, name, at)];
    });
    const said = fields.filter(([, value]) => value !== undefined && value !== "");
    return { id, fields: { ...Object.fromEntries(said), home } };
  }

  /** Columns that no field is named after, with how many cells of each are not empty. */
  columnsLeft(): string[] {
    return [...this.#others].map(
      ([at, cells]) =>
        `The column “${this.#heads[at] || `number ${at + 1}`}”, with ${cells} ${cells === 1 ? "entry" : "entries"}`,
    );
  }

  #countOthers(row: readonly string[]): void {
    row.forEach((cell, at) => {
      if (cell && !this.#columns.some((column) => column.at === at))
        this.#others.set(at, (this.#others.get(at) ?? 0) + 1);
    });
  }

  /** The id of the place that a row names, by its id or name; else the one for all others. */
  #home(row: readonly string[], at: number): string | undefined {
    const column = this.#columns.find(({ field }) => field === "home"),
      words = (column && row[column.at]) ?? "";
    const key = words.toLowerCase(),
      found = this.#known.places.find(({ id, name }) => id === key || name.toLowerCase() === key);
    if (found) return found.id;
    const near = words && nearestName(words, [...this.#known.places.map(({ name }) => name)]),
      what = words ? `“${words}” is no place${near ? ` (is “${near}” meant?)` : ""}` : "it says no place";
    if (this.#known.home === undefined) this.#left.push(...leftRow(row, at, `${what}; \`--home\` gives one`));
    else if (words) this.#left.push(`The place of row ${at + 1}: ${what}`);
    return this.#known.home;
  }

  #value(field: Field, words: string, written: string, name: string, at: number): string | number | undefined {
    const reading = READ[field](words);
    if (reading === undefined)
      this.#left.push(
        heard("tableTaken").notRead({ field, name, row: String(at + 1), written, wanted: WANTED[field] }) +
          (field === "count" ? heard("tableTaken").countsOne : ""),
      );
    return reading;
  }
}

type Reader = (words: string) => string | number | undefined;
const asWritten =
  (parsed: (words: string) => { readonly ok: boolean }): Reader =>
  (words) =>
    parsed(words).ok ? words : undefined;

const READ: Readonly<Record<Field, Reader>> = {
  name: (words) => words,
  home: (words) => words,
  // A spreadsheet writes a whole number with decimals where its column has them.
  count: (words) => (/^[1-9]\d{0,3}(?:\.0+)?$/.test(words) ? Number(words) : undefined),
  mass: asWritten(parseKg),
  restrains: asWritten((words) => parseRange(words, "weight")),
  replaced: asWritten(parseDate),
  contents: asWritten(parseLitres),
  runs: asWritten(parseDuration),
};
const WANTED: Readonly<Record<Field, string>> = {
  name: "",
  home: "",
  count: "expected a whole number from 1",
  mass: "expected a mass with its unit, such as 6.4 kg",
  restrains: "expected a range such as `from 4.5 kg to under 45 kg`",
  replaced: "expected a day such as 2026-03-02",
  contents: "expected litres at 1 bar, such as 430 l",
  runs: "expected a time such as 4 h",
};
