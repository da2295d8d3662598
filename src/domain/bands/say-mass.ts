/** Exact masses in words, rounded only for reading and always to the safe side. */
import type { Range } from "../../schema/collection.ts";
import { writeDecimal } from "../../schema/spoken.ts";
import { MASS_PER_KG } from "../../schema/units.ts";
import { heard } from "../../words/heard.ts";
import { sayKilograms } from "../words/measures.ts";
import { formatDecimal, sayEnds, sayMassExactly } from "./bands.ts";
import { ceilOf, compare, floorOf, fraction, type Rational } from "../numbers/rational.ts";
import type { Danger, DangerEnd } from "./slips.ts";

/** A mass (units of `End`) in kilograms to a hundredth, rounded as asked; exact ones have no needless zeros. */
export function sayRounded(mass: Rational, way: "down" | "up" | "nearest"): string {
  return writeDecimal(rounded(mass, way));
}

function rounded(mass: Rational, way: "down" | "up" | "nearest"): string {
  const hundredths = fraction(mass.n * 100n, mass.d * MASS_PER_KG);
  if (way === "nearest")
    return formatDecimal(floorOf(fraction(2n * hundredths.n + hundredths.d, 2n * hundredths.d)), 100n);
  return formatDecimal(way === "up" ? ceilOf(hundredths) : floorOf(hundredths), 100n);
}

/**
 * A mass in kilograms as people read it: to a hundredth, with as many more decimals as it takes to stay on its own side
 * of every end given, and off it.
 * `4.99 kg` for 11 lb, but `4.999949 kg` for 11.023 lb where a band ends at 5 kg. Never rounds a weight into another
 * band.
 */
export function sayNear(mass: bigint, ends: readonly bigint[]): string {
  const decimals = MASS_PER_KG.toString().length - 1;
  for (let places = 2; places < decimals; places += 1) {
    const unit = 10n ** BigInt(decimals - places),
      near = ((2n * mass + unit) / (2n * unit)) * unit;
    if (ends.every((end) => sideOf(near, end) === sideOf(mass, end))) return sayMassExactly(near);
  }
  return sayMassExactly(mass);
}

const sideOf = (mass: bigint, end: bigint): number => (mass < end ? -1 : mass > end ? 1 : 0);

/** Every end of the ranges, in units of `End`. */
export function endsOf(ranges: readonly Range[]): bigint[] {
  return ranges.flatMap(({ from, to }) => [from, to].flatMap((end) => (end ? [end.value] : [])));
}

/** The weights of a danger, rounded outwards to 0.01 kg: `from 2.72 kg to under 6 kg`. */
export function sayStretch({ from, to }: Pick<Danger, "from" | "to">): string {
  const low = rounded(from.value, "down"),
    high = rounded(to.value, "up");
  const [lowKg, highKg] = [sayKilograms(writeDecimal(low)), sayKilograms(writeDecimal(high))];
  if (compare(from.value, to.value) === 0) return heard("ranges").exactly({ end: lowKg });
  const begins = from.value.n !== 0n,
    ceases = to.value.n < 10n ** 50n * to.value.d;
  const said = sayEnds(
    begins ? { text: lowKg, owned: from.owned || isRounded(from, low) } : undefined,
    ceases ? { text: highKg, owned: to.owned } : undefined,
  );
  return said ?? heard("ranges").anyWeight;
}

function isRounded({ value }: DangerEnd, said: string): boolean {
  const [whole = "0", part = ""] = said.split(".");
  return compare(value, fraction(BigInt(whole + part.padEnd(2, "0")) * MASS_PER_KG, 100n)) !== 0;
}
