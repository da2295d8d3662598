/**
 * Ranks pages for a query by title, code, other names, steps and what they are for, and finds what a misspelt word was
 * meant to be. The rest of their text comes from the index.
 */
import { distance } from "fastest-levenshtein";
import { remember } from "../words/remember.ts";

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
  /** Whether it is withdrawn: what is kept only so that nobody writes it again. */
  readonly gone?: true;
  /** Other names and words that are not on the page. */
  readonly words?: readonly string[];
  /** What the page is for, in a sentence. */
  readonly about?: string;
  /** Whether the page answers a weight with an arrangement. */
  readonly chooses?: true;
  /** Whether the page says what words mean. */
  readonly defines?: true;
  /** Whether the page says what was changed while somebody was away. */
  readonly catchesUp?: true;
  /** What is written as a page of the guide says. */
  readonly writes?: readonly string[];
  /** The kilograms that an arrangement or a procedure is for: from the first to under the second, if there is one. */
  readonly weights?: readonly [from: number, under?: number];
  /** Whether its steps differ by the patient's age. */
  readonly byAge?: true;
  /** Addresses of what the page is made of: the arrangement that is left and the other, a card's, a form's document. */
  readonly of?: readonly string[];
  /** Address of an option -> address and title of the card with it. */
  readonly fitted?: Readonly<Record<string, readonly [address: string, title: string]>>;
  /** Its steps: the place in the page, the instruction, and what else is said there. */
  readonly parts?: readonly FindPart[];
}

/** A step as search knows it: the place in the page, the instruction, and what else is said there. */
export type FindPart = readonly [anchor: string, text: string, more?: string];

/** A page that answers. */
interface Found {
  readonly entry: FindEntry;
  readonly score: number;
  /** Whether one place has all of the words: the title with the names, or these and one step. */
  readonly whole: boolean;
  /** The share of what the words tell that stands there, at most. */
  readonly covered: number;
  /** The step that answers better than the page's title alone. */
  readonly part?: FindPart;
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
  searchWords(`
    a after all an and any are at be before by can cant could do does doesnt dont during for from get give go goes
    had has have how hows i if in into is isnt it its just me my need no not of on or our out please put should show
    so some tell that the their them then there they this to up us use want was we were what whats when where wheres
    which who why will with wont would you your also am been being but did done getting going got if let like now ok
    really than thing things using via yet about again each every he her him his himself herself many much myself
    one our ourselves she something someone somebody anything anyone anybody these those too very yourself themselves
    onto either neither else stuff underneath beneath besides
    ones know knows known bit bits till until unless although though because whether maybe perhaps actually anymore
    shall may might must cannot didnt wasnt werent arent couldnt shouldnt wouldnt hasnt havent hadnt im ive weve whos
    whats thats theres theyre hi hello please pls thanks
    year years month months week weeks today
    location located whereabouts exactly roughly approximately nearly almost precisely
  `),
);
/**
 * Qualities and deeds that are said of anything: where one of them stands nowhere, the thing that it is said of may be
 * here all the same. Mostly the qualities of Basic English (Ogden 1930, written down from memory).
 */
const GENERAL: ReadonlySet<string> = new Set(
  searchWords(`
  able alone angry apart asleep automatic awake awkward bad bent better best big bitter black blue bottom bright
  broken brown calm careful certain cheap clean clear close cold common complete correct cracked crooked cut damp
  dark dead deep delicate different difficult dirty dry dull early easy electric empty equal extra false far fast
  fat female few final fine first fixed flat foolish free fresh frequent full funny general good great green grey
  grown happy hard healthy heavy high hollow hot huge ill important large last late left light little long loose
  lost loud low main male manual medical mixed narrow natural near necessary new next noisy normal odd old only open
  opposite ordinary other own past physical plain poor possible present private probable proper public quick quiet
  ready red regular right rough round sad safe same second separate serious sharp short shut sick silent simple
  single slow small smelly smooth soft solid special spare standard sticky stiff straight strange strong stuck
  sudden tall temporary thick thin tight tiny tired together top torn total true ugly upside urgent usual violent
  warm weak wet white whole wide wrong yellow young answer appear ask become begin bend bring build buy call carry
  catch check choose come cover drag drop end fail fall feel fetch find finish fit fold follow forget grab grow
  handle hang happen hear help hit hold join keep know lay lead learn leave lie lift load look lose manage mean meet
  miss move open pack pass pick place pull push put reach read receive remember remove replace return ride roll run
  say see seem sell send set shake share show shut sit slide slip sort spill split stand start stay stick stop swap
  switch take talk teach tear think throw tie touch try turn twist understand use wait walk want wash watch wear
  work write given gave taken took made went came gone done agree allow showing mean day hour
  hr hrs min mins minute enough
`).map(stemOf),
);

/** Points of each kind, fitted with the others: what crews want of it when all else is equal. */
const KIND_WORTH: Readonly<Record<string, number>> = {
  Option: 22,
  Procedure: 15,
  Configuration: 13,
  Item: 6,
  Reading: 10,
  Page: 9,
  Changeover: -3,
  Fastening: -11,
  Place: -8,
  Form: -12,
  Card: -19,
  History: -20,
  "Check code": -106,
};

/**
 * Pages about a document, or about the program: history and notices, forms, old cards, rules. Whatever else answers
 * stands before them, unless a word asks for one of them.
 */
const BEHIND: Readonly<Record<string, ReadonlySet<string>>> = {
  // Not `change`: who types it has something to change.
  History: wordSet(
    "changed",
    "changes",
    "difference",
    "differences",
    "history",
    "incident",
    "near-miss",
    "notice",
    "notices",
    "old",
    "revision",
    "revisions",
  ),
  Form: wordSet("assessor", "form", "forms", "record", "records", "sign", "signed", "signoff"),
  "Check code": wordSet("code", "codes", "edition", "old", "replaced"),
  Rule: wordSet("error", "errors", "finding", "findings", "policy", "rule", "rules", "wording"),
};

/** Whether a page stands behind others unless it is asked for. */
export function isBehind({ kind }: FindEntry): boolean {
  return BEHIND[kind] !== undefined;
}

