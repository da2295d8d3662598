/** Exact masses in words, rounded only for reading and always to the safe side. */
import { MASS_PER_KG } from "../schema/units.ts";
import { formatDecimal } from "./bands.ts";
import { ceilOf, compareFractions, floorOf, fraction, type Fraction } from "./fractions.ts";
import type { Danger, DangerEnd } from "./slips.ts";

/** A mass (units of `End`) in kilograms to a hundredth, rounded as asked; exact ones have no needless zeros. */
export function sayRounded(mass: Fraction, way: "down" | "up" | "nearest"): string {
  const hundredths = fraction(mass.n * 100n, mass.d * MASS_PER_KG);
  if (way === "nearest") return formatDecimal(floorOf(fraction(2n * hundredths.n + hundredths.d, 2n * hundredths.d)), 100n);
  return formatDecimal(way === "up" ? ceilOf(hundredths) : floorOf(hundredths), 100n);
}

/** The weights of a danger, rounded outwards to 0.01 kg: `from 2.72 kg to under 6 kg`. */
export function sayStretch({ from, to }: Pick<Danger, "from" | "to">): string {
  const low = sayRounded(from.value, "down"), high = sayRounded(to.value, "up");
  if (compareFractions(from.value, to.value) === 0) return `exactly ${low} kg`;
  const start = from.value.n === 0n ? undefined : `${from.owned || isRounded(from, low) ? "from" : "over"} ${low} kg`;
  const stop = to.value.n >= 10n ** 50n * to.value.d ? undefined : `${to.owned ? "up to" : "under"} ${high} kg`;
  if (!start) return stop ?? "any weight";
  return stop ? `${start} ${to.owned ? stop : `to ${stop}`}` : start;
}

function isRounded({ value }: DangerEnd, said: string): boolean {
  const [whole = "0", part = ""] = said.split(".");
  return compareFractions(value, fraction(BigInt(whole + part.padEnd(2, "0")) * MASS_PER_KG, 100n)) !== 0;
}
