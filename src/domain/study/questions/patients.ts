/**
 * Invented patients at the ends of bands, where a choice goes wrong: just below, at and just above each end, in
 * kilograms and in pounds.
 */
import type { Band, End, Range } from "../../../schema/collection.ts";
import { AGE_PER_DAY, AGE_UNITS, MASS_PER_KG, MASS_PER_LB } from "../../../schema/units.ts";
import { holds, kgOf, type Patient, sayMassExactly } from "../../bands/bands.ts";
import { isUnusual, usualWeights } from "../../bands/growth.ts";
import { heard } from "../../../words/heard.ts";
import { sayMeasure } from "../../words/measures.ts";

/** A weight or an age with the words in which it is told. */
interface Told {
  readonly value: bigint;
  readonly text: string;
}

/** An invented patient: a weight, and an age where it makes a difference. */
export interface Invented extends Patient {
  readonly told: string;
  readonly weight: bigint;
  readonly age?: bigint | undefined;
}

/** What a kit-room scale shows in kilograms: tenths. */
const SCALE_STEP = MASS_PER_KG / 10n;

/** Weights on both sides of each end and in the middle of each range, without repeats, lightest first. */
function weightsNear(ranges: readonly Range[]): Told[] {
  const ends = ranges.flatMap(({ from, to }) => [from, to].filter((end): end is End => end !== undefined));
  const told = ends.flatMap((end) => [...kilogramsNear(end), ...poundsNear(end.value)]);
  for (const range of ranges) if (range.from && range.to) told.push(...inside(range, range.from.value, range.to.value));
  return unlike(told.filter(({ value }) => value > 0n));
}

/** Tenths on both sides of an end, as a scale shows them, and the end itself in the unit in which it was written. */
function kilogramsNear({ value, text }: End): Told[] {
  const below = value % SCALE_STEP === 0n ? value - SCALE_STEP : value - (value % SCALE_STEP);
  const above = value - (value % SCALE_STEP) + SCALE_STEP;
  const inGrams = value % (MASS_PER_KG / 1000n) === 0n;
  return [
    { value: below, text: sayMassExactly(below) },
    { value, text: inGrams ? sayMassExactly(value) : sayMeasure(text) },
    { value: above, text: sayMassExactly(above) },
  ];
}

/**
 * The whole pounds on both sides, and the number of kilograms at the end read as pounds: the slip between the two
 * units.
 */
function poundsNear(value: bigint): Told[] {
  const below = value / MASS_PER_LB;
  return [below, below + 1n, value / MASS_PER_KG].map((pounds) => ({
    value: pounds * MASS_PER_LB,
    text: sayMeasure(`${pounds} lb`),
  }));
}

function inside(range: Range, from: bigint, to: bigint): Told[] {
  const middle = ((from + to) / 2n / (MASS_PER_KG / 2n)) * (MASS_PER_KG / 2n);
  const pounds = (from + to) / 2n / MASS_PER_LB;
  return [
    { value: middle, text: sayMassExactly(middle) },
    { value: pounds * MASS_PER_LB, text: sayMeasure(`${pounds} lb`) },
  ].filter(({ value }) => holds(range, value));
}

const UNITS = Object.entries(AGE_UNITS).map(([unit, per]) => ({ word: unit.slice(0, -1), per }));

/** Ages one unit below, at and one unit above each end, in the unit in which the end was written; youngest first. */
function agesNear(ranges: readonly Range[]): Told[] {
  const ends = ranges.flatMap(({ from, to }) => [from, to].filter((end): end is End => end !== undefined));
  return unlike(
    ends.flatMap((end) => {
      const unit = UNITS.find(({ word }) => end.text.includes(word));
      if (!unit || end.value % unit.per !== 0n) return [];
      const count = end.value / unit.per;
      return [count - 1n, count, count + 1n]
        .filter((each) => each >= 0n)
        .map((each) => ({ value: each * unit.per, text: sayMeasure(`${each} ${unit.word}s`) }));
    }),
  );
}

/** Everybody of the weights and the ages at the ends of the bands who exists, lightest first. */
export function crossPatients(bands: readonly Band[]): Invented[] {
  const ages = agesNear(bands.map(({ age }) => age));
  return weightsNear(bands.map(({ weight }) => weight)).flatMap((weight) =>
    ages.length
      ? ages.filter(({ value }) => isUsual(weight, value)).map((age) => patientOf(weight, age))
      : patientOf(weight),
  );
}

function patientOf(weight: Told, age?: Told): Invented {
  return age
    ? { told: heard("questions").old({ weight: weight.text, age: age.text }), weight: weight.value, age: age.value }
    : { told: weight.text, weight: weight.value };
}

