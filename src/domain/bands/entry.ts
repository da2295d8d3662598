/** Reads a weight or an age as a crew types it, and asks rather than guesses. */
import { AGE_UNITS } from "../../schema/units.ts";
import { massTold, type MassUnit, type ToldWeight } from "./slips.ts";
import { heard } from "../../words/heard.ts";
import { sayMeasure } from "../words/measures.ts";

/** What came of an entry: its value, nothing (the field is empty), or a question to the reader. */
type Entry<T> =
  | { readonly kind: "value"; readonly value: T }
  | { readonly kind: "empty" }
  | { readonly kind: "ask"; readonly question: string };

/** A weight as told, its exact mass, and how to say it: `7.2 kg`. */
export interface WeightEntry {
  readonly told: ToldWeight;
  readonly mass: bigint;
  readonly text: string;
  /** Told in pounds and ounces: whoever says both has said the unit. */
  readonly inOunces?: true;
}

/** An exact age (units of `End`), as it can be read again (`8 months`), and how to say it. */
export interface AgeEntry {
  readonly age: bigint;
  readonly written: string;
  readonly text: string;
}

/** The units in which an age is told. */
export type AgeUnit = keyof typeof AGE_UNITS;

const MASS_WORDS: Readonly<Record<string, MassUnit>> = {
  kg: "kg",
  kgs: "kg",
  kilo: "kg",
  kilos: "kg",
  kilogram: "kg",
  kilograms: "kg",
  g: "g",
  gram: "g",
  grams: "g",
  lb: "lb",
  lbs: "lb",
  pound: "lb",
  pounds: "lb",
};
const AGE_WORDS: Readonly<Record<string, AgeUnit>> = {
  d: "days",
  day: "days",
  days: "days",
  w: "weeks",
  week: "weeks",
  weeks: "weeks",
  month: "months",
  months: "months",
  y: "years",
  year: "years",
  years: "years",
};
const MOST_DIGITS = 9;

/**
 * A weight from what stands in the field and the unit chosen beside it; a unit typed into the field must agree with it.
 */
export function readWeight(text: string, chosen?: MassUnit): Entry<WeightEntry> {
  const ounces = readOunces(text, chosen);
  if (ounces) return ounces;
  const parts = readNumber(text, "weight");
  if (parts.kind !== "value") return parts;
  const { digits, decimals, number, word } = parts.value;
  const typed = word === "" ? undefined : Object.hasOwn(MASS_WORDS, word) ? MASS_WORDS[word] : null;
  if (typed === null) return ask(heard("weightEntry").isKilogramsGrams({ word }));
  if (typed && chosen && typed !== chosen) return ask(heard("weightEntry").theFieldSays({ typed, chosen }));
  const unit = typed ?? chosen;
  if (!unit) return ask(heard("weightEntry").ofWhatChooseKilograms({ number }));
  // Scales show three decimals; a 0 at their end, or decimals of a gram, leave it open.
  if (decimals === 3 && (unit === "g" || number.endsWith("0"))) return askThousands(number);
  const told = { digits, decimals, unit };
  const mass = massTold(told);
  return mass > 0n
    ? { kind: "value", value: { told, mass, text: sayMeasure(`${number} ${unit}`) } }
    : ask(heard("weightEntry").aWeightIsMore);
}

/**
 * `8 lb 9 oz` or `8lb 9oz` as pounds, exactly (1 oz = 1/16 lb: NIST SP 811, appendix B.8); `undefined` if the text is
 * something else.
 */
