/** Pages made ready to be ranked: their words as stems, each where it stands, and how much each tells. */
import { remember } from "../words/remember.ts";
import { isBehind } from "./behind.ts";
import { type Going, goingOf } from "./direction.ts";
import type { FindEntry } from "./entry.ts";
import { isFiller, plain, queryWords, searchWords } from "./query-words.ts";
import { stemOf } from "./word-forms.ts";

/** Pages made ready to be ranked, once for all queries. */
export interface Ready {
  readonly pages: readonly Stems[];
  /** How much a word tells: the fewer pages have it, the more. */
  readonly tells: ReadonlyMap<string, number>;
  /** What a word tells that no page has. */
  readonly most: number;
  /** Neighbouring stems in the names of things, as `capsule base`. */
  readonly compounds: ReadonlySet<string>;
}

/** The pages made ready; once for a list. */
export const makeReady = remember((entries: readonly FindEntry[]): Ready => {
  const tellingStems = (text: string) => queryWords(text).map(stemOf);
  // A code is met as a whole, one without a number word by word.
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
    const asks = (entry.asks ?? []).map(([, question, answer, ...others]): AskStems => {
      const wordings = [question, ...others].map(tellingStems);
      return { said: new Set(wordings.flat()), answer: new Set(tellingStems(answer)), wordings };
    });
    return {
      entry,
      whole: new Set([entry.title, ...(entry.words ?? []).filter((text) => /\W/.test(text.trim()))].map(plain)),
      title,
      names,
      shared,
      kind,
      about,
      parts,
      asks,
      all: new Set([
        ...title,
        ...names,
        ...shared,
        ...kind,
        ...about,
        ...parts.flatMap(({ said, more }) => [...said, ...more]),
        ...asks.flatMap(({ said, answer }) => [...said, ...answer]),
      ]),
      direction: goingOf(entry),
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
  // Questions use many words of speech: what stands only in them tells as much as what no page has.
  const askedAlone = new Set(
    pages.flatMap(({ asks }) => asks.flatMap(({ said }) => [...said])).filter((stem) => !often.has(stem)),
  );
  const tellsIn = (pagesWithIt: number) => Math.log(1 + front.length / (pagesWithIt + 0.5));
  return {
    pages,
    tells: new Map([
      ...[...often].map(([stem, count]) => [stem, tellsIn(count)] as const),
      ...[...askedAlone].map((stem) => [stem, tellsIn(0)] as const),
    ]),
    most: tellsIn(0),
    compounds: new Set(
      pages.filter(({ entry }) => !KINDS_ASKED.has(entry.kind)).flatMap(({ title }) => neighbours(title)),
    ),
  };
});

/** A page's words as stems, each where it stands. */
export interface Stems {
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
  readonly asks: readonly AskStems[];
  /** All of these: a page without any of the words is passed over at once. */
  readonly all: ReadonlySet<string>;
  readonly direction: Going;
}

/** The words of a question as stems: of all its wordings, of its answer, and each wording alone. */
interface AskStems {
  readonly said: ReadonlySet<string>;
  readonly answer: ReadonlySet<string>;
  readonly wordings: readonly (readonly string[])[];
}

/** The words of a step as stems: of its instruction, and of what else is said there; each with its neighbours. */
interface PartStems {
  readonly said: ReadonlySet<string>;
  readonly more: ReadonlySet<string>;
  /** Stems that follow one another, as `red band`. */
  readonly pairs: ReadonlySet<string>;
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
      const telling = searchWords(line).filter((word) => !isFiller(word));
      return neighbours(telling.map(stemOf));
    }),
  );
}

/** Each with the one after it, as `a b`. */
export function neighbours(words: readonly string[]): string[] {
  return words.slice(1).map((word, at) => `${words[at]} ${word}`);
}
