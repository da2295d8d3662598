/**
 * Says what a told weight would be if a usual slip has happened, and how it is read back so that the slip would be
 * heard.
 */
import type { WeightEntry } from "../../domain/bands/entry.ts";
import { sayRounded } from "../../domain/bands/say-mass.ts";
import type { MassUnit, OtherReading } from "../../domain/bands/slips.ts";

/** One reading in words, up to the arrangement that it would mean. */
export function sayReading({ slip, from, to }: OtherReading, { text }: WeightEntry): string {
  const number = text.replace(/ \w+$/, "");
  if (slip === "pounds-as-kilograms") return `If it was ${number} pounds: ${sayRounded(from, "nearest")} kg,`;
  if (slip === "kilograms-as-pounds") return `If it was ${number} kilograms:`;
  if (slip === "ten-times" || slip === "a-tenth")
    return `If the point is one place off: ${sayRounded(from, "nearest")} kg,`;
  if (slip === "digits-exchanged") return `If two digits changed places: ${sayRounded(from, "nearest")} kg,`;
  const stretch = `between ${sayRounded(from, "down")} and ${sayRounded(to, "up")} kg`;
  return slip === "rounded"
    ? `If somebody rounded it, it may be ${stretch}:`
    : `An estimate may be a tenth off, ${stretch}:`;
}

const DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];

/** A number digit by digit: `41.2` is four one point two. */
function spellOut(number: string): string {
  return [...number].map((sign) => (sign === "." ? "point" : DIGITS[Number(sign)])).join(" ");
}

const UNIT_WORDS: Readonly<Record<MassUnit, string>> = { kg: "kilograms", g: "grams", lb: "pounds" };

/**
 * The weight as it is read back. It names what would be confused, so that the words differ with the danger: `exactly 5
 * kilograms, not pounds`.
 */
export function sayBack({ text, told, inOunces }: WeightEntry, others: readonly OtherReading[], age?: string): string {
  const has = (slip: OtherReading["slip"]) => others.some((other) => other.slip === slip);
  const how = has("estimate") ? "about " : has("rounded") ? "exactly " : "";
  const not = has("pounds-as-kilograms") ? ", not pounds" : has("kilograms-as-pounds") ? ", not kilograms" : "";
  const said = inOunces
    ? text.replace(" lb ", " pounds ").replace(/ oz$/, " ounces")
    : `${text.replace(/ \w+$/, "")} ${UNIT_WORDS[told.unit]}`;
  const digits = has("digits-exchanged") && !inOunces ? `: ${spellOut(text.replace(/ \w+$/, ""))}` : "";
  return `${how}${said}${not}${digits}${age ? `, and ${age}` : ""}`;
}
