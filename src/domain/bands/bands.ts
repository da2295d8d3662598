/**
 * Exact weights and ages: who is in a band, where bands meet, and what they leave out or own twice. No rounding
 * anywhere.
 */
import type { Band, End, Range } from "../../schema/collection.ts";
import { writeDecimal } from "../../schema/spoken.ts";
import { AGE_PER_DAY, MASS_PER_KG } from "../../schema/units.ts";
import { heard } from "../../words/heard.ts";
import { sayKilograms, sayMeasure } from "../words/measures.ts";

export { AGE_PER_DAY, MASS_PER_KG };

/** A patient as far as it is known; an unknown value leaves nothing out. Exact units as in `End`. */
export interface Patient {
  readonly weight?: bigint | undefined;
  readonly age?: bigint | undefined;
}

/**
 * A cut between two neighbouring values: `after` false lies just below the value, true just above it.
 * A range is everything between two cuts, so that "owned" ends need no special case
 * (ISO 80000-2: [a is the cut below a, ]a the cut above it).
 */
export interface Cut {
  readonly value: bigint;
  readonly after: boolean;
  readonly end?: End | undefined;
}

// No weight or age is below nothing.
const LOWEST = 0n;
const HIGHEST = 10n ** 60n;

/** The cut below everything in the range. */
export function lowerCut(range: Range): Cut {
  return range.from
    ? { value: range.from.value, after: !range.from.owned, end: range.from }
    : { value: LOWEST, after: false };
}

/** The cut above everything in the range. */
export function upperCut(range: Range): Cut {
  return range.to ? { value: range.to.value, after: range.to.owned, end: range.to } : { value: HIGHEST, after: true };
}

/** Negative, zero or positive as `a` lies below, at or above `b`. */
export function compareCuts(a: Cut, b: Cut): number {
  if (a.value !== b.value) return a.value < b.value ? -1 : 1;
  return Number(a.after) - Number(b.after);
}

/** Whether the range holds the value. "from" and "up to" own their end; "over" and "under" do not. */
export function holds({ from, to }: Range, value: bigint): boolean {
  const above = !from || value > from.value || (from.owned && value === from.value);
  return above && (!to || value < to.value || (to.owned && value === to.value));
}

/** Whether the band holds the patient; an unknown weight or age leaves nothing out. */
export function holdsPatient(band: Band, patient: Patient): boolean {
  return (
    (patient.weight === undefined || holds(band.weight, patient.weight)) &&
    (patient.age === undefined || holds(band.age, patient.age))
  );
}

/** Those of a band who are like a patient: exactly the weight and the age that are known, whatever the band says. */
export function bandOfPatient({ weight, age }: Band, patient: Patient): Band {
  const known = (range: Range, value: bigint | undefined): Range => {
    const end = { value: value ?? 0n, owned: true, text: "" };
    return value === undefined ? range : { from: end, to: end, text: "" };
  };
  return { weight: known(weight, patient.weight), age: known(age, patient.age) };
}

/** Whether nothing is in the range. */
export function isEmptyRange(range: Range): boolean {
  return compareCuts(lowerCut(range), upperCut(range)) >= 0;
}

/** What is in both ranges; `undefined` if nothing is. Its text is worded anew. */
export function meet(a: Range, b: Range): Range | undefined {
  const low = compareCuts(lowerCut(a), lowerCut(b)) >= 0 ? a : b;
  const high = compareCuts(upperCut(a), upperCut(b)) <= 0 ? a : b;
  if (low === high) return isEmptyRange(low) ? undefined : low;
  const range = wordRange(
    low.from,
    high.to,
    a.text.endsWith("age") && b.text.endsWith("age") ? "any age" : "any weight",
  );
  return isEmptyRange(range) ? undefined : range;
}

/** What is in both bands; `undefined` if nobody is. */
export function meetBands(a: Band, b: Band): Band | undefined {
  const weight = meet(a.weight, b.weight);
  const age = weight && meet(a.age, b.age);
  return weight && age ? { weight, age } : undefined;
}

/** Whether everything in `inner` is in `outer`. */
export function covers(outer: Range, inner: Range): boolean {
  return compareCuts(lowerCut(outer), lowerCut(inner)) <= 0 && compareCuts(upperCut(outer), upperCut(inner)) >= 0;
}

