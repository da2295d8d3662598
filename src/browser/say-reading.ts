/** Says what a told weight would be if a usual slip has happened. */
import { MASS_PER_KG } from "../schema/units.ts";
import type { WeightEntry } from "../domain/entry.ts";
import { ceilOf, floorOf, fraction, type Fraction } from "../domain/fractions.ts";
import { formatDecimal } from "../domain/bands.ts";
import type { OtherReading } from "../domain/slips.ts";

/** One reading in words, up to the arrangement that it would mean. */
export function sayReading({ slip, from, to }: OtherReading, { text }: WeightEntry): string {
  const number = text.replace(/ \w+$/, "");
  if (slip === "pounds-as-kilograms") return `If it was ${number} pounds: ${sayRounded(from, "nearest")} kg,`;
  if (slip === "kilograms-as-pounds") return `If it was ${number} kilograms:`;
  if (slip === "ten-times" || slip === "a-tenth") return `If the point is one place off: ${sayRounded(from, "nearest")} kg,`;
  const stretch = `between ${sayRounded(from)} and ${sayRounded(to, "up")} kg`;
  return slip === "rounded" ? `If somebody rounded it, it may be ${stretch}:` : `An estimate may be a tenth off, ${stretch}:`;
}

/** A mass in kilograms to a hundredth, rounded as asked; exact ones have no needless zeros. */
export function sayRounded(mass: Fraction, way: "down" | "up" | "nearest" = "down"): string {
  const hundredths = fraction(mass.n * 100n, mass.d * MASS_PER_KG);
  if (way === "nearest") return formatDecimal(floorOf(fraction(2n * hundredths.n + hundredths.d, 2n * hundredths.d)), 100n);
  return formatDecimal(way === "up" ? ceilOf(hundredths) : floorOf(hundredths), 100n);
}