/** Plain English words that a searcher may use for one another; a match through them counts about half. */
const FAMILIES: readonly (readonly string[])[] = [
  ["fit", "seat", "mount", "attach", "install", "place", "setup"],
  ["remove", "unseat", "detach", "dismount", "undo", "undress", "strip"],
  ["stow", "store"],
  ["failed", "broken", "fault", "faulty", "dead", "died", "stopped"],
  ["check", "test", "inspect", "confirm", "prove"],
  ["clean", "wipe", "wash", "disinfect", "tidy"],
  ["change", "replace", "swap", "exchange"],
  ["strap", "buckle", "belt", "seatbelt", "restrain", "secure", "fasten"],
  ["lay", "strap"],
  ["load", "push"],
  ["baby", "newborn", "infant", "neonate", "preterm", "prem", "premature"],
  ["child", "toddler", "kid", "boy", "girl", "schoolchild", "pupil"],
  ["patient", "adult", "casualty", "person", "teenager", "teen", "adolescent", "man", "woman"],
  ["ambulance", "vehicle", "car", "van"],
  ["helicopter", "chopper", "aircraft", "plane"],
  ["run", "mission", "job", "transfer"],
  ["stuck", "jammed", "blocked"],
  ["spare", "extra", "another", "backup", "reserve"],
  ["daily", "morning", "shift", "readiness"],
  ["cold", "freezing", "frozen"],
  ["cold", "warm", "heated"],
  ["hot", "warm", "heat", "heater"],
  ["leak", "hiss"],
  ["loose", "rock", "wobble"],
  ["kilogram", "kilo", "kg", "kgs"],
  ["pound", "lb", "lbs"],
  ["lid", "cover", "canopy", "hood"],
  ["valve", "tap"],
  ["maker", "manufacturer"],
  ["phone", "call", "radio"],
  ["learn", "study", "lesson", "train"],
];

/** Small numbers in words, from one on. */
const COUNTED = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** A text with small numbers before a unit of weight or age in figures: `two year old` is `2 year old`. */
function inFigures(text: string): string {
  return text.replace(
    new RegExp(`\\b(${COUNTED.join("|")})(?=[\\s-]+(?:kilo|kg|pound|lb|day|week|month|year)s?\\b)`, "gi"),
    (word) => String(COUNTED.indexOf(word.toLowerCase()) + 1),
  );
}

/** Weights and ages as people write them, each with the word that it is where nothing else is asked. */
const MEASURES: readonly (readonly [RegExp, string])[] = [
  [/\b\d+(?:[.,]\d+)?\s*(?:kg|kgs|kilos?|kilograms?|lbs?|pounds?|oz|ounces?|g|grams?)\b/gi, " weight "],
  [/\b\d+[\s-]*(?:days?|weeks?|months?|mo|years?|yrs?|yo)(?:[\s-]*olds?)?\b/gi, " age "],
];

/** What a query asks for beside its telling words, the pages that answer that, and their points for it. */
const CUES: readonly (readonly [typed: RegExp, answers: (entry: FindEntry) => boolean, points: number])[] = [
  [/\b(?:where|wheres|find|kept|lives?|stored)\b/, ({ kind }) => kind === "Item" || kind === "Place", 38],
  [/\b(?:how many|spares?)\b/, ({ kind }) => kind === "Item", 25],
  [/^(?:(?:so|hi|hello|ok|please) )*how (?:do|does|to|can|should|would) /, ({ kind }) => kind === "Procedure", 14],
  [
    /\b(?:won ?t|doesn ?t|isn ?t|can ?t|not|stuck|jammed|half|came|loose|showing|still|keeps?)\b/,
    ({ kind }) => kind === "Fastening",
    15,
  ],
  // What touches a thing stands on the thing's own page.
  [
    /\b(?:procedures?|steps?|cards?|arrangements?|what) (?:that )?(?:uses?|touch(?:es)?)\b|\b(?:affect(?:s|ed)?|depends?) (?:on|by|if)\b/,
    ({ kind }) => kind === "Item",
    60,
  ],
  [/\b(?:weighs?|heavy|mass)\b/, ({ kind }) => kind === "Item" || kind === "Configuration", 77],
  [/\b(?:means?|meaning|words?|what is an? \w+$)\b/, ({ defines }) => defines === true, 54],
];

/** Deeds that are said in two words: the one word that titles begin with. */
const PHRASES: readonly (readonly [RegExp, string])[] = [
  [/^(?:put )?(.+) on$/, "fit $1"],
  [/^(?:take |get |lift )?(.+) off$/, "remove $1"],
  [/^put (.+) away$/, "stow $1"],
  [/^(?:get|take|roll) (.+) out of (.+)$/, "unload $1 $2"],
];

