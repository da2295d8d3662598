/**
 * Invented patients at the ends of bands, where a choice goes wrong: just below, at and just above each end, in
 * kilograms and in pounds.
 */
import type { End, Range } from "../../../schema/collection.ts";
import { AGE_PER_DAY, AGE_PER_MONTH, MASS_PER_KG, MASS_PER_LB } from "../../../schema/units.ts";
import { formatKg, holds } from "../../bands/bands.ts";

/** A weight or an age with the words in which it is told. */
export interface Told {
  readonly value: bigint;
  readonly text: string;
}

/** What a kit-room scale shows in kilograms: tenths. */
const SCALE_STEP = MASS_PER_KG / 10n;

/** Weights on both sides of each end and in the middle of each range, without repeats, lightest first. */
export function weightsNear(ranges: readonly Range[]): Told[] {
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
    { value: below, text: formatKg(below) },
    { value, text: inGrams ? formatKg(value) : text },
    { value: above, text: formatKg(above) },
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
    text: `${pounds} lb`,
  }));
}

function inside(range: Range, from: bigint, to: bigint): Told[] {
  const middle = ((from + to) / 2n / (MASS_PER_KG / 2n)) * (MASS_PER_KG / 2n);
  const pounds = (from + to) / 2n / MASS_PER_LB;
  return [
    { value: middle, text: formatKg(middle) },
    { value: pounds * MASS_PER_LB, text: `${pounds} lb` },
  ].filter(({ value }) => holds(range, value));
}

const AGE_UNITS: readonly { readonly word: string; readonly per: bigint }[] = [
  { word: "day", per: AGE_PER_DAY },
  { word: "week", per: 7n * AGE_PER_DAY },
  { word: "month", per: AGE_PER_MONTH },
  { word: "year", per: 12n * AGE_PER_MONTH },
];

/** Ages one unit below, at and one unit above each end, in the unit in which the end was written; youngest first. */
export function agesNear(ranges: readonly Range[]): Told[] {
  const ends = ranges.flatMap(({ from, to }) => [from, to].filter((end): end is End => end !== undefined));
  return unlike(
    ends.flatMap((end) => {
      const unit = AGE_UNITS.find(({ word }) => end.text.includes(word));
      if (!unit || end.value % unit.per !== 0n) return [];
      const count = end.value / unit.per;
      return [count - 1n, count, count + 1n]
        .filter((each) => each >= 0n)
        .map((each) => ({ value: each * unit.per, text: `${each} ${unit.word}${each === 1n ? "" : "s"}` }));
    }),
  );
}

function unlike(told: readonly Told[]): Told[] {
  const texts = new Set<string>();
  return told
    .filter(({ text }) => !texts.has(text) && texts.add(text))
    .sort((a, b) => (a.value < b.value ? -1 : a.value > b.value ? 1 : 0));
}
