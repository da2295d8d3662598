/**
 * Words to exact quantities: weights and ages of bands, masses, lengths, forces and durations, as authors write them.
 */
import type { End, Range } from "./collection.ts";
import { AGE_UNITS, MASS_UNITS } from "./units.ts";
import { sayList } from "./wording.ts";

/**
 * What came of reading words: a value, or the finding to report. `index` is where in the words the mistake begins;
 * `guess` is what was probably meant, so that one mistake is not reported twice.
 */
export type ReadResult<T> =
  | { readonly ok: true; readonly value: T }
  | {
      readonly ok: false;
      readonly rule: string;
      readonly message: string;
      readonly fix: string;
      readonly guess?: T | undefined;
      readonly index?: number | undefined;
      /** What could stand there, where that is a short list. */
      readonly expected?: readonly string[] | undefined;
    };

type RangeKind = "weight" | "age";

/** A quantity with the author's words for it, unit included (`5 kg`). */
interface Quantity {
  readonly value: bigint;
  readonly text: string;
}

/** Ages by their units, `month` as well as `months`. */
const AGE_WORDS: Readonly<Record<string, bigint>> = Object.fromEntries(
  Object.entries(AGE_UNITS).flatMap(([unit, age]) => [
    [unit.slice(0, -1), age],
    [unit, age],
  ]),
);
const KINDS = {
  weight: {
    units: MASS_UNITS as Readonly<Record<string, bigint>>,
    any: "any weight",
    unitWords: "`kg`, `g` or `lb`",
    example: "from 5 kg to under 40 kg",
    value: "7.2 kg",
  },
  age: {
    units: AGE_WORDS,
    any: "any age",
    unitWords: "`days`, `weeks`, `months` or `years`",
    example: "from 6 months to under 2 years",
    value: "8 months",
  },
} as const;
/** Decimals up to which every unit is whole: 1 lb has eight of its own, a month four. */
const MOST_DECIMALS = 12;
const MOST_DIGITS = 12;
const NUMBER = String.raw`\d+(?:\.\d+)?`;

/** Text with single spaces and none at its ends. */
function tidy(text: string): string {
  return text.replace(/[\s\u00a0\u202f]+/g, " ").trim();
}

function fail<T>(
  message: string,
  fix: string,
  rule = "text/bad-value",
  more: { guess?: T | undefined; index?: number | undefined } = {},
): ReadResult<T> {
  return { ok: false, rule, message, fix, ...more };
}

/**
 * Exact value of a decimal number in units of `unit`; `undefined` if it has more decimals or digits than can be kept
 * exactly.
 */
function scale(number: string, unit: bigint): bigint | undefined {
  const [whole = "", decimals = ""] = number.split(".");
  if (decimals.length > MOST_DECIMALS || whole.length > MOST_DIGITS) return undefined;
  const product = BigInt(whole + decimals) * unit;
  const divisor = 10n ** BigInt(decimals.length);
  return product % divisor === 0n ? product / divisor : undefined;
}

/** How people write units, with what the format calls them; none that could mean two. */
const SPELT: Readonly<Record<string, string>> = {
  ...Object.fromEntries(["kgs", "kilo", "kilos", "kilogram", "kilograms"].map((word) => [word, "kg"])),
  ...Object.fromEntries(["gr", "gm", "gms", "gram", "grams"].map((word) => [word, "g"])),
  ...Object.fromEntries(["lbs", "pound", "pounds"].map((word) => [word, "lb"])),
  ...Object.fromEntries(["yr", "yrs"].map((word) => [word, "years"])),
  ...Object.fromEntries(["wk", "wks"].map((word) => [word, "weeks"])),
  ...Object.fromEntries(["mth", "mths"].map((word) => [word, "months"])),
};

/** Smaller units that people say after a greater one, and how many of them it has. */
const SMALLER = [
  { great: /^(?:lbs?|pounds?)$/i, small: /^(?:oz|ozs|ounces?)$/i, has: 16, unit: "lb" },
  { great: /^(?:kgs?|kilograms?|kilos?)$/i, small: /^(?:g|gs|gr|grams?|grammes?)$/i, has: 1000, unit: "kg" },
];

/**
 * A mass that is said in two units, in one: `2` with `lb 10 oz` is `2.625 lb`; `undefined` for anything else, also for
 * more of the smaller unit than the greater one has.
 */