function readOunces(text: string, chosen?: MassUnit): Entry<WeightEntry> | undefined {
  const plain = text.trim().toLowerCase();
  const found = /^(\d{1,4})\s*(?:lbs?|pounds?)\.?\s*(?:and\s+)?(\d{1,3})(?:\.(\d{1,2}))?\s*(?:ozs?|ounces?)\.?$/.exec(
    plain,
  );
  if (!found) {
    const bare = /^(\d+)\s*[ -]\s*(\d+)$/.exec(plain);
    return bare ? ask(heard("weightEntry").isThatPoundsOunces({ pounds: bare[1]!, ounces: bare[2]! })) : undefined;
  }
  const [, pounds = "", whole = "", part = ""] = found;
  if (chosen && chosen !== "lb") return ask(heard("weightEntry").theFieldSaysPounds({ chosen }));
  if (BigInt(whole) > 15n) return ask(heard("weightEntry").aPoundIsOunces({ whole }));
  // A sixteenth is 0.0625: four decimals more than the ounces have, and none lost.
  const told = {
    digits: BigInt(pounds) * 10n ** BigInt(part.length + 4) + BigInt(whole + part) * 625n,
    decimals: part.length + 4,
    unit: "lb",
  } as const;
  const mass = massTold(told);
  const said = heard("weightEntry").lbOz({
    pounds: String(BigInt(pounds)),
    whole: String(BigInt(whole)),
    part: part ? `.${part}` : "",
  });
  return mass > 0n
    ? { kind: "value", value: { told, mass, text: said, inOunces: true } }
    : ask(heard("weightEntry").aWeightIsMore);
}

/** An age from what stands in the field and the unit chosen beside it. */
export function readAge(text: string, chosen?: AgeUnit): Entry<AgeEntry> {
  const parts = readNumber(text, "age");
  if (parts.kind !== "value") return parts;
  const { digits, decimals, number, word } = parts.value;
  const typed = word === "" ? undefined : Object.hasOwn(AGE_WORDS, word) ? AGE_WORDS[word] : null;
  if (typed === null) return ask(heard("weightEntry").isDaysWeeksMonths({ word }));
  if (typed && chosen && typed !== chosen) return ask(heard("weightEntry").theFieldSaysTheChoice({ typed, chosen }));
  const unit = typed ?? chosen;
  if (!unit) return ask(heard("weightEntry").whatChooseDaysWeeks({ number }));
  if (decimals === 3) return askThousands(number);
  const written = `${number} ${number === "1" ? unit.slice(0, -1) : unit}`;
  return {
    kind: "value",
    value: { age: (digits * AGE_UNITS[unit]) / 10n ** BigInt(decimals), written, text: sayMeasure(written) },
  };
}

interface NumberParts {
  readonly digits: bigint;
  readonly decimals: number;
  /** The number with a decimal point, as it is said back. */
  readonly number: string;
  readonly word: string;
}

/**
 * Splits `7,2 kg` into number and word. A comma before three digits might part thousands: the reader is asked.
 */
function readNumber(text: string, what: "weight" | "age"): Entry<NumberParts> {
  const trimmed = text.trim().toLowerCase();
  if (trimmed === "") return { kind: "empty" };
  const found = /^(\d+)(?:([.,])(\d+))?\s*([a-z]*)\.?$/.exec(trimmed);
  if (!found)
    return ask(
      heard("weightEntry").writeThe({
        what,
        orPounds: what === "weight" ? heard("weightEntry").orPoundsAndOunces : "8",
      }),
    );
  const [, whole = "", sign, part = "", word = ""] = found;
  if (sign === "," && part.length === 3) return ask(heard("weightEntry").isOrWrite({ whole, part }));
  if (whole.length + part.length > MOST_DIGITS) return ask(heard("weightEntry").writeTheWithFewer({ what }));
  const clean = whole.replace(/^0+(?=\d)/, "");
  return {
    kind: "value",
    value: { digits: BigInt(whole + part), decimals: part.length, number: part ? `${clean}.${part}` : clean, word },
  };
}

/** A point before three digits might part thousands: `7.200` is 7200 to many. */
function askThousands(number: string): { kind: "ask"; question: string } {
  const plain = number.replace(/\.?0+$/, "");
  return ask(
    heard("weightEntry").isOrWriteItWithout({
      number,
      replace: number.replace(".", ""),
      plain,
      asNow: plain === number ? heard("weightEntry").asNumber({ number }) : heard("weightEntry").asPlain({ plain }),
    }),
  );
}

function ask(question: string): { kind: "ask"; question: string } {
  return { kind: "ask", question };
}
