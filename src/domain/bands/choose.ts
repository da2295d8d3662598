/**
 * Which arrangement a patient is for. The table of bands decides; this reads it aloud, and asks where a slip would
 * matter.
 */
import type { Band, Range } from "../../schema/collection.ts";
import { sayDecimal } from "../words/say.ts";
import { sayMassExactly, holds, holdsPatient, type Patient, sayRange } from "./bands.ts";
import { isUnusual, usualWeights } from "./growth.ts";
import { type FirstQuestion, firstQuestionsFor } from "./doubts.ts";
import type { AgeEntry, WeightEntry } from "./entry.ts";
import { endsOf, sayNear } from "./say-mass.ts";
import { otherReadings, type OtherReading } from "./slips.ts";
import { heard } from "../../words/heard.ts";

/** A row of the table of bands: a configuration. */
interface TableRow {
  readonly id: string;
  readonly title: string;
  readonly band: Band;
}

/** The table of a platform, with the patients whom the service carries and what it asks of some of them. */
export interface BandTable {
  readonly service: Band;
  readonly rows: readonly TableRow[];
  readonly questions?: readonly FirstQuestion[];
}

/** How a weight was come by, and whether the service's questions about it have been read back. */
interface Told {
  readonly isEstimate?: boolean;
  readonly isReadBack?: boolean;
}

/** What is said of a patient: one of four answers, never none. */
export type Choice =
  /** The service does not carry such a patient: the entry is asked for again. */
  | { readonly kind: "outside"; readonly of: "weight" | "age" }
  /** The service carries the patient, and no row does (a gap, which `check` reports). */
  | { readonly kind: "nothing" }
  /** The service asks this first: nothing else is answered until it is read back. Not empty. */
  | { readonly kind: "asked"; readonly questions: readonly FirstQuestion[] }
  | {
      readonly kind: "found";
      readonly rows: readonly TableRow[];
      /** What the service asks of this patient, read back before; empty if nothing. */
      readonly questions: readonly FirstQuestion[];
      /** For each row, the words that say why: `7.2 kg is from 5 kg to under 40 kg`. */
      readonly because: readonly string[];
      /** Said when the weight is exactly the end of a band. */
      readonly boundary?: string;
      /** The exact kilograms, where a weight told in another unit was rounded for reading. */
      readonly exactly?: string;
      /** Readings that a usual slip may hide and that lead elsewhere; not empty: the entry must be confirmed. */
      readonly confirm: readonly OtherReading[];
      /** Kilograms that children of this age usually weigh, where this weight is not among them: asked back. */
      readonly unusual?: { readonly fromKg: number; readonly toKg: number };
      /** Whether an age is needed to tell rows apart. */
      readonly needsAge: boolean;
    };

/**
 * The rows that a patient is for; `outside` where the service does not carry such a patient. A weight or an age that is
 * not known rules nothing out. Page and command ask here.
 */
export function rowsFor<Row extends Pick<TableRow, "band">>(
  { service, rows }: { readonly service: Band; readonly rows: readonly Row[] },
  patient: Patient,
):
  | { readonly kind: "outside"; readonly of: "weight" | "age" }
  | { readonly kind: "rows"; readonly rows: readonly Row[] } {
  const { weight, age } = patient;
  if (weight !== undefined && !holds(service.weight, weight)) return { kind: "outside", of: "weight" };
  if (age !== undefined && !holds(service.age, age)) return { kind: "outside", of: "age" };
  return { kind: "rows", rows: rows.filter(({ band }) => holdsPatient(band, patient)) };
}