function inOneUnit(number: string, unit: string): string | undefined {
  const [, great = "", count = "", small = ""] = /^(\p{L}+)\.?\s+(\d+)\s*(\p{L}+)\.?$/u.exec(unit) ?? [];
  const said = SMALLER.find((each) => each.great.test(great) && each.small.test(small));
  if (!said || !/^\d+$/.test(number) || Number(count) >= said.has) return undefined;
  return `${Number(number) + Number(count) / said.has} ${said.unit}`;
}

/** What to write in the place of a unit that there is not: the one that is meant, where that is plain. */
function unitFix(number: string, unit: string, units: Readonly<Record<string, unknown>>, unitWords: string): string {
  const small = unit.toLowerCase().replace(/\.$/, ""),
    meant = [small, SPELT[small]].find((each) => each !== undefined && Object.hasOwn(units, each));
  return meant === undefined ? `Write ${unitWords} after the number` : `Write \`${number} ${meant}\``;
}

/** One number with its unit, for example `7.2 kg`; `otherUnit` stands in when the number has none. */
function readQuantity(text: string, kind: RangeKind, otherUnit?: string): ReadResult<Quantity> {
  const { units, unitWords, value: example } = KINDS[kind];
  const found = /^([-−+]?\d[\d.,]*)\s*(.*)$/.exec(tidy(text));
  if (!found)
    return fail(
      `Unexpected \`${tidy(text)}\`, expected a number with its unit, such as \`${example}\``,
      `Write a number and ${unitWords}`,
    );
  const [, number = "", unit = otherUnit ?? ""] = [found[0], found[1], found[2] || otherUnit];
  if (number.includes(","))
    return fail(
      `Unexpected decimal comma in \`${number}\`, expected a decimal point`,
      `Write \`${number.replace(",", ".")}${unit === "" ? "" : ` ${unit}`}\``,
    );
  if (!new RegExp(`^${NUMBER}$`).test(number))
    return fail(
      `Unexpected number \`${number}\`, expected one such as \`7\` or \`7.2\``,
      "Write the number with digits and at most one decimal point, without a sign",
    );
  if (unit === "") return fail(`The unit of \`${number}\` is missing`, `Write ${unitWords} after the number`);
  const one = Object.hasOwn(units, "kg") ? inOneUnit(number, unit) : undefined;
  if (one !== undefined)
    return fail(
      `Unexpected second unit in \`${number} ${unit}\`, expected one number with one unit`,
      `Write \`${one}\``,
    );
  if (!Object.hasOwn(units, unit))
    return fail(`Unexpected unit \`${unit}\`, expected ${unitWords}`, unitFix(number, unit, units, unitWords));
  const value = scale(number, units[unit]!);
  if (value === undefined)
    return fail(
      `Unexpected number \`${number}\`, expected at most ${MOST_DECIMALS} decimals and ${MOST_DIGITS} digits ` +
        "before the point",
      "Shorten the number: it could not be kept exactly",
    );
  return { ok: true, value: { value, text: `${number} ${unit}` } };
}

/**
 * An exact mass with its unit, in units of 1e-20 kg: `8.2 kg`, `450 g`, `11 lb` (1 lb = 0.45359237 kg exactly, NIST SP
 * 811).
 */
export function parseMass(text: string): ReadResult<Quantity> {
  return readQuantity(text, "weight");
}

/**
 * An exact age with its unit, in units of 1e-16 day: `8 months` (1 week = 7 days, 1 year = 12 months, 1 month =
 * 365.25/12 days).
 */
export function parseAge(text: string): ReadResult<Quantity> {
  return readQuantity(text, "age");
}

/** Kilograms, as near as a number can be, of a mass: `8.2 kg` gives 8.2. */
export function parseKg(text: string): ReadResult<number> {
  const mass = parseMass(text);
  return mass.ok ? { ok: true, value: Number(`${mass.value.value}e-20`) } : (mass as ReadResult<number>);
}

const SIGNS = /[<>≤≥=~≈±]/;
const VAGUE = /\b(about|around|approx(?:imately)?|roughly|circa|ca|nearly|almost)\b/i;

