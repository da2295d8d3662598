/** A query in the service's own words: the other names in it turned into these. */
import { remember } from "../words/remember.ts";
import { isFiller, plain, queryWords, searchWords } from "./query-words.ts";
import { stemOf } from "./word-forms.ts";

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

/** Deeds that are said in two words: the one word that titles begin with. */
const PHRASES: readonly (readonly [RegExp, string])[] = [
  [/^(?:put )?(.+) on$/, "fit $1"],
  [/^(?:take |get |lift )?(.+) off$/, "remove $1"],
  [/^put (.+) away$/, "stow $1"],
  [/^(?:get|take|roll) (.+) out of (.+)$/, "unload $1 $2"],
];

/** The query with all other names turned into the service's own words. */
export function inOwnWords(query: string, otherNames: Readonly<Record<string, readonly string[]>>): string {
  return namesIn(query, otherNames)
    .reduce((text, { own, form }) => text.replaceAll(` ${form} `, ` ${own} `), ` ${plain(query)} `)
    .trim();
}

/** The words of the other names in a query. */
export function wordsOfNames(query: string, otherNames: Readonly<Record<string, readonly string[]>>): Set<string> {
  return new Set(namesIn(query, otherNames).flatMap(({ form }) => form.split(" ")));
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
          .filter((word) => !isFiller(word))
          .map(stemOf),
      }))
      .filter(({ stems }) => stems.length > 1),
  ),
);

/** The service's own words and their other names that are one word. */
export const singleNames = remember((otherNames: Readonly<Record<string, readonly string[]>>): readonly string[] =>
  Object.entries(otherNames)
    .flatMap(([own, names]) => [own, ...names])
    .map(plain)
    .filter((name) => !name.includes(" ")),
);