/**
 * Patients at the ends of the bands, lightest first; with an age only if some band has an end of age, and then none
 * who does not exist: no weight outside the usual ones for the age (`bands/growth`). An age is told with a weight that
 * all bands and `within` hold, if there is one, so that the age alone decides.
 */
export function inventPatients(bands: readonly Band[], within: readonly Band[] = []): Invented[] {
  const weights = weightsNear(bands.map(({ weight }) => weight));
  const ages = agesNear(bands.map(({ age }) => age));
  if (ages.length === 0) return weights.map((weight) => patientOf(weight));
  const pairs = [
    ...ages.flatMap((age) => {
      const weight = weightAt(age.value, weights, bands, within);
      return weight ? [{ weight, age }] : [];
    }),
    ...weights.map((weight) => ({ weight, age: ages.find(({ value }) => isUsual(weight, value)) ?? ageAt(weight) })),
  ];
  return unlike(
    pairs.map(({ weight, age }) => ({ value: weight.value, text: patientOf(weight, age).told, weight, age })),
  ).map(({ weight, age }) => patientOf(weight, age));
}

const TEN_YEARS = 10n * AGE_UNITS.years;

/** Whether a weight is a usual one at an age; above ten years, where no table reaches, if ten years are not too old. */
function isUsual({ value }: Told, age: bigint): boolean {
  const { fromKg } = usualWeights(TEN_YEARS)!,
    kg = kgOf(value);
  return age > TEN_YEARS ? kg >= fromKg : !isUnusual(value, age) && kg >= lightestKg(age);
}

/**
 * The lightest whom somebody could be told of at an age: hardly anybody lives who was born under 0.3 kg, and after the
 * first two weeks, with hardly any gain, even the smallest gain more than 10 g a day for each kg (15 to 20 are usual;
 * common practice, no source). Only for what is asked: a real entry is never doubted for it.
 */
function lightestKg(age: bigint): number {
  const days = Number(age) / Number(AGE_PER_DAY);
  return 0.3 * Math.exp(0.01 * Math.min(Math.max(days - 14, 0), 182));
}

/** A weight that is usual at an age: inside all bands rather than inside `within` alone; in the middle if it can be. */
function weightAt(
  age: bigint,
  weights: readonly Told[],
  bands: readonly Band[],
  within: readonly Band[],
): Told | undefined {
  const usual = usualWeights(age);
  if (!usual)
    return weights.find((told) => isUsual(told, age) && within.every(({ weight }) => holds(weight, told.value)));
  const middle = Math.round(5 * (usual.fromKg + usual.toKg)),
    reach = Math.floor(5 * (usual.toKg - usual.fromKg));
  const tenths = Array.from({ length: 2 * reach + 1 }, (_, at) => middle + (at % 2 ? -1 : 1) * Math.ceil(at / 2))
    .map((count) => BigInt(count) * SCALE_STEP)
    .filter((value) => value > 0n && !isUnusual(value, age))
    .map((value) => ({ value, text: sayMassExactly(value) }));
  const inside = (held: readonly Band[]) =>
    tenths.find(({ value }) => held.every(({ weight }) => holds(weight, value)));
  return inside([...bands, ...within]) ?? inside(within);
}

/** Ages told for who is heavier than any of ten years, where no table reaches. */
const GROWN_YEARS = 15n;

/** The whole year at which a weight is nearest to the middle of the usual ones. */
function ageAt({ value }: Told): Told {
  const years = Array.from({ length: 10 }, (_, at) => BigInt(at + 1)).filter(
    (count) => !isUnusual(value, count * AGE_UNITS.years),
  );
  const kg = kgOf(value);
  const far = (count: bigint) => {
    const { fromKg, toKg } = usualWeights(count * AGE_UNITS.years)!;
    return Math.abs(kg - (fromKg + toKg) / 2);
  };
  const best = years.sort((a, b) => far(a) - far(b))[0] ?? (kg < 6 ? 0n : GROWN_YEARS);
  return best === 0n
    ? { value: AGE_UNITS.weeks, text: heard("measures").days({ count: 7, number: 7 }) }
    : { value: best * AGE_UNITS.years, text: heard("measures").years({ count: Number(best), number: Number(best) }) };
}

function unlike<Each extends Told>(told: readonly Each[]): Each[] {
  const texts = new Set<string>();
  return told
    .filter(({ text }) => !texts.has(text) && texts.add(text))
    .sort((a, b) => (a.value < b.value ? -1 : a.value > b.value ? 1 : 0));
}