/** Whether the words give numbers without saying who owns an end; the guess is `from … to under …`. */
function readUnclear(text: string, kind: RangeKind): ReadResult<Range> | undefined {
  const { units, example } = KINDS[kind];
  const unit = Object.keys(units)
    .sort((a, b) => b.length - a.length)
    .join("|");
  const value = `(${NUMBER})\\s*(${unit})?`;
  const write = (first: string, second: string) => `from ${first} to under ${second}`;
  const two = new RegExp(
    `^(?:(?:from|over|between)\\s+)?${value}\\s*(?:-|–|—|−|to|until|till|and|\\.\\.+|…)\\s*${value}$`,
    "i",
  ).exec(text);
  if (two) {
    const lastUnit = two[4] ?? two[2] ?? "";
    const first = `${two[1]} ${two[2] ?? lastUnit}`.trim(),
      second = `${two[3]} ${lastUnit}`.trim();
    const over = /^over\s/i.test(text),
      between = /^from|^over/i.test(text);
    const message = between
      ? `\`${text}\` does not say who owns ${second}`
      : `\`${text}\` does not say who owns ${first} and ${second}`;
    const guess = parseRange(write(first, second), kind);
    const begin = over ? "over" : "from";
    const fix =
      `Say whose exactly ${second} is: \`${begin} ${first} up to ${second}\` with it, ` +
      `\`${begin} ${first} to under ${second}\` without it`;
    return fail(message, fix, "bands/unclear", { guess: guess.ok ? guess.value : undefined });
  }
  if (!/\d/.test(text)) return undefined;
  if (SIGNS.test(text)) {
    const below = /[<≤]/.test(text),
      one = new RegExp(value).exec(text);
    const owned = /[≤≥=]/.test(text),
      number = one ? `${one[1]} ${one[2] ?? ""}`.trim() : "5 kg";
    const words = below ? (owned ? `up to ${number}` : `under ${number}`) : owned ? `from ${number}` : `over ${number}`;
    const guess = parseRange(words, kind);
    return fail(
      `\`${text}\` is written with signs, which are easily read the wrong way round`,
      `Write it in words: \`${words}\``,
      "bands/unclear",
      { guess: guess.ok ? guess.value : undefined },
    );
  }
  const vague = VAGUE.exec(text);
  if (vague)
    return fail(
      `\`${vague[0]}\` in \`${text}\` does not say where the band ends`,
      `Write the exact ends, such as \`${example}\``,
      "bands/unclear",
    );
  return undefined;
}

/**
 * A band's weights or ages in the words of the design: `under`, `up to`, `from`, `from … to under`, `from … up to`,
 * `over … to under`, `over … up to`, `… and over`, `over`, `any weight` (`any age`).
 * Fails with `bands/unclear` if the words don't say who owns an end, with `bands/empty` if no value is in the band.
 */
export function parseRange(text: string, kind: RangeKind): ReadResult<Range> {
  const words = tidy(text),
    { any, example } = KINDS[kind];
  if (words.toLowerCase() === any) return { ok: true, value: { text: any } };
  const lower = /^(?:(from|over) (.+?)|(.+?) and over)(?= to under | up to |$)/i.exec(words);
  const isAndOver = lower?.[3] !== undefined;
  const rest = lower && !(isAndOver && lower[0].length < words.length) ? words.slice(lower[0].length).trim() : words;
  const upper =
    rest === "" ? null : (lower && rest !== words ? /^(to under|up to) (.+)$/i : /^(under|up to) (.+)$/i).exec(rest);
  const lowerText = lower && rest !== words ? (lower[2] ?? lower[3]) : undefined;
  if ((lowerText === undefined && !upper) || (rest !== "" && !upper))
    return readUnclear(words, kind) ?? readNoRange(words, kind);
  const upperUnit = upper ? /[a-z]+$/i.exec(upper[2]!)?.[0] : undefined;
  const from = lowerText === undefined ? undefined : readQuantity(lowerText, kind, upperUnit);
  const to = upper ? readQuantity(upper[2]!, kind) : undefined;
  for (const end of [from, to])
    if (end && !end.ok)
      return readUnclear(words, kind) ?? ({ ...end, fix: `${end.fix}, as in \`${example}\`` } as ReadResult<Range>);
  const lowerEnd: End | undefined = from?.ok ? { ...from.value, owned: !/^over /i.test(words) } : undefined;
  const upperEnd: End | undefined = to?.ok ? { ...to.value, owned: /up to/i.test(upper![1]!) } : undefined;
  const said =
    lowerEnd && upperEnd
      ? `${lowerEnd.owned ? "from" : "over"} ${lowerEnd.text} ${upperEnd.owned ? "up to" : "to under"} ${upperEnd.text}`
      : lowerEnd
        ? isAndOver
          ? `${lowerEnd.text} and over`
          : `${lowerEnd.owned ? "from" : "over"} ${lowerEnd.text}`
        : `${upperEnd!.owned ? "up to" : "under"} ${upperEnd!.text}`;
  const range: Range = { ...(lowerEnd ? { from: lowerEnd } : {}), ...(upperEnd ? { to: upperEnd } : {}), text: said };
  if (isEmpty(range)) {
    const turned: Range | undefined =
      lowerEnd && upperEnd && lowerEnd.value > upperEnd.value
        ? {
            from: { ...upperEnd, owned: true },
            to: { ...lowerEnd, owned: false },
            text: `from ${upperEnd.text} to under ${lowerEnd.text}`,
          }
        : undefined;
    const fix = turned
      ? `Write the smaller one first: \`${turned.text}\``
      : lowerEnd
        ? `Write \`from … up to …\` if exactly ${lowerEnd.text} is meant, or another end`
        : "Write an end above zero";
    return fail(`No ${kind} is in \`${words}\``, fix, "bands/empty", { guess: turned });
  }
  return { ok: true, value: range };
}