/** Whether two ranges have the same ends, however they are worded. */
export function isSameRange(a: Range, b: Range): boolean {
  return compareCuts(lowerCut(a), lowerCut(b)) === 0 && compareCuts(upperCut(a), upperCut(b)) === 0;
}

/**
 * For how many of a band's patients another band is: `none` where they do not meet, `all` where it holds every patient,
 * else `some`. From 5 to under 40 kg, `under 50 kg` is for all, `from 20 kg` for some, `under 5 kg` for none.
 */
export function shareOf(part: Band, whole: Band): "none" | "some" | "all" {
  if (!meetBands(part, whole)) return "none";
  return covers(part.weight, whole.weight) && covers(part.age, whole.age) ? "all" : "some";
}

/** A range from its two ends, in the words of the file format; `any` is its text when both ends are open. */
export function wordRange(from: End | undefined, to: End | undefined, any: "any weight" | "any age"): Range {
  const low = from && `${from.owned ? "from" : "over"} ${from.text}`;
  const high =
    to && (from ? `${to.owned ? "up to" : "to under"} ${to.text}` : `${to.owned ? "up to" : "under"} ${to.text}`);
  const range = { text: [low, high].filter(Boolean).join(" ") || any };
  return { ...(from ? { from } : {}), ...(to ? { to } : {}), ...range };
}

/** The range between two cuts, for wording a gap or an overlap. */
export function rangeBetween(low: Cut, high: Cut, any: "any weight" | "any age"): Range {
  const from = low.end && { value: low.value, owned: !low.after, text: low.end.text };
  const to = high.end && { value: high.value, owned: high.after, text: high.end.text };
  return wordRange(from, to, any);
}

/** Different cuts of the ranges in rising order. */
export function cutsOf(ranges: readonly Range[]): Cut[] {
  const byKey = new Map<string, Cut>();
  for (const range of ranges)
    for (const cut of [lowerCut(range), upperCut(range)]) {
      const key = `${cut.value}${cut.after ? "+" : "-"}`;
      if (!byKey.has(key)) byKey.set(key, cut);
    }
  return [...byKey.values()].sort(compareCuts);
}

/** The pieces into which the cuts divide the range, in rising order. */
export function divide(range: Range, cuts: readonly Cut[], any: "any weight" | "any age"): Range[] {
  const low = lowerCut(range);
  const high = upperCut(range);
  if (compareCuts(low, high) >= 0) return [];
  const inner = cuts.filter((cut) => compareCuts(cut, low) > 0 && compareCuts(cut, high) < 0);
  const ends = [low, ...inner, high];
  return ends.slice(1).map((end, at) => rangeBetween(ends[at]!, end, any));
}

/** A value inside a range that is not empty: its lower end if owned, else just above it. */
export function valueIn(range: Range): bigint {
  const low = lowerCut(range);
  return low.after ? low.value + 1n : low.value;
}

/** A part of weight × age: nobody owns it (a gap) or two do (an overlap). */
export interface Region {
  readonly weight: Range;
  readonly age: Range;
}

/**
 * Every part of `whole` that none of the bands holds. Neighbouring weights with the same missing ages are one region;
 * so the regions are as few and as wide as the cuts allow. Empty when the bands cover the whole.
 */
export function findGaps(whole: Band, bands: readonly Band[]): Region[] {
  const strips = divide(whole.weight, cutsOf(bands.map((band) => band.weight)), "any weight");
  const gaps: { low: Cut; high: Cut; age: Range; key: string }[] = [];
  for (const strip of strips) {
    const here = bands.filter((band) => meet(band.weight, strip));
    for (const age of missingAges(
      whole.age,
      here.map((band) => band.age),
    )) {
      const key = cutKey(lowerCut(age)) + cutKey(upperCut(age));
      const below = gaps.find((gap) => gap.key === key && compareCuts(gap.high, lowerCut(strip)) === 0);
      if (below) below.high = upperCut(strip);
      else gaps.push({ low: lowerCut(strip), high: upperCut(strip), age, key });
    }
  }
  return gaps.map(({ low, high, age }) => ({ weight: rangeBetween(low, high, "any weight"), age }));
}

