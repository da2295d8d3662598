/**
 * How a language writes numbers, dates and lists (Unicode CLDR, by `Intl`): the only place that asks `Intl` for them.
 * A process speaks one language at a time, that of the collection that it shows; a page in a browser speaks its own.
 * English is written as issued documents have it, and check codes rest on it: no version of CLDR changes it (of British
 * English it has made `Sept` out of `Sep`).
 */
import { onceInProcess } from "./once-in-process.ts";

const now = onceInProcess<{ tag?: string | undefined; capitals?: boolean }>("spoken", () => ({}));

/**
 * Speaks a language (BCP 47) from now on; without one, that of the page, else English. `capitals`: whether names and
 * titles keep their capital within a sentence, as German nouns do (its table says so: `words/languages.ts`).
 */
export function speakIn(tag: string | undefined, capitals = false): void {
  now.tag = tag;
  now.capitals = capitals;
}

/** Whether names and titles keep their capital within a sentence; a page tells its scripts by `data-capitals`. */
export function keepsCapitals(): boolean {
  return now.capitals ?? globalThis.document?.documentElement.hasAttribute("data-capitals") === true;
}

/** The language that is spoken now, as a BCP 47 tag. */
export function spokenLanguage(): string {
  return now.tag ?? (globalThis.document?.documentElement.lang || "en");
}

const isEnglish = (): boolean => /^en\b/i.test(spokenLanguage());

/**
 * The language of what is said in English whatever is spoken, as rules do (WCAG 2.2, 3.1.2: the page says it); nothing
 * where that is English.
 */
export function languageOfRules(): "en" | undefined {
  return isEnglish() ? undefined : "en";
}

const made = new Map<string, unknown>();

/**
 * What `Intl` makes for the language that is spoken. Days are counted as the files write them (ISO 8601: Gregorian),
 * and digits are those of codes, of drawings and of what is typed in, whatever a region prefers; a tag that names
 * others (`-u-nu-arab`, `-u-ca-persian`) has them.
 */
function intl<Made>(kind: string, make: (locale: Intl.Locale) => Made): Made {
  const tag = spokenLanguage(),
    key = `${kind} ${tag}`;
  if (!made.has(key)) {
    const { calendar = "gregory", numberingSystem = "latn" } = new Intl.Locale(tag);
    made.set(key, make(new Intl.Locale(tag, { calendar, numberingSystem })));
  }
  return made.get(key) as Made;
}

/** A plain decimal (`-1204.50`) with the language's own sign and its mark before decimals; all digits are kept. */
export function writeDecimal(plain: string): string {
  if (isEnglish()) return plain;
  const places = plain.split(".")[1]?.length ?? 0,
    digits = { useGrouping: false, minimumFractionDigits: places, maximumFractionDigits: places };
  return intl(`decimal ${places}`, (locale) => new Intl.NumberFormat(locale, digits)).format(
    plain as Intl.StringNumericLiteral,
  );
}

/** A whole number with thousands set apart: `1,260`. */
export function writeFigures(count: number): string {
  return intl("figures", (locale) => new Intl.NumberFormat(isEnglish() ? "en-GB" : locale)).format(count);
}

/** A day `YYYY-MM-DD`, its month in letters, so that no one reads 03/04 the wrong way round: `14 Sep 2026`. */
export function writeDate(day: string): string {
  const [year, month, date] = day.split("-").map(Number) as [number, number, number];
  if (isEnglish()) return `${date} ${writeMonth(month)} ${year}`;
  return intl("date", (locale) => {
    const format = (length: "short" | "long") =>
      new Intl.DateTimeFormat(locale, { day: "numeric", month: length, year: "numeric", timeZone: "UTC" });
    // Finnish is short by figures alone.
    return /\p{L}/u.test(format("short").format(0)) ? format("short") : format("long");
  }).format(Date.UTC(year, month - 1, date));
}

/** A month, from 1 on, as it stands by itself: `Sep`. */
export function writeMonth(month: number): string {
  if (isEnglish()) return "JanFebMarAprMayJunJulAugSepOctNovDec".slice(3 * month - 3, 3 * month);
  return intl("month", (locale) => new Intl.DateTimeFormat(locale, { month: "short", timeZone: "UTC" })).format(
    Date.UTC(2026, month - 1, 15),
  );
}

/** The hour of a moment where this runs, by twenty-four: `07:40`. */
export function writeHour(moment: Date | number): string {
  return intl(
    "hour",
    (locale) => new Intl.DateTimeFormat(locale, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }),
  ).format(moment);
}

/** The time of a moment where this runs, to the second: `07:40:09`. */
export function writeTime(moment: Date | number): string {
  return intl(
    "hands",
    (locale) =>
      new Intl.DateTimeFormat(locale, { hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" }),
  ).format(moment);
}

/** Words in a row: `a, b and c`, or with `or`. */
export function writeList(words: readonly string[], joint: "and" | "or"): string {
  const type = joint === "and" ? "conjunction" : "disjunction";
  return intl(joint, (locale) => new Intl.ListFormat(isEnglish() ? "en-GB" : locale, { type })).format(words);
}