function readNoRange(words: string, kind: RangeKind): ReadResult<Range> {
  const { any, example, unitWords } = KINDS[kind];
  const bare = readQuantity(words, kind);
  if (bare.ok)
    return fail(
      `\`${words}\` is one ${kind}, expected a band`,
      `Write \`from ${bare.value.text}\`, \`up to ${bare.value.text}\` or the like`,
      "bands/unclear",
    );
  if (!bare.ok && /comma/.test(bare.message)) return bare as ReadResult<Range>;
  return fail(
    `Unexpected \`${words}\`, expected a band such as \`${example}\` or \`${any}\``,
    `Say who owns each end: \`from … to under …\`, \`under …\`, \`up to …\`, \`over …\`, \`… and over\` or ` +
      `\`${any}\`, in ${unitWords}`,
  );
}

function isEmpty({ from, to }: Range): boolean {
  if (!to) return false;
  if (!from) return to.value === 0n && !to.owned;
  return from.value > to.value || (from.value === to.value && !(from.owned && to.owned));
}

/** Number times a power of ten without a rounding of its own. */
function shift(number: string, exponent: number): number {
  return Number(`${number}e${exponent}`);
}

function readMeasure(
  text: string,
  units: Readonly<Record<string, number>>,
  what: string,
  example: string,
  signed: boolean,
): ReadResult<number> {
  const words = tidy(text),
    unitWords = sayList(
      Object.keys(units).map((unit) => `\`${unit}\``),
      "or",
    );
  const found = /^([-+−]?\d[\d.,]*)\s*(.*)$/.exec(words);
  if (!found)
    return fail(
      `Unexpected \`${words}\`, expected a ${what} such as \`${example}\``,
      `Write a number and ${unitWords}`,
    );
  const number = found[1]!,
    unit = found[2]!;
  if (number.includes(","))
    return fail(
      `Unexpected decimal comma in \`${number}\`, expected a decimal point`,
      `Write \`${number.replace(",", ".")}${unit === "" ? "" : ` ${unit}`}\``,
    );
  if (!(signed ? /^-?\d{1,12}(?:\.\d{1,12})?$/ : /^\d{1,12}(?:\.\d{1,12})?$/).test(number))
    return fail(
      `Unexpected number \`${number}\`, expected one such as \`${example.split(" ")[0]}\``,
      `Write the number with digits${signed ? ", a \`-\` before it if it is negative," : ""} and at most one ` +
        "decimal point",
    );
  if (unit === "" && Number(number) === 0) return { ok: true, value: 0 };
  if (unit === "") return fail(`The unit of \`${number}\` is missing`, `Write ${unitWords} after the number`);
  if (!Object.hasOwn(units, unit))
    return fail(`Unexpected unit \`${unit}\`, expected ${unitWords}`, unitFix(number, unit, units, unitWords));
  return { ok: true, value: shift(number, units[unit]!) };
}

/** Millimetres of a length: `820 mm`, `82 cm`, `0.82 m`; may be negative. */
export function parseLength(text: string): ReadResult<number> {
  return readMeasure(text, { mm: 0, cm: 1, m: 3 }, "length", "820 mm", true);
}

/** Newtons of a force: `9 kN`, `900 N`. */
export function parseForce(text: string): ReadResult<number> {
  return readMeasure(text, { N: 0, kN: 3 }, "force", "9 kN", false);
}

/** Litres of gas at 1 bar: `430 l`, `2.3 m³`. */
export function parseLitres(text: string): ReadResult<number> {
  const litres = readMeasure(text, { l: 0, L: 0, "m³": 3 }, "volume", "430 l", false);
  return litres.ok && litres.value === 0
    ? fail("A cylinder of 0 l holds nothing", "Write what a full one holds, such as `430 l`, or remove the field")
    : litres;
}