/** Chooses from the table for an exact weight and, if it is known, an age. Nothing is rounded. */
export function choose(
  { service, rows, questions: all = [] }: BandTable,
  weight: WeightEntry,
  age?: AgeEntry,
  { isEstimate = false, isReadBack = false }: Told = {},
): Choice {
  const patient = { weight: weight.mass, age: age?.age };
  const asked = rowsFor({ service, rows }, patient);
  if (asked.kind === "outside") return asked;
  const questions = firstQuestionsFor(all, patient);
  if (questions.length > 0 && !isReadBack) return { kind: "asked", questions };
  const found = asked.rows;
  if (found.length === 0) return { kind: "nothing" };
  const table = rows
    .filter(({ band }) => !age || holds(band.age, age.age))
    .map(({ id, band }) => ({ id, weight: band.weight }));
  const boundary = sayBoundary(rows, found, weight),
    said = sayWeight({ service, rows }, weight),
    exact = sayMassExactly(weight.mass);
  const usual = age && isUnusual(weight.mass, age.age) ? usualWeights(age.age) : undefined;
  return {
    kind: "found",
    rows: found,
    questions,
    because: found.map(({ band }) =>
      heard("choice").saidIsWeightAge({ said, weight: sayRange(band.weight), age: sayAge(band.age, age) }),
    ),
    ...(boundary ? { boundary } : {}),
    ...(weight.told.unit === "kg" || said.includes(exact) ? {} : { exactly: exact }),
    ...(usual ? { unusual: usual } : {}),
    confirm: otherReadings(table, weight.told, isEstimate).filter(
      ({ slip }) => !weight.inOunces || slip === "rounded" || slip === "estimate",
    ),
    needsAge: !age && found.length > 1,
  };
}

/**
 * A weight as told and, if that was not in kilograms, what it is in kilograms: rounded for reading, never over an end
 * of the table.
 */
export function sayWeight({ service, rows }: BandTable, { told, mass, text }: WeightEntry): string {
  return told.unit === "kg"
    ? text
    : `${text} (${sayNear(mass, endsOf([service.weight, ...rows.map(({ band }) => band.weight)]))})`;
}

/** Why the age fits; "Any age." where the row has no limits of age. */
function sayAge(range: Range, age: AgeEntry | undefined): string {
  if (!range.from && !range.to) return heard("choice").anyAge;
  return age
    ? heard("choice").ageIsRange({ age: age.text, range: sayRange(range) })
    : heard("choice").only({ range: sayRange(range) });
}

/** Which row owns a weight that is exactly an end, and which does not. */
function sayBoundary(rows: readonly TableRow[], found: readonly TableRow[], { mass }: WeightEntry): string | undefined {
  const at = ({ band: { weight } }: TableRow) => weight.from?.value === mass || weight.to?.value === mass;
  const owner = found.find(at);
  if (!owner) return undefined;
  const { from, to } = owner.band.weight;
  const word = heard("choice").inQuotes({
    range: sayRange(from?.value === mass ? { from, text: "" } : { to: to!, text: "" }),
  });
  const other = rows.find((row) => row !== owner && at(row) && !holds(row.band.weight, mass));
  return heard("choice").isExactlyWhereBands({
    mass: sayMassExactly(mass),
    owner: owner.title,
    word,
    other: other ? heard("choice").doesNot({ other: other.title }) : "",
  });
}

/**
 * What an age alone leaves open: the rows whose ages hold it, in the order of the table; none where the service does
 * not carry such a patient. The weight decides among them.
 */
export function openAt(table: BandTable, { age }: AgeEntry): readonly TableRow[] {
  const asked = rowsFor(table, { age });
  return asked.kind === "rows" ? asked.rows : [];
}

/** What children of an age usually weigh, with its source, as the page says it; `undefined` above ten years. */
export function sayUsual({ age, text }: Pick<AgeEntry, "age" | "text">): string | undefined {
  const usual = usualWeights(age);
  if (!usual) return undefined;
  const kg = (value: number) => sayDecimal(value, 1);
  return heard("choice").upToKg({
    text,
    fromKg: usual.fromKg > 0 ? heard("choice").fromFromKg({ fromKg: kg(usual.fromKg) }) : "",
    toKg: kg(usual.toKg),
  });
}
