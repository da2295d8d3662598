/**
 * Says what a told weight would be if a usual slip has happened, and how it is read back so that the slip would be
 * heard.
 */
import type { Words } from "../../words/hear.ts";
import type { WeightEntry } from "../../domain/bands/entry.ts";
import { sayRounded } from "../../domain/bands/say-mass.ts";
import type { OtherReading } from "../../domain/bands/slips.ts";

type Choosing = Words["choosing"];

/** One reading in words, up to the arrangement that it would mean. */
export function sayReading({ slip, from, to }: OtherReading, { text }: WeightEntry, words: Choosing): string {
  const number = numberIn(text),
    kg = sayRounded(from, "nearest");
  if (slip === "pounds-as-kilograms") return words.wasPounds({ number, kg });
  if (slip === "kilograms-as-pounds") return words.wasKilograms({ number });
  if (slip === "ten-times" || slip === "a-tenth") return words.pointIsOff({ kg });
  if (slip === "digits-exchanged") return words.digitsChanged({ kg });
  const stretch = words.between({ low: sayRounded(from, "down"), high: sayRounded(to, "up") });
  return slip === "rounded" ? words.wasRounded({ stretch }) : words.wasEstimated({ stretch });
}

/** The number of an entry without its unit, as it is written. */
const numberIn = (text: string): string => text.replace(/ \w+$/, "");

/** A number digit by digit: `41.2` is four one point two; so is `41,2`. */
function spellOut(number: string, words: Choosing): string {
  const names = words.digits.split(" ");
  return [...number].map((sign) => names[Number(sign)] ?? words.point).join(" ");
}

const UNITS = { kg: "kilograms", g: "grams", lb: "pounds" } as const;

/**
 * The weight as it is read back. It names what would be confused, so that the words differ with the danger: `exactly 5
 * kilograms, not pounds`.
 */
export function sayBack(
  { text, told, inOunces }: WeightEntry,
  others: readonly OtherReading[],
  words: Choosing,
  age?: string,
): string {
  const has = (slip: OtherReading["slip"]) => others.some((other) => other.slip === slip);
  const number = numberIn(text),
    [pounds = "", ounces = ""] = text.replace(/ oz$/, "").split(" lb ");
  let weight: string = inOunces ? words.poundsAndOunces({ pounds, ounces }) : words[UNITS[told.unit]]({ number });
  if (has("estimate")) weight = words.about({ weight });
  else if (has("rounded")) weight = words.exactlyThat({ weight });
  if (has("pounds-as-kilograms")) weight = words.notPounds({ weight });
  else if (has("kilograms-as-pounds")) weight = words.notKilograms({ weight });
  if (has("digits-exchanged") && !inOunces) weight = words.digitByDigit({ weight, digits: spellOut(number, words) });
  return age ? words.andAge({ weight, age }) : weight;
}