/** What to write in the place of a duration of which only the unit is spelt otherwise: `10 sec`, `2 mins`. */
function spelt(words: string): string | undefined {
  const [, number, unit] = /^(\d+(?:\.\d+)?)\s*(secs?|seconds?|mins?|minutes?|hrs?|hours?)\.?$/i.exec(words) ?? [];
  if (number === undefined) return undefined;
  const letter = unit![0]!.toLowerCase();
  return `Write \`${number} ${letter === "m" ? "min" : letter}\``;
}

/** Seconds of a duration: `40 s`, `2 min`, `1 min 30 s`, `1 h`. */
export function parseDuration(text: string): ReadResult<number> {
  const words = tidy(text);
  const found =
    /^(?:(\d{1,4}(?:\.\d{1,3})?)\s*h)?\s*(?:(\d{1,6}(?:\.\d{1,3})?)\s*min)?\s*(?:(\d{1,7}(?:\.\d{1,3})?)\s*s)?$/.exec(
      words,
    );
  if (!found || words === "") {
    const fix = /^\d+$/.test(words)
      ? `Write the unit: \`${words} s\` or \`${words} min\``
      : (spelt(words) ?? "Write hours, minutes and seconds as `1 h`, `2 min`, `40 s` or `1 min 30 s`");
    return fail(`Unexpected \`${words}\`, expected a duration such as \`40 s\` or \`1 min 30 s\``, fix);
  }
  const milli = (number: string | undefined) => Math.round(Number(number ?? 0) * 1000);
  return { ok: true, value: (milli(found[1]) * 3600 + milli(found[2]) * 60 + milli(found[3])) / 1000 };
}

/** Whether a text is a day of the calendar as `YYYY-MM-DD` (ISO 8601, extended format): `2026-02-29` is none. */
export function isDate(text: string): boolean {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(text) ? Date.parse(`${text}T00:00:00Z`) : NaN;
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
}

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/**
 * The days that a date in another order can mean, each as `YYYY-MM-DD`: two where day and month can't be told apart
 * (`3/4/2027`), none where there is no such day (`31/2/2027`). `isDay`: whether it has the form of a whole date at all.
 */
function daysMeant(words: string): { readonly meant: readonly string[]; readonly isDay: boolean } {
  const iso = (year: string, month: string | number, day: string) =>
    `${year}-${String(month).padStart(2, "0")}-${day.padStart(2, "0")}`;
  const last = /^(\d{1,2})[./ -](\d{1,2})[./ -](\d{4})$/.exec(words),
    first = /^(\d{4})[./ -](\d{1,2})[./ -](\d{1,2})$/.exec(words),
    named = /^(\d{1,2})\.?[ -]([a-z]{3})[a-z]*\.?[ ,-]+(\d{4})$/i.exec(words);
  const month = named ? MONTHS.indexOf(named[2]!.toLowerCase()) + 1 : 0;
  const all = last
    ? [iso(last[3]!, last[2]!, last[1]!), iso(last[3]!, last[1]!, last[2]!)]
    : first
      ? [iso(first[1]!, first[2]!, first[3]!)]
      : named && month > 0
        ? [iso(named[3]!, month, named[1]!)]
        : [];
  return { meant: [...new Set(all.filter(isDate))], isDay: all.length > 0 };
}

/** A calendar date as `YYYY-MM-DD` (ISO 8601, extended format) that really exists. */
export function parseDate(text: string): ReadResult<string> {
  const words = tidy(text);
  if (isDate(words)) return { ok: true, value: words };
  const found = /^(\d{4})-(\d{2})-\d{2}$/.exec(words);
  if (!found) {
    const { meant, isDay } = daysMeant(words);
    return fail(
      isDay && meant.length === 0
        ? `There is no day \`${words}\``
        : `Unexpected \`${words}\`, expected a date such as \`2026-09-14\``,
      meant.length === 0
        ? "Write year, month and day: `YYYY-MM-DD`"
        : `Write ${meant.map((day) => `\`${day}\``).join(" or ")}` +
            (meant.length > 1 ? ", whichever day is meant: year, month, day" : ""),
    );
  }
  const days = [31, 30, 29, 28].find((day) => isDate(`${found[1]}-${found[2]}-${day}`));
  return fail(
    `There is no day \`${words}\``,
    days === undefined ? "Write a month from 01 to 12" : `Write a day from 01 to ${days}`,
  );
}
