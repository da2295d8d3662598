/**
 * Ranks pages for a query by title, code and other names, and finds what a misspelt word was meant to be. Full text
 * comes from the index.
 */
import { distance } from "fastest-levenshtein";

/** What is known of a page beside its text. */
export interface FindEntry {
  /** Address in the site, without a leading `/`. */
  readonly address: string;
  readonly title: string;
  /** Procedure, Configuration, Card, Item …: as the page says. */
  readonly kind: string;
  readonly platform?: string;
  readonly code?: string;
  /** Who acts on the page, in the service's names. */
  readonly who?: readonly string[];
  readonly critical?: boolean;
  /** What the page is not in force as, in words: `draft`, `withdrawn`; absent of what is in force. */
  readonly standing?: string;
  /** Other names and words that are not on the page. */
  readonly words?: readonly string[];
}

/** What narrows a search; absent: nothing. */
export interface FindFilters {
  readonly platform?: string;
  readonly who?: string;
  readonly kind?: string;
  readonly critical?: boolean;
}

/** Words that say nothing about what is wanted. */
const EMPTY = new Set(
  (
    "a an and are at by can do does for from get give go has have how i in into is it my of on or out put " +
    "should so that the their them then there this to up use was we what when where which who why with you your"
  ).split(" "),
);
/** Kinds that a crew wants first when all else is equal. */
const KIND_WORTH: Readonly<Record<string, number>> = {
  Procedure: 7,
  Configuration: 8,
  Item: 6,
  Option: 5,
  Place: 5,
  Card: 4,
  Changeover: 3,
  Reading: 4,
  Page: 4,
  Study: 1,
  History: 0,
};

/**
 * Pages about a document, or about the program: history and notices, forms, old cards, rules. Whatever else answers
 * stands before them, unless a word asks for one of them.
 */
const BEHIND: Readonly<Record<string, ReadonlySet<string>>> = {
  History: new Set(
    stemsOf("change difference happened history incident issue near-miss new notice old revision what's"),
  ),
  Study: new Set(stemsOf("assessor form learn lesson path practise practice question quiz sign signoff study")),
  Form: new Set(stemsOf("assessor form record")),
  "Check code": new Set(stemsOf("code edition old replaced")),
  Rule: new Set(stemsOf("error finding policy rule wording")),
};

/** Plain English words that a searcher may use for one another; a match through them counts half. */
const FAMILIES: readonly (readonly string[])[] = [
  ["fit", "seat", "mount", "attach", "install", "put", "place"],
  ["remove", "unseat", "detach", "dismount", "lift", "take", "off"],
  ["failed", "broken", "fault", "faulty", "dead", "stopped"],
  ["check", "test", "inspect", "confirm"],
  ["clean", "wipe", "wash"],
  ["change", "replace", "swap", "exchange"],
  ["strap", "buckle", "belt", "restrain"],
  ["load", "roll", "push"],
  ["baby", "newborn", "infant", "neonate"],
  ["ambulance", "vehicle", "helicopter", "aircraft"],
];

