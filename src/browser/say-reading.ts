/** Says what a told weight would be if a usual slip has happened. */
import type { WeightEntry } from "../domain/entry.ts";
import { sayRounded } from "../domain/say-mass.ts";
import type { OtherReading } from "../domain/slips.ts";

/** One reading in words, up to the arrangement that it would mean. */
export function sayReading({ slip, from, to }: OtherReading, { text }: WeightEntry): string {
  const number = text.replace(/ \w+$/, "");
  if (slip === "pounds-as-kilograms") return `If it was ${number} pounds: ${sayRounded(from, "nearest")} kg,`;
  if (slip === "kilograms-as-pounds") return `If it was ${number} kilograms:`;
  if (slip === "ten-times" || slip === "a-tenth") return `If the point is one place off: ${sayRounded(from, "nearest")} kg,`;
  const stretch = `between ${sayRounded(from, "down")} and ${sayRounded(to, "up")} kg`;
  return slip === "rounded" ? `If somebody rounded it, it may be ${stretch}:` : `An estimate may be a tenth off, ${stretch}:`;
}