function cutKey(cut: Cut): string {
  return `${cut.value}${cut.after ? "+" : "-"}`;
}

/** Parts of the ages that none of `covered` holds, joined where they touch. */
function missingAges(whole: Range, covered: readonly Range[]): Range[] {
  const missing: { low: Cut; high: Cut }[] = [];
  for (const piece of divide(whole, cutsOf(covered), "any age")) {
    if (covered.some((range) => covers(range, piece))) continue;
    const last = missing.at(-1);
    if (last && compareCuts(last.high, lowerCut(piece)) === 0) last.high = upperCut(piece);
    else missing.push({ low: lowerCut(piece), high: upperCut(piece) });
  }
  return missing.map(({ low, high }) => rangeBetween(low, high, "any age"));
}

/** A range in words, saying "exactly 5 kg" for a single value. */
export function sayRange({ from, to, text }: Range): string {
  if (from && to && from.value === to.value) return heard("ranges").exactly({ end: sayMeasure(from.text) });
  if (from?.owned && !to && text.endsWith("and over")) return heard("ranges").andOver({ low: sayMeasure(from.text) });
  const said = (end: End | undefined) => end && { text: sayMeasure(end.text), owned: end.owned };
  return sayEnds(said(from), said(to)) ?? (text.endsWith("age") ? heard("ranges").anyAge : heard("ranges").anyWeight);
}

/** An end as it is said, and whether what ends there has it. */
interface SaidEnd {
  readonly text: string;
  readonly owned: boolean;
}

/** What lies between two ends, in words: `over 5 kg up to 40 kg`; `undefined` where there is neither. */
export function sayEnds(from: SaidEnd | undefined, to: SaidEnd | undefined): string | undefined {
  const low = from?.text ?? "",
    high = to?.text ?? "";
  if (from && to) {
    if (from.owned)
      return to.owned ? heard("ranges").fromUpTo({ low, high }) : heard("ranges").fromToUnder({ low, high });
    return to.owned ? heard("ranges").overUpTo({ low, high }) : heard("ranges").overToUnder({ low, high });
  }
  if (to) return to.owned ? heard("ranges").upTo({ high }) : heard("ranges").under({ high });
  return from && (from.owned ? heard("ranges").from({ low }) : heard("ranges").over({ low }));
}

/** Whom something is only for, by the weight, the age or both that are given; empty where neither is. */
export function sayOnly({ weight, age }: Partial<Band>): string {
  return [weight, age].flatMap((range) => (range ? [sayRange(range)] : [])).join(", ");
}

/** A weight and an age in words; an age without limits is left out. */
export function sayBand({ weight, age }: Band): string {
  return age.from || age.to
    ? heard("ranges").weightAndAge({ weight: sayRange(weight), age: sayRange(age) })
    : sayRange(weight);
}

/** The same in the words of the file format, whatever the language: for addresses and for what tells bands apart. */
export function formatBand({ weight, age }: Band): string {
  return age.from || age.to ? `${formatRange(weight)}, ${formatRange(age)}` : formatRange(weight);
}

function formatRange({ from, to, text }: Range): string {
  return from && to && from.value === to.value ? `exactly ${from.text}` : text;
}

/** An exact mass as a number of kilograms (the nearest double). */
export function kgOf(mass: bigint): number {
  return Number(formatDecimal(mass, MASS_PER_KG));
}

/** An exact mass in kilograms with every decimal it has, as it is read: `7.2 kg`. */
export function sayMassExactly(mass: bigint): string {
  return sayKilograms(writeDecimal(formatDecimal(mass, MASS_PER_KG)));
}

/** The same as files write it, whatever the language. */
export function formatKg(mass: bigint): string {
  return `${formatDecimal(mass, MASS_PER_KG)} kg`;
}

/** `value / unit` as a decimal without trailing zeros; `unit` is a power of ten. */
export function formatDecimal(value: bigint, unit: bigint): string {
  const digits = unit.toString().length - 1;
  const text = (value < 0n ? -value : value).toString().padStart(digits + 1, "0");
  const whole = text.slice(0, text.length - digits);
  const part = text.slice(text.length - digits).replace(/0+$/, "");
  return `${value < 0n ? "-" : ""}${whole}${part ? `.${part}` : ""}`;
}