/** Lower case, without accents; letters and digits only. `won't` is one word, and of `I've` only `I` is kept. */
export function searchWords(text: string): string[] {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/n[’']t\b/g, "nt")
    .replace(/[’'](?:s|ve|re|ll|m|d)\b/g, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter(Boolean);
}

/** A text as its words alone. */
function plain(text: string): string {
  return searchWords(text).join(" ");
}

/** The query's words that say something; all of them if none does. */
export function queryWords(query: string): string[] {
  const read = (how: (word: string) => string) => [
    ...new Set(
      searchWords(MEASURES.reduce((text, [measure, word]) => text.replace(measure, how(word)), inFigures(query))),
    ),
  ];
  const isTelling = (word: string) => !EMPTY.has(word);
  // Whose weight it is tells nothing of what is asked beside it.
  const beside = read(() => " ").filter(isTelling);
  if (beside.length > 0) return beside;
  const all = read((word) => word),
    telling = all.filter(isTelling);
  return telling.length ? telling : all;
}

/** Whether a word says nothing about what is wanted. */
export function isFiller(word: string): boolean {
  return EMPTY.has(word);
}

/** A text without the times and ages in it. */
export function agesApart(text: string): string {
  return inFigures(text).replace(MEASURES[1]![0], " ");
}

/** Whether a text has an age, or a time, in it. */
export function hasAge(text: string): boolean {
  return agesApart(text) !== inFigures(text);
}

/** The first weight in a query, as it was typed: `3.2kg`, `8 lb 9 oz`; `undefined` if it has none. */
export function weightIn(typed: string): string | undefined {
  const [weight] = MEASURES[0]!,
    query = inFigures(typed),
    found = [...query.matchAll(weight)];
  const [first, second] = found;
  if (!first) return undefined;
  // Pounds and ounces are one weight.
  const isOne = second && /^\s*$/.test(query.slice(first.index + first[0].length, second.index));
  return query.slice(first.index, isOne ? second.index + second[0].length : first.index + first[0].length);
}

/**
 * Points from which a page answers for sure, from which it does where a thing is asked of beside the weight, and from
 * which it does at all where a word of few is unknown.
 */
const SURE = 100,
  LIKELY = 75,
  ENOUGH = 60,
  FEW_WORDS = 3,
  /** What is too little however long the query, where one of its things stands nowhere. */
  LITTLE = 36;

/** What a page has too few points with that has not two thirds of what some words tell, in one place. */
const STREWN = 45,
  MOST_STREWN = 4,
  TWO_THIRDS = 2 / 3;

/**
 * Whether the best page has too little of a short query to be shown for it: where one of its things stands nowhere on
 * the site, or both do and never together, or no page says most of it in one place. `found`: best first. The bounds are
 * those that told the queries in `tests/search` best from what is not there.
 */
export function isTooLittle(
  query: string,
  unknown: readonly string[],
  found: readonly Pick<Found, "score" | "whole" | "covered">[],
): boolean {
  const words = queryWords(query),
    isThing = (word: string) => isWord(word) && !isGeneral(word);
  const [best] = found,
    first = found.slice(0, 3);
  if (best === undefined || best.score >= ENOUGH) return false;
  // Two things that are nowhere said together are a third one, which is not here: `neck collar`.
  const isOther = words.length === 2 && words.every(isThing) && !found.some(({ whole }) => whole);
  const isStrewn =
    words.length > 1 &&
    words.length <= MOST_STREWN &&
    best.score < STREWN &&
    !first.some(({ whole, covered }) => whole || covered >= TWO_THIRDS);
  return isOther || isStrewn || ((words.length <= FEW_WORDS || best.score < LITTLE) && unknown.some(isThing));
}

/** Kinds of page that are right for some weights only: none of them answers a weight before the page that chooses. */
const OF_AN_ARRANGEMENT: ReadonlySet<string> = new Set(["Configuration", "Option", "Card", "Changeover", "Check code"]);

/**
 * The results of a query with a weight in it: the page that chooses by weight comes first if what answers best has
 * fewer points than `least` (`pointsBeforeChooser`), or belongs to one arrangement, else second. `found` are the
 * others, best first.
 */
export function withChooser<T extends Pick<Found, "entry" | "score">>(
  found: readonly T[],
  chooser: readonly T[],
  least: number,
): readonly T[] {
  const others = found.filter(({ entry }) => !entry.chooses),
    [best] = others,
    before = !best || best.score < least || OF_AN_ARRANGEMENT.has(best.entry.kind) ? 0 : 1;
  return [...others.slice(0, before), ...chooser, ...others.slice(before)];
}

/** Whether a query has only numbers beside its weight, and words that are said of anything and stand nowhere. */
export function isOfWeightAlone(query: string, isUnknown: (word: string) => boolean): boolean {
  return queryWords(query).every((word) => /^\d+$/.test(word) || (isUnknown(word) && isGeneral(word)));
}

/** Of words that stand nowhere, those that name a thing or a deed: no quality, nobody who is carried, no shortening. */
export function unknownThings(query: string, unknown: readonly string[]): string[] {
  return queryWords(query).filter(
    (word) => unknown.includes(word) && isWord(word) && !isGeneral(word) && !WHOM.has(stemOf(word)),
  );
}

/** Words for somebody who is carried. */
const WHOM = new Set(["baby", "child", "patient", "age", "weight"].map(stemOf));

/** Whether a word is one for somebody who is carried, or means the same. */
function isPerson(word: string): boolean {
  const stem = stemOf(word);
  return WHOM.has(stem) || [...(kinOf.get(stem) ?? [])].some((kin) => WHOM.has(kin));
}

/** Whether a query has somebody's age, and nothing is asked beside it. */
export function isOfAgeAlone(query: string, isUnknown: (word: string) => boolean): boolean {
  const isSomebodys = /\bolds?\b|\dyo\b/i.test(query) || searchWords(agesApart(query)).some(isPerson);
  return hasAge(query) && isSomebodys && pointsBeforeChooser(query, isUnknown) === Infinity;
}

/** What is chosen for a weight, where a query asks which. */
const CHOSEN: ReadonlySet<string> = new Set(["arrangement", "configuration", "restraint", "seat", "setup"].map(stemOf));

/**
 * The points with which a page comes before the one that chooses by the query's weight: none do where nothing else is
 * asked (its words are a person's, or unknown), fewer are enough where a thing is asked of beside it.
 */
export function pointsBeforeChooser(query: string, isUnknown: (word: string) => boolean): number {
  const isWhich = /\b(?:which|what)\b/i.test(query);
  const beside = queryWords(query).filter((word) => {
    const isChosen = isWhich && CHOSEN.has(stemOf(word));
    return !(isUnknown(word) || /^\d+$/.test(word) || isPerson(word) || isChosen);
  });
  if (beside.length === 0) return Infinity;
  return beside.every(isGeneral) ? SURE : LIKELY;
}

/** A word without its usual English endings, so that `straps`, `strapped` and `strapping` meet. */
export function stemOf(word: string): string {
  if (word.length < 4 || /\d/.test(word)) return word;
  const bare = word
    .replace(/(ies)$/, "y")
    .replace(/(?<=[sxz]|ch|sh)es$/, "")
    .replace(/(?<![su])s$/, "")
    .replace(/(?<=\w{3})(ing|ed)$/, "")
    .replace(/(?<=\w{3}v)al$/, "");
  return bare.replace(/([bdfglmnprt])\1$/, "$1").replace(/(?<=\w{3})e$/, "");
}

/**
 * What is left of a stem without the endings that make a noun or a quality of a deed, and the `re` of what is done
 * again: `approval` and `approve`, `assessor` and `reassess`; itself where little is left.
 */
const rootOf = (() => {
  const known = new Map<string, string>();
  return (stem: string): string => {
    let root = known.get(stem);
    if (root === undefined) {
      root = stem
        .replace(/^re(?=[^aeiou].{4}|assess|open|use)/, "")
        .replace(
          /(?<=.{4})(?:ations?|ators?|at|itions?|ions?|ments?|ances?|ences?|als?|ers?|ors?|ly|ness|abl|ibl|ity|iv)$/,
          "",
        )
        .replace(/(?<=.{3}(?:in|gh))t$/, "");
      known.set(stem, root);
    }
    return root;
  };
})();

function wordSet(...words: readonly string[]): ReadonlySet<string> {
  return new Set(words.flatMap(searchWords));
}

/** Whether a word is a quality or a deed that anything may have, in some form: `bigger`, `smallest`, `taking`. */
export function isGeneral(word: string): boolean {
  return [word, word.replace(/(?<=..)(?:est|er|en)$/, "")].some((form) => GENERAL.has(stemOf(form)));
}

const kinOf = new Map<string, ReadonlySet<string>>();
for (const family of FAMILIES)
  for (const stem of family.map(stemOf)) kinOf.set(stem, new Set([...(kinOf.get(stem) ?? []), ...family.map(stemOf)]));

/** Whether the entry passes the filters. */
export function passes(entry: FindEntry, { platform, who, kind, critical }: FindFilters): boolean {
  return (
    (!platform || entry.platform === platform) &&
    (!who || (entry.who ?? []).includes(who)) &&
    (!kind || entry.kind === kind) &&
    (!critical || entry.critical === true)
  );
}

/** Whether the title has all of the words, two or more, as the query orders them: `a to b` is not `b to a`. */
function isInOrder(title: readonly string[], wanted: readonly Wanted[]): boolean {
  const places = wanted.map(({ stems }) => title.findIndex((stem) => stems.has(stem)));
  return places.length > 1 && places.every((place, at) => place >= 0 && (at === 0 || place > places[at - 1]!));
}

/** Kinds that are asked for by their name; a place and an item are words of deeds too. */
const KINDS_ASKED: ReadonlySet<string> = new Set([
  "Procedure",
  "Card",
  "Changeover",
  "Option",
  "Reading",
  "History",
  "Form",
  "Check code",
  "Rule",
]);

/** A page's words as stems, each where it stands. */
interface Stems {
  readonly entry: FindEntry;
  /** Its title, and its other names of two words or more, as they are typed whole. */
  readonly whole: ReadonlySet<string>;
  /** Without the words that say nothing, in their order. */
  readonly title: readonly string[];
  readonly names: ReadonlySet<string>;
  /** Names that most pages of its kind have: they say what is asked of a thing, and name none by themselves. */
  readonly shared: ReadonlySet<string>;
  readonly kind: ReadonlySet<string>;
  readonly about: ReadonlySet<string>;
  readonly parts: readonly PartStems[];
  /** All of these: a page without any of the words is passed over at once. */
  readonly all: ReadonlySet<string>;
  readonly direction: Direction;
}

/** The words of a step as stems: of its instruction, and of what else is said there; each with its neighbours. */
interface PartStems {
  readonly said: ReadonlySet<string>;
  readonly more: ReadonlySet<string>;
  /** Stems that follow one another, as `red band`. */
  readonly pairs: ReadonlySet<string>;
}

/** Pages made ready to be ranked, once for all queries. */
interface Ready {
  readonly pages: readonly Stems[];
  /** How much a word tells: the fewer pages have it, the more. */
  readonly tells: ReadonlyMap<string, number>;
  /** What a word tells that no page has. */
  readonly most: number;
  /** Neighbouring stems in the names of things, as `capsule base`. */
  readonly compounds: ReadonlySet<string>;
}

const makeReady = remember((entries: readonly FindEntry[]): Ready => {
  const tellingStems = (text: string) => queryWords(text).map(stemOf);
  // The ids of items and places are words too; a document's code is met as a whole.
  const namesOf = ({ words = [], code }: FindEntry) =>
    new Set([...words, ...(code && !/\d/.test(code) ? [code] : [])].flatMap(tellingStems));
  const sharedOf = sharedNames(entries, namesOf);
  const pages = entries.map((entry): Stems => {
    const title = tellingStems(entry.title);
    const shared = sharedOf.get(entry.kind) ?? new Set(),
      names = new Set([...namesOf(entry)].filter((stem) => !shared.has(stem))),
      kind = new Set(KINDS_ASKED.has(entry.kind) ? tellingStems(entry.kind) : []),
      about = new Set(tellingStems(entry.about ?? ""));
    const parts = (entry.parts ?? []).map(([, text, more = ""]) => ({
      said: new Set(tellingStems(text)),
      more: new Set(tellingStems(more)),
      pairs: pairsOf([text, ...more.split("\n")]),
    }));
    return {
      entry,
      whole: new Set([entry.title, ...(entry.words ?? []).filter((text) => /\W/.test(text.trim()))].map(plain)),
      title,
      names,
      shared,
      kind,
      about,
      parts,
      all: new Set([
        ...title,
        ...names,
        ...shared,
        ...kind,
        ...about,
        ...parts.flatMap(({ said, more }) => [...said, ...more]),
      ]),
      direction: directionOf(entry),
    };
  });
  const often = new Map<string, number>();
  const front = pages.filter(({ entry }) => !isBehind(entry));
  for (const { title, names, shared, kind, about, parts } of front)
    for (const stem of new Set([
      ...title,
      ...names,
      ...shared,
      ...kind,
      ...about,
      ...parts.flatMap(({ said }) => [...said]),
    ]))
      often.set(stem, (often.get(stem) ?? 0) + 1);
  const tellsIn = (pagesWithIt: number) => Math.log(1 + front.length / (pagesWithIt + 0.5));
  return {
    pages,
    tells: new Map([...often].map(([stem, count]) => [stem, tellsIn(count)])),
    most: tellsIn(0),
    compounds: new Set(
      pages.filter(({ entry }) => !KINDS_ASKED.has(entry.kind)).flatMap(({ title }) => neighbours(title)),
    ),
  };
});

/** Pages of a kind that share a name for it to name none of them: half of them, and this many. */
const SHARED_BY = 4;

/** Names that half of the pages of a kind have or more, for each kind. */
function sharedNames(
  entries: readonly FindEntry[],
  namesOf: (entry: FindEntry) => ReadonlySet<string>,
): ReadonlyMap<string, ReadonlySet<string>> {
  return new Map(
    [...Map.groupBy(entries, ({ kind }) => kind)].map(([kind, pages]) => {
      const often = new Map<string, number>();
      for (const stem of pages.flatMap((page) => [...namesOf(page)])) often.set(stem, (often.get(stem) ?? 0) + 1);
      const least = Math.max(SHARED_BY, pages.length / 2);
      return [kind, new Set([...often].flatMap(([stem, count]) => (count >= least ? [stem] : [])))];
    }),
  );
}

/** Stems of words that follow one another in a line, those that say nothing left out. */
function pairsOf(lines: readonly string[]): Set<string> {
  return new Set(
    lines.flatMap((line) => {
      const telling = searchWords(line).filter((word) => !EMPTY.has(word));
      return neighbours(telling.map(stemOf));
    }),
  );
}

/** Each with the one after it, as `a b`. */
function neighbours(words: readonly string[]): string[] {
  return words.slice(1).map((word, at) => `${words[at]} ${word}`);
}

/** A word of the query: the stems that answer it and how well each does, and how much it tells. */
interface Wanted {
  /** Whether it is said of anything: nothing is missing where it is not met. */
  readonly general: boolean;
  readonly stems: ReadonlyMap<string, number>;
  readonly tells: number;
}

const BEGINS = 0.7,
  IS_KIN = 0.55,
  /** Of one root: `approval` and `approve`. */
  OF_ROOT = 0.7;

/** The words of a query; of two that mean the same, the first. */
function wantedFrom(words: readonly string[], ready: Ready): Wanted[] {
  const stems = words.map(stemOf);
  return words
    .filter((_, at) => !stems.some((other, before) => before < at && kinOf.get(stems[at]!)?.has(other)))
    .map((word) => wantedOf(word, ready));
}

function wantedOf(word: string, { tells, most }: Ready): Wanted {
  const own = stemOf(word);
  const stems = new Map<string, number>();
  if (word.length >= 3) for (const stem of tells.keys()) if (stem.startsWith(word)) stems.set(stem, BEGINS);
  for (const kin of kinOf.get(own) ?? []) stems.set(kin, Math.max(IS_KIN, stems.get(kin) ?? 0));
  const root = rootOf(own);
  for (const stem of tells.keys()) if (rootOf(stem) === root) stems.set(stem, Math.max(OF_ROOT, stems.get(stem) ?? 0));
  stems.set(own, 1);
  // What is met only through others tells as much as the commonest of them.
  const met = tells.get(own) ?? Math.min(most, ...[...stems.keys()].flatMap((stem) => tells.get(stem) ?? []));
  return { general: isGeneral(word) || !isWord(word), stems, tells: met };
}

/** What a word is worth where it stands, of 1. */
const IN_TITLE = 1,
  IN_NAMES = 0.7,
  IN_KIND = 0.85,
  IN_STEP = 0.85,
  IN_DETAIL = 0.3,
  IN_ABOUT = 0.4,
  IN_TEXT = 0.2;
/**
 * Points for each sign that a page answers, each from 0 to 1 but the number of steps. They were fitted together: the
 * most likely ones, where a page is chosen with a likelihood that grows as e^(points / 10) (Cao et al., Learning to
 * rank: from pairwise approach to listwise approach, 2007, with one page drawn), on the queries in `tests/search`, and
 * kept where they were better on the queries of people who were left out of the fitting.
 */
const WORDS = 80,
  ITSELF = 17,
  KIND = 150,
  ABOUT = 19,
  DETAIL = 20,
  TITLE = 48,
  IN_ORDER = 15,
  TOGETHER = 18,
  NAMED = 43,
  AWAY = 23,
  TOWARDS = 27,
  /** Lost by what puts a thing where the query takes it off. */
  AGAINST = 15,
  /** Lost by a word that stands in the title only before another, with which it names another thing. */
  PART_OF = 20,
  TEXT = 10,
  /** Lost for each time that the number of steps grows e times: one of many has a word by chance. */
  STEPS = 7;
/** What a word counts at least where anything means it, when it is asked whether it is there at all. */
const ANYHOW = 0.8;
const NOTHING = { score: 0, whole: false, covered: 0 };

/** How well a page answers the words; 0 if nothing does. `at` is its place in the full-text results. */
function scorePage(
  page: Stems,
  wanted: readonly Wanted[],
  towards: Direction,
  ready: Ready,
  at: number | undefined,
): Omit<Found, "entry"> {
  if (at === undefined && !wanted.some(({ stems }) => [...stems.keys()].some((stem) => page.all.has(stem))))
    return NOTHING;
  const bestIn = ({ stems }: Wanted, place: ReadonlySet<string>) => {
    let best = 0;
    for (const [stem, how] of stems) if (how > best && place.has(stem)) best = how;
    return best;
  };
  const isThere = ({ stems }: Wanted, ...places: readonly ReadonlySet<string>[]) =>
    [...stems].some(([stem, how]) => how === 1 && places.some((place) => place.has(stem)));
  const all = wanted.reduce((sum, { tells }) => sum + tells, 0);
  /** The share of what the words tell, each taken for as much as it is met. */
  const shareOf = (values: readonly number[]) =>
    values.reduce((sum, value, index) => sum + value * wanted[index]!.tells, 0) / all;
  const titleStems = new Set(page.title);
  const inTitle = wanted.map((word) => bestIn(word, titleStems)),
    inOwn = wanted.map((word) => bestIn(word, page.names)),
    isNamed = inTitle.some((how) => how > 0) || inOwn.some((how) => how > 0),
    inNames = isNamed ? wanted.map((word, of) => Math.max(inOwn[of]!, bestIn(word, page.shared))) : inOwn,
    inKind = wanted.map((word) => bestIn(word, page.kind)),
    inAbout = wanted.map((word) => bestIn(word, page.about));
  const outside = wanted.map((_, of) =>
    Math.max(
      at === undefined ? 0 : IN_TEXT,
      IN_TITLE * inTitle[of]!,
      IN_NAMES * inNames[of]!,
      IN_KIND * inKind[of]!,
      IN_ABOUT * inAbout[of]!,
    ),
  );
  const things = wanted.some(({ general }) => !general)
      ? wanted.map(({ general, tells }) => (general ? 0 : tells))
      : wanted.map(({ tells }) => tells),
    inThings = things.reduce((sum, tells) => sum + tells, 0);
  /** The share of what the things among the words tell that is met, in whatever words. */
  const coverOf = (values: readonly number[]) =>
    values.reduce((sum, value, of) => sum + (value > 0 ? Math.max(value, ANYHOW) : 0) * things[of]!, 0) / inThings;
  const named = wanted.map((_, of) => Math.max(inTitle[of]!, inNames[of]!, inKind[of]!, inAbout[of]!));
  // One step has to answer what the title leaves open; words strewn over several do not.
  let best = shareOf(outside),
    covered = coverOf(named),
    whole = outside.every((how) => how > 0),
    part = -1,
    open = 0,
    inOneStep = 0,
    together = 0;
  const strewn = [...outside];
  page.parts.forEach(({ said, more, pairs }, index) => {
    const inSaid = wanted.map((word) => bestIn(word, said)),
      inEither = wanted.map((word, of) => Math.max(inSaid[of]!, bestIn(word, more)));
    // Beside the instruction much is said: there only the word itself counts.
    const inStep = wanted.map((word, of) => Math.max(inSaid[of]!, isThere(word, more) ? IN_DETAIL / IN_STEP : 0));
    best = Math.max(best, shareOf(inStep.map((how, of) => Math.max(outside[of]!, IN_STEP * how))));
    whole ||= inEither.every((how, of) => Math.max(how, outside[of]!) > 0);
    inOneStep = Math.max(inOneStep, shareOf(inEither));
    covered = Math.max(covered, coverOf(inEither.map((how, of) => Math.max(how, named[of]!))));
    inEither.forEach((how, of) => (strewn[of] = Math.max(strewn[of]!, how)));
    together = Math.max(together, shareTogether(wanted, pairs));
    const answered = shareOf(inStep.map((how, of) => (inTitle[of] === 0 ? how : 0)));
    if (answered > open) [open, part] = [answered, index];
  });
  if (strewn.every((how) => how === 0)) return NOTHING;
  const titleTells = (stem: string) => ready.tells.get(stem) ?? ready.most;
  const title = page.title.reduce((sum, stem) => sum + titleTells(stem), 0);
  const filled = page.title.reduce(
    (sum, stem) => sum + titleTells(stem) * Math.max(...wanted.map(({ stems }) => stems.get(stem) ?? 0)),
    0,
  );
  const met = shareOf(strewn.map((how) => (how > 0 ? 1 : 0)));
  const isWanted = (stem: string) => wanted.some(({ stems }) => stems.has(stem));
  /** Whether a word only helps to name another thing there: `capsule` in `capsule base`, if no base is wanted. */
  const isOfAnother = ({ stems }: Wanted) => {
    const places = page.title.flatMap((stem, place) => (stems.get(stem) === 1 ? [place] : []));
    return (
      places.length > 0 &&
      places.every((place) => {
        const next = page.title[place + 1];
        return next !== undefined && ready.compounds.has(`${page.title[place]} ${next}`) && !isWanted(next);
      })
    );
  };
  const score =
    WORDS * best +
    ITSELF *
      shareOf(
        wanted.map((word) => (isThere(word, titleStems, page.names, ...(isNamed ? [page.shared] : [])) ? 1 : 0)),
      ) +
    KIND * shareOf(inKind) +
    ABOUT * shareOf(inAbout) +
    DETAIL * inOneStep +
    (title > 0 ? TITLE * (filled / title) * met : 0) +
    (isInOrder(page.title, wanted) ? IN_ORDER : 0) +
    TOGETHER * together +
    (towards.away && page.direction.away ? AWAY : 0) +
    (towards.to && page.direction.to ? TOWARDS : 0) -
    (towards.away && !towards.to && page.direction.to ? AGAINST : 0) -
    PART_OF * shareOf(wanted.map((word) => (isOfAnother(word) ? 1 : 0))) +
    (at === undefined ? 0 : TEXT / (1 + at * 0.3)) +
    (KIND_WORTH[page.entry.kind] ?? 0) -
    STEPS * Math.log(1 + page.parts.length);
  return { score, whole, covered, ...(part < 0 ? {} : { part: page.entry.parts![part]! }) };
}

/** Which way something goes: on the trolley and into things, or off and out of them. */
interface Direction {
  readonly to: boolean;
  readonly away: boolean;
}

/** Deeds that put something where it is used, and those that take it from there; `un…` does so too. */
const PUTS: ReadonlySet<string> = new Set([
    "attach",
    "dress",
    "fit",
    "install",
    "lay",
    "load",
    "lock",
    "mount",
    "place",
    "put",
    "seat",
    "setup",
    "strap",
  ]),
  TAKES: ReadonlySet<string> = new Set(["detach", "dismount", "lift", "remove", "stow", "strip", "take", "undo"]);

/** Which way a procedure goes, by the word that its title begins with. */
function directionOf({ kind, title }: FindEntry): Direction {
  const deed = kind === "Procedure" ? (searchWords(title)[0] ?? "") : "";
  return { to: PUTS.has(deed), away: TAKES.has(deed) || deed.startsWith("un") };
}

/** Which way a query asks for: `off`, `out`; `into`, or an `on`, `in` or `up` at its end. */
function directionAsked(query: string): Direction {
  const words = plain(query);
  return { to: /\b(?:into|onto|on to)\b|\b(?:on|in|up)$/.test(words), away: /\b(?:off|out)\b/.test(words) };
}

/** How many of the query's neighbouring words stand side by side in a step, of all its neighbours; 0 if it has none. */
function shareTogether(wanted: readonly Wanted[], pairs: ReadonlySet<string>): number {
  const asked = wanted.slice(1).map(({ stems }, at) => {
    for (const before of wanted[at]!.stems.keys())
      for (const stem of stems.keys()) if (pairs.has(`${before} ${stem}`)) return 1;
    return 0;
  });
  return asked.length === 0 ? 0 : asked.reduce<number>((sum, met) => sum + met, 0) / asked.length;
}

/** A score that only a code reaches: who types one asks for just that page, be it a draft or an old card. */
const CODE_MET = 1000;
/** Histories and forms carry the code of what they are about. */
const hasOwnCode = ({ kind }: FindEntry): boolean => kind !== "History" && kind !== "Form";

/** A code is met whole, or by its last parts (`T-02`), however it is punctuated. */
function scoreCode(code: string | undefined, words: readonly string[]): number {
  const asked = words.join("");
  if (!code || !/\d/.test(asked)) return 0;
  const parts = searchWords(code),
    whole = parts.join("");
  if (whole === asked) return 2 * CODE_MET;
  return parts.some((_, at) => at > 0 && parts.slice(at).join("") === asked) ? CODE_MET : 0;
}

/**
 * Entries that answer the query, best first, with their scores and the step that answers. `fullText` holds addresses in
 * the order of the index, which count too. `kilograms`: the weight in the query; what is for other weights gives way.
 */
export function rankEntries(
  entries: readonly FindEntry[],
  query: string,
  filters: FindFilters,
  otherNames: Readonly<Record<string, readonly string[]>>,
  fullText: readonly string[] = [],
  kilograms?: number,
): Found[] {
  const ready = makeReady(entries);
  const readings = withOtherNames(query, otherNames)
    .map(queryWords)
    .filter((words) => words.length > 0)
    .map((words) => ({ words, wanted: wantedFrom(words, ready) }));
  const typed = plain(query);
  const asked = searchWords(query);
  const comesBehind = (entry: FindEntry) => isBehind(entry) && !asked.some((word) => BEHIND[entry.kind]!.has(word));
  // What is not in force may be all that there is for the words; it gives way to what is.
  // The page that chooses stands before an arrangement in any case.
  const isForOthers = ({ kind, weights }: FindEntry) =>
    kilograms !== undefined && weights !== undefined && !OF_AN_ARRANGEMENT.has(kind) && !isFor(weights, kilograms);
  const givesWay = (entry: FindEntry) =>
    (entry.standing === undefined ? 0 : entry.gone ? 45 : 7) + (isForOthers(entry) ? OTHERS : 0);
  const place = new Map(fullText.map((address, at) => [address, at]));
  const cues = CUES.filter(([how]) => how.test(typed)),
    towards = directionAsked(query);
  const isOfAge = hasAge(query);
  const cued = (entry: FindEntry) =>
    cues.reduce((sum, [, does, points]) => sum + (does(entry) ? points : 0), isOfAge && entry.byAge ? BY_AGE : 0);
  const ranked = ready.pages
    .filter(({ entry }) => passes(entry, filters))
    .flatMap((page) => {
      const { entry } = page;
      let best: Omit<Found, "entry"> | undefined;
      readings.forEach(({ words, wanted }, at) => {
        const found = scorePage(page, wanted, towards, ready, place.get(entry.address)),
          code = scoreCode(entry.code, words);
        if (found.score === 0 && code === 0) return;
        const score = found.score + code + (at === 0 && page.whole.has(typed) ? NAMED : 0);
        if (best === undefined || score > best.score) best = { ...found, score };
      });
      if (best === undefined) return [];
      const isCode = hasOwnCode(entry) && best.score >= CODE_MET;
      const score = isCode ? best.score : best.score + cued(entry) - givesWay(entry);
      return [{ entry, ...best, score, behind: comesBehind(entry) && !isCode }];
    })
    .sort(
      (a, b) => Number(a.behind) - Number(b.behind) || b.score - a.score || (a.entry.title < b.entry.title ? -1 : 1),
    );
  return varied(ranked).map(({ behind: _, ...found }) => found);
}

/** Places at the front that are dealt out so that not all are of one kind, and what a third of a kind loses there. */
const FRONT = 4,
  AMONG = 12,
  THIRD = 20;

/** The results with the first few of more than one kind: where two answers are not right, a third alike rarely is. */
function varied<T extends Found & { readonly behind: boolean }>(ranked: readonly T[]): T[] {
  const left = ranked.slice(0, AMONG),
    front: T[] = [];
  const worth = ({ entry, score }: T) =>
    score - (front.filter((other) => other.entry.kind === entry.kind).length > 1 ? THIRD : 0);
  while (front.length < FRONT && left.length > 0) {
    const dealt = left.filter(({ behind }) => behind === left[0]!.behind);
    const best = dealt.reduce((a, b) => (worth(b) > worth(a) ? b : a));
    front.push(...left.splice(left.indexOf(best), 1));
  }
  return [...front, ...left, ...ranked.slice(AMONG)];
}

/** Lost by what is for other weights, and won by what differs by age where an age is typed. */
const OTHERS = 40,
  BY_AGE = 70;

/** Whether a weight is among those that something is for; the one on its upper edge too, of which the page speaks. */
function isFor([from, under = Infinity]: NonNullable<FindEntry["weights"]>, kilograms: number): boolean {
  return kilograms >= from && kilograms <= under;
}

/** An other name that stands in a query. */
interface NameMet {
  readonly own: string;
  /** As it is typed there. */
  readonly form: string;
}

/** The other names in a query, the longest first; of two that share a word, the longer. */
function namesIn(query: string, otherNames: Readonly<Record<string, readonly string[]>>): NameMet[] {
  let left = ` ${plain(query)} `;
  return formsOf(otherNames)
    .filter(({ form }) => left.includes(` ${form} `))
    .sort((a, b) => b.form.length - a.form.length)
    .filter(({ form }, at, all) => {
      if (all.slice(0, at).some((other) => other.form === form)) return true;
      if (!left.includes(` ${form} `)) return false;
      left = left.replaceAll(` ${form} `, " | ");
      return true;
    });
}

/** The other names as they are typed, each and its plural. */
const formsOf = remember((otherNames: Readonly<Record<string, readonly string[]>>): readonly NameMet[] =>
  Object.entries(otherNames).flatMap(([own, others]) =>
    others.map(plain).flatMap((name) => [name, `${name}s`].map((form) => ({ own, form }))),
  ),
);

/** The words of the other names in a query. */
function wordsOfNames(query: string, otherNames: Readonly<Record<string, readonly string[]>>): Set<string> {
  return new Set(namesIn(query, otherNames).flatMap(({ form }) => form.split(" ")));
}

/** The query with all other names turned into the service's own words. */
export function inOwnWords(query: string, otherNames: Readonly<Record<string, readonly string[]>>): string {
  return namesIn(query, otherNames)
    .reduce((text, { own, form }) => text.replaceAll(` ${form} `, ` ${own} `), ` ${plain(query)} `)
    .trim();
}

/** The query, and the query with other names turned into the service's own word, and two words for a deed into one. */
export function withOtherNames(query: string, otherNames: Readonly<Record<string, readonly string[]>>): string[] {
  const met = namesIn(query, otherNames);
  const turn = (text: string, { own, form }: NameMet) => text.replaceAll(` ${form} `, ` ${own} `);
  const spaced = ` ${plain(query)} `;
  const turned = [...met.map((name) => turn(spaced, name)), met.reduce(turn, spaced)].map((text) => text.trim());
  const words = spaced.trim();
  const deeds = [words, ...turned].flatMap((text) =>
    PHRASES.filter(([phrase]) => phrase.test(text)).map(([phrase, deed]) => text.replace(phrase, deed)),
  );
  return [
    query,
    ...new Set([...turned, ...deeds, ...withScatteredNames(query, otherNames)].filter((text) => text !== words)),
  ];
}

/** How many other words may stand among those of an other name. */
const MOST_BETWEEN = 1;

/**
 * The query with an other name of several words turned into the service's own, where all of its words stand near one
 * another there, in any order: `straps for the baby` where `baby straps` is the name.
 */
function withScatteredNames(query: string, otherNames: Readonly<Record<string, readonly string[]>>): string[] {
  const words = queryWords(query),
    stems = words.map(stemOf),
    spaced = ` ${plain(query)} `;
  return scatterable(otherNames).flatMap(({ own, form, stems: named }) => {
    const places = named.map((stem) => stems.indexOf(stem));
    if (places.includes(-1) || spaced.includes(` ${form} `)) return [];
    const first = Math.min(...places);
    if (Math.max(...places) - first >= named.length + MOST_BETWEEN) return [];
    return [words.flatMap((word, at) => (at === first ? [own] : places.includes(at) ? [] : [word])).join(" ")];
  });
}

/** The other names with two telling words or more. */
const scatterable = remember((otherNames: Readonly<Record<string, readonly string[]>>) =>
  Object.entries(otherNames).flatMap(([own, names]) =>
    names
      .map((name) => ({
        own,
        form: plain(name),
        stems: searchWords(name)
          .filter((word) => !EMPTY.has(word))
          .map(stemOf),
      }))
      .filter(({ stems }) => stems.length > 1),
  ),
);

type Known = ReadonlyMap<string, number>;

const stemsKnown = remember((known: Known): ReadonlySet<string> => new Set([...known.keys()].map(stemOf)));

/** Whether a word stands on the site, in some form, or begins a word that does. */
function isKnown(word: string, known: Known): boolean {
  const stem = stemOf(word);
  if (EMPTY.has(word) || /\d/.test(word) || known.has(word) || kinOf.has(stem)) return true;
  if (known.has(word.replace(/(?<=..)s$/, ""))) return true;
  // What is left of a misspelt word may be another: `hering` is no form of `her`, but `pinned` is one of `pin`.
  if (/(?:ing|ed)$/.test(word) && known.has(`${stem}e`)) return true;
  const isForm = stem.length > 3 || /([bdfglmnprt])\1(?:ed|ing)$/.test(word);
  if (isForm && stemsKnown(known).has(stem)) return true;
  for (const other of known.keys()) if (other.startsWith(word)) return true;
  return false;
}

/** Whether a word itself stands nowhere, and only another that means the same does. */
function isOnlyLikened(word: string, known: Known): boolean {
  const stem = stemOf(word);
  return kinOf.has(stem) && !known.has(word) && !stemsKnown(known).has(stem);
}

/**
 * The words of the query that stand nowhere in the site, in no form, and begin no word of it: whoever asks for one is
 * told so, whatever else is shown. Words that the service has another word for, and those that say nothing, are known.
 */
export function unknownWords(
  query: string,
  known: Known,
  otherNames: Readonly<Record<string, readonly string[]>> = {},
): string[] {
  const met = wordsOfNames(query, otherNames);
  const single = singleNames(otherNames);
  return queryWords(query).filter(
    (word) =>
      !isKnown(word, known) &&
      !met.has(word) &&
      !single.some((name) => name.startsWith(word) || stemOf(name) === stemOf(word)),
  );
}

/** The service's own words and their other names that are one word. */
const singleNames = remember((otherNames: Readonly<Record<string, readonly string[]>>): readonly string[] =>
  Object.entries(otherNames)
    .flatMap(([own, names]) => [own, ...names])
    .map(plain)
    .filter((name) => !name.includes(" ")),
);

/** The words that stand in what is in force, without histories, forms and rules. */
const knownInForce = remember((known: Known): Known => new Map([...known].filter(([, count]) => count > 0)));

/** Two letters shorten something (`nb capsule`): they don't say that it is another thing. */
function isWord(word: string): boolean {
  return word.length > 2;
}

/**
 * Whether so much of the query stands nowhere that pages with the rest are no answer: half of its telling words or
 * more. Who asks for a chest drain is not helped with everything about the chest. What stands only in histories, forms
 * and rules counts as nowhere beside a word that stands in what is in force.
 */
export function isMostlyUnknown(
  query: string,
  known: Known,
  otherNames: Readonly<Record<string, readonly string[]>>,
): boolean {
  const words = queryWords(query).filter(isWord),
    unknown = unknownWords(query, known, otherNames).filter(isWord);
  // Beside a thing that is known, what it does may be said in words that stand nowhere: `needle falling`.
  const isDoing = (word: string) => word.length > 5 && word.endsWith("ing");
  const isThing = words.some((word) => !isDoing(word) && !unknown.includes(word))
    ? (word: string) => !isDoing(word) && !(unknown.includes(word) && isGeneral(word))
    : () => true;
  const { length } = words.filter(isThing),
    absent = unknown.filter(isThing).length,
    notInForce = unknownWords(query, knownInForce(known), otherNames).filter(isWord).filter(isThing).length;
  // Beside one that stands nowhere, a word that only means the same as one there is half an answer.
  const met = wordsOfNames(query, otherNames);
  const likened =
    absent === 0 ? 0 : words.filter((word) => isThing(word) && !met.has(word) && isOnlyLikened(word, known)).length;
  if (length > 0 && (absent + likened / 2) * 2 >= length) return true;
  return notInForce < length && notInForce * 2 >= length;
}

/**
 * The query with every unknown word replaced by the nearest known one; `undefined` if nothing was replaced. Up to five
 * letters one slip that fingers make (two letters changed places, one left out or struck twice), in words of six any
 * one, two in longer ones, of which those under ten letters keep their consonants; the commoner word wins between
 * equals. `known` is word -> how often it stands in what is in force; with 0, nobody is sent to it. Words of other
 * names are no slips. `pairs` (`pairsIn`): what was written as one word is taken for two that stand side by side
 * there.
 */
export function correctQuery(
  query: string,
  standing: Known,
  pairs: ReadonlySet<string> = new Set(),
  otherNames: Readonly<Record<string, readonly string[]>> = {},
): string | undefined {
  let changed = false;
  const known = withNames(standing, otherNames);
  const corrected = searchWords(query).map((word) => {
    if (word.length < 4 || isKnown(word, known)) return word;
    const parted = partedWord(word, pairs);
    if (parted) {
      changed = true;
      return parted;
    }
    const most = word.length <= 6 ? 1 : 2;
    let best = word,
      least = most + 1,
      often = 0;
    for (const [other, count] of known) {
      if (count === 0 || Math.abs(other.length - word.length) > most || /\d/.test(other)) continue;
      const far = isSwapped(word, other) ? 1 : distance(word, other);
      // People rarely miss the first letter: with another one, a single slip is all that is believed.
      if (far > 1 && other[0] !== word[0]) continue;
      // Two slips leave the consonants as they are, but in a long word: `crutches` are no `catches`.
      if (far > 1 && word.length < 10 && consonantsOf(word) !== consonantsOf(other)) continue;
      // A short word with another letter in it is another word: `drain` is not `drawn`, nor `stuck` `stick`.
      if (word.length <= 5 && !isSwapped(word, other) && !isLeftOut(word, other) && !isLeftOut(other, word, true))
        continue;
      if (far < least || (far === least && far <= most && count > often)) [best, least, often] = [other, far, count];
    }
    if (best !== word) changed = true;
    return best;
  });
  return changed ? corrected.join(" ") : undefined;
}

/**
 * The words that stand on the site, and those of other names: who misspells a name of one word is sent to it, the words
 * of longer ones are only no slips.
 */
const withNames = remember((known: Known, otherNames: Readonly<Record<string, readonly string[]>>): Known => {
  const names = Object.values(otherNames).flat().map(searchWords);
  const often = new Map(names.flat().map((word) => [word, 0]));

  return new Map([...often, ...known]);
});

/** Two words that stand side by side on the site and were written as one: `gasshelf` as `gas shelf`. */
function partedWord(word: string, pairs: ReadonlySet<string>): string | undefined {
  for (let at = 2; at <= word.length - 2; at += 1) {
    const parted = `${word.slice(0, at)} ${word.slice(at)}`;
    if (pairs.has(parted)) return parted;
  }
  return undefined;
}

/** Words that stand side by side in titles, other names and steps, as `gas shelf`. */
export const pairsIn = remember(
  (entries: readonly FindEntry[]): ReadonlySet<string> =>
    new Set(
      entries
        .flatMap(({ title, words = [], parts = [] }) => [title, ...words, ...parts.map(([, text]) => text)])
        .flatMap((text) => neighbours(searchWords(text))),
    ),
);

/** The consonants of a word, a doubled one once. */
function consonantsOf(word: string): string {
  return word.replace(/[aeiouy]/g, "").replace(/(.)\1+/g, "$1");
}

/** Whether `longer` is `word` with one letter more that is not its first; `twice`: one that is struck twice. */
function isLeftOut(word: string, longer: string, twice = false): boolean {
  if (longer.length !== word.length + 1) return false;
  const at = [...longer].findIndex((letter, index) => letter !== word[index]);
  return at > 0 && longer.slice(at + 1) === word.slice(at) && (!twice || longer[at] === longer[at - 1]);
}

/** Whether two words differ only by two neighbouring letters that changed places. */
function isSwapped(word: string, other: string): boolean {
  if (word.length !== other.length) return false;
  const at = [...word].findIndex((letter, index) => letter !== other[index]);
  return (
    at >= 0 && word[at] === other[at + 1] && word[at + 1] === other[at] && word.slice(at + 2) === other.slice(at + 2)
  );
}
