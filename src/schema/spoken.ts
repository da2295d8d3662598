/**
 * How a language writes numbers, dates and lists (Unicode CLDR, by `Intl`): the only place that asks `Intl` for them.
 * A process speaks one language at a time, that of the collection that it shows; a page in a browser speaks its own.
 */

/** Numbers, days, hours and lists as one language writes them. */
interface Spoken {
  /** A plain decimal (`-1204.50`) with the language's own sign and its mark before decimals; all digits are kept. */
  readonly decimal: (plain: string) => string;
  /** A whole number with thousands set apart: `1,260`. */
  readonly figures: (count: number) => string;
  /** A day `YYYY-MM-DD`, its month in letters: `14 Sep 2026`. */
  readonly date: (day: string) => string;
  /** A month, from 1 on, as it stands by itself: `Sep`. */
  readonly month: (month: number) => string;
  /** The hour of a moment where this runs: `07:40`. */
  readonly hour: (moment: Date | number) => string;
  /** Words in a row: `a, b and c`. */
  readonly list: (words: readonly string[], joint: "and" | "or") => string;
}

const known = new Map<string, Spoken>();

// The pages are bundled apart from what builds them, so this file is there twice; both speak the same language.
const KEY = Symbol.for("rerig.spoken");
type Holder = { [KEY]?: string | undefined };

/** Speaks a language (BCP 47) from now on; without one, that of the page, else English. */
export function speakIn(tag: string | undefined): void {
  (globalThis as Holder)[KEY] = tag;
}

/** The language that is spoken now, as a BCP 47 tag. */
export function spokenLanguage(): string {
  return (globalThis as Holder)[KEY] ?? (globalThis.document?.documentElement.lang || "en");
}

/** How the language writes that is spoken now. */
export function spoken(): Spoken {
  return spokenFor(spokenLanguage());
}

/** How a language writes (BCP 47). */
export function spokenFor(tag: string): Spoken {
  const before = known.get(tag);
  if (before) return before;
  const locale = localeOf(tag),
    made = locale.language === "en" ? ENGLISH : fromIntl(locale);
  known.set(tag, made);
  return made;
}

/**
 * Days are counted as the files write them (ISO 8601: Gregorian), and digits are those of codes, of drawings and of
 * what is typed in, whatever a region prefers; a tag that names others (`-u-nu-arab`, `-u-ca-persian`) has them.
 */
function localeOf(tag: string): Intl.Locale {
  const { calendar = "gregory", numberingSystem = "latn" } = new Intl.Locale(tag);
  return new Intl.Locale(tag, { calendar, numberingSystem });
}

const listsOf = (locale: Intl.LocalesArgument) => {
  const and = new Intl.ListFormat(locale, { type: "conjunction" }),
    or = new Intl.ListFormat(locale, { type: "disjunction" });
  return (words: readonly string[], joint: "and" | "or") => (joint === "and" ? and : or).format(words);
};

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const HOUR = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" } as const;
const partsOf = (day: string) => day.split("-").map(Number) as [number, number, number];

/**
 * English of every region, as issued documents say it and check codes rest on it: no version of CLDR changes it (of
 * British English it has made `Sept` out of `Sep`).
 */
const ENGLISH: Spoken = {
  decimal: (plain) => plain,
  figures: (count) => new Intl.NumberFormat("en-GB").format(count),
  date: (day) => {
    const [year, month, date] = partsOf(day);
    return `${date} ${MONTHS[month - 1]} ${year}`;
  },
  month: (month) => MONTHS[month - 1]!,
  hour: (moment) => new Intl.DateTimeFormat("en-GB", HOUR).format(moment),
  list: listsOf("en-GB"),
};

function fromIntl(locale: Intl.Locale): Spoken {
  const datesWith = (month: "short" | "long") =>
    new Intl.DateTimeFormat(locale, { day: "numeric", month, year: "numeric", timeZone: "UTC" });
  // Finnish is short by figures alone, which is what must not be: 3.4. is read the wrong way round by whoever is not.
  const short = datesWith("short"),
    dates = /\p{L}/u.test(short.format(0)) ? short : datesWith("long"),
    months = new Intl.DateTimeFormat(locale, { month: "short", timeZone: "UTC" }),
    hours = new Intl.DateTimeFormat(locale, HOUR),
    whole = new Intl.NumberFormat(locale);
  /** For each number of decimals that a number has, how it is written with all of them. */
  const decimals: Intl.NumberFormat[] = [];
  return {
    decimal: (plain) => {
      const places = plain.split(".")[1]?.length ?? 0;
      return (decimals[places] ??= new Intl.NumberFormat(locale, {
        useGrouping: false,
        minimumFractionDigits: places,
        maximumFractionDigits: places,
      })).format(plain as Intl.StringNumericLiteral);
    },
    figures: (count) => whole.format(count),
    date: (day) => {
      const [year, month, date] = partsOf(day);
      return dates.format(Date.UTC(year, month - 1, date));
    },
    month: (month) => months.format(Date.UTC(2026, month - 1, 15)),
    hour: (moment) => hours.format(moment),
    list: listsOf(locale),
  };
}