/** Lower case, without accents; letters and digits only. */
export function searchWords(text: string): string[] {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[’']s\b/g, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);
}

/** The query's words that say something; all of them if none does. */
export function queryWords(query: string): string[] {
  const all = searchWords(query),
    telling = all.filter((word) => !EMPTY.has(word));
  return telling.length ? telling : all;
}

/** A word without its usual English endings, so that `straps`, `strapped` and `strapping` meet. */
export function stemOf(word: string): string {
  if (word.length < 4 || /\d/.test(word)) return word;
  const bare = word
    .replace(/(ies)$/, "y")
    .replace(/(?<=[sxz]|ch|sh)es$/, "")
    .replace(/(?<![su])s$/, "")
    .replace(/(?<=\w{3})(ing|ed)$/, "");
  return bare.replace(/([bdfglmnprt])\1$/, "$1").replace(/(?<=\w{3})e$/, "");
}

/** The stems of words that are written in a row. */
function stemsOf(words: string): string[] {
  return searchWords(words).map(stemOf);
}

const familiesByStem = new Map(FAMILIES.flatMap((family, at) => family.map((word) => [stemOf(word), at] as const)));

/** Whether the entry passes the filters. */
function passes(entry: FindEntry, { platform, who, kind, critical }: FindFilters): boolean {
  return (
    (!platform || entry.platform === platform) &&
    (!who || (entry.who ?? []).includes(who)) &&
    (!kind || entry.kind === kind) &&
    (!critical || entry.critical === true)
  );
}

/** How well title, code and other names answer the words; 0 if nothing does. */
function scoreEntry(entry: FindEntry, words: readonly string[]): number {
  const code = scoreCode(entry.code, words);
  const title = searchWords(entry.title),
    others = (entry.words ?? []).flatMap(searchWords);
  let sum = 0,
    met = 0;
  const used = new Set<string>();
  for (const word of words) {
    const inTitle = bestMatch(word, title, 30, used),
      inOthers = bestMatch(word, others, 13);
    const best = Math.max(
      inTitle,
      inOthers,
      searchWords(entry.kind).includes(stemOf(word)) || searchWords(entry.kind).includes(word) ? 12 : 0,
    );
    sum += best;
    if (best > 0) met += 1;
  }
  if (met === 0) return code;
  const share = met / words.length;
  return (
    code +
    sum * share ** 2 +
    (title.length ? 16 * (used.size / title.length) : 0) * share +
    (KIND_WORTH[entry.kind] ?? 2)
  );
}

/** Best match of a word among others: equal, same stem, or beginning with it. */
function bestMatch(word: string, among: readonly string[], worth: number, used?: Set<string>): number {
  let best = 0,
    which = "";
  for (const other of among) {
    const value =
      other === word
        ? worth
        : stemOf(other) === stemOf(word)
          ? worth * 0.9
          : word.length >= 3 && other.startsWith(word)
            ? worth * 0.6
            : isKin(word, other)
              ? worth * 0.5
              : 0;
    if (value > best) [best, which] = [value, other];
  }
  if (best > 0) used?.add(which);
  return best;
}

function isKin(word: string, other: string): boolean {
  const one = familiesByStem.get(stemOf(word)),
    two = familiesByStem.get(stemOf(other));
  return one !== undefined && one === two;
}

/** A score that only a code reaches: who types one asks for just that page, be it a draft or an old card. */
const CODE_MET = 400;
/** Histories and forms carry the code of what they are about. */
const hasOwnCode = ({ kind }: FindEntry): boolean => kind !== "History" && kind !== "Form";

/** A code is met whole, or by its last parts (`T-02`), however it is punctuated. */
function scoreCode(code: string | undefined, words: readonly string[]): number {
  const asked = words.join("");
  if (!code || !/\d/.test(asked)) return 0;
  const parts = searchWords(code),
    whole = parts.join("");
  if (whole === asked) return 1000;
  return parts.some((_, at) => at > 0 && parts.slice(at).join("") === asked) ? CODE_MET : 0;
}

/**
 * Entries that answer the query, best first, with their scores. `fullText` holds addresses in the order of the index,
 * which count too.
 */
export function rankEntries(
  entries: readonly FindEntry[],
  query: string,
  filters: FindFilters,
  otherNames: Readonly<Record<string, readonly string[]>>,
  fullText: readonly string[] = [],
): { readonly entry: FindEntry; readonly score: number }[] {
  const readings = withOtherNames(query, otherNames)
    .map(queryWords)
    .filter((words) => words.length > 0);
  const asked = stemsOf(query);
  const isBehind = ({ kind }: FindEntry) =>
    BEHIND[kind] !== undefined && !asked.some((stem) => BEHIND[kind]!.has(stem));
  // What is not in force may be all that there is for the words; it gives way to what is.
  const givesWay = ({ standing }: FindEntry) => (standing === undefined ? 1 : 0.5);
  const place = new Map(fullText.map((address, at) => [address, at]));
  return entries
    .filter((entry) => passes(entry, filters))
    .flatMap((entry) => {
      const named = Math.max(0, ...readings.map((words, at) => scoreEntry(entry, words) * (at === 0 ? 1 : 0.95)));
      const at = place.get(entry.address);
      const score = named + (at === undefined ? 0 : 26 / (1 + at * 0.3) + (KIND_WORTH[entry.kind] ?? 2) / 2);
      if (score <= 0) return [];
      const isCode = hasOwnCode(entry) && score >= CODE_MET;
      return [{ entry, score: isCode ? score : score * givesWay(entry), behind: isBehind(entry) && !isCode }];
    })
    .sort(
      (a, b) => Number(a.behind) - Number(b.behind) || b.score - a.score || (a.entry.title < b.entry.title ? -1 : 1),
    )
    .map(({ entry, score }) => ({ entry, score }));
}

/** The query, and the query with other names turned into the service's own word. */
export function withOtherNames(query: string, otherNames: Readonly<Record<string, readonly string[]>>): string[] {
  const spaced = ` ${searchWords(query).join(" ")} `;
  const turned = Object.entries(otherNames).flatMap(([own, others]) =>
    others.flatMap((other) => {
      const plain = searchWords(other).join(" ");
      return [plain, `${plain}s`]
        .filter((form) => spaced.includes(` ${form} `))
        .map((form) => spaced.replace(` ${form} `, ` ${own} `).trim());
    }),
  );
  return [query, ...new Set(turned)];
}

/**
 * The words of the query that stand nowhere in the site, in no form, and begin no word of it: whoever asks for one is
 * told so, whatever else is shown. Words that the service has another word for, and those that say nothing, are known.
 */
export function unknownWords(
  query: string,
  known: ReadonlyMap<string, number>,
  otherNames: Readonly<Record<string, readonly string[]>> = {},
): string[] {
  const others = new Set(Object.entries(otherNames).flatMap(([own, names]) => [own, ...names].flatMap(searchWords)));
  const stems = new Set([...known.keys(), ...others].map(stemOf));
  return queryWords(query).filter(
    (word) =>
      !EMPTY.has(word) &&
      !/\d/.test(word) &&
      !known.has(word) &&
      !others.has(word) &&
      !familiesByStem.has(stemOf(word)) &&
      !stems.has(stemOf(word)) &&
      ![...known.keys(), ...others].some((other) => other.startsWith(word)),
  );
}

/**
 * The query with every unknown word replaced by the nearest known one; `undefined` if nothing was replaced. One slip in
 * words of up to six letters (two neighbours that changed places are one), two in longer ones, three in words over
 * nine; the commoner word wins between equals. `known` is word -> how often it stands in the site.
 */
export function correctQuery(query: string, known: ReadonlyMap<string, number>): string | undefined {
  const stems = new Set([...known.keys()].map(stemOf));
  let changed = false;
  const corrected = searchWords(query).map((word) => {
    if (
      EMPTY.has(word) ||
      word.length < 4 ||
      /\d/.test(word) ||
      known.has(word) ||
      familiesByStem.has(stemOf(word)) ||
      stems.has(stemOf(word)) ||
      [...known.keys()].some((other) => other.startsWith(word))
    )
      return word;
    // A short word with two slips is another word: `ounces` is not `once`, nor `twins` `this`.
    const most = word.length <= 6 ? 1 : word.length <= 9 ? 2 : 3;
    let best = word,
      least = most + 1,
      often = 0;
    for (const [other, count] of known) {
      if (Math.abs(other.length - word.length) > most || /\d/.test(other)) continue;
      const far = isSwapped(word, other) ? 1 : distance(word, other);
      // People rarely miss the first letter: with another one, a single slip is all that is believed.
      if (far > 1 && other[0] !== word[0]) continue;
      if (far < least || (far === least && far <= most && count > often)) [best, least, often] = [other, far, count];
    }
    if (best !== word) changed = true;
    return best;
  });
  return changed ? corrected.join(" ") : undefined;
}

/** Whether two words differ only by two neighbouring letters that changed places. */
function isSwapped(word: string, other: string): boolean {
  if (word.length !== other.length) return false;
  const at = [...word].findIndex((letter, index) => letter !== other[index]);
  return (
    at >= 0 && word[at] === other[at + 1] && word[at + 1] === other[at] && word.slice(at + 2) === other.slice(at + 2)
  );
}
