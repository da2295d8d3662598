/** Puts misspelt words right. */
import { distance } from "fastest-levenshtein";
import { remember } from "../words/remember.ts";
import type { FindEntry } from "./entry.ts";
import { neighbours } from "./ready.ts";
import { FAMILY_WORDS, kinOf, stemOf } from "./word-forms.ts";
import { searchWords } from "./query-words.ts";
import { isKnownWord, type KnownWords } from "./unknown.ts";

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
  standing: KnownWords,
  pairs: ReadonlySet<string> = new Set(),
  otherNames: Readonly<Record<string, readonly string[]>> = {},
): string | undefined {
  let changed = false;
  const known = withNames(standing, otherNames);
  const corrected = searchWords(query).map((word) => {
    if (word.length < 4 || isKnownWord(word, known)) return word;
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
      // One consonant for another is a slip where they sound alike: `consent` is not
      // `content`, nor a `printer` `printed`.
      if (far === 1 && isOtherConsonant(word, other)) continue;
      if (far < least || (far === least && far <= most && count > often)) [best, least, often] = [other, far, count];
    }
    if (best !== word) changed = true;
    return best;
  });
  return changed ? corrected.join(" ") : undefined;
}

/** Shorter words are too near to others: `tap` to `tape`. */
const LEAST_OF_FAMILY = 6;

/**
 * The words that stand on the site, those that mean the same as one that does (who misspells `ambulance` finds the
 * `vehicle`), and those of other names: these are no slips, and nobody is sent to them.
 */
const withNames = remember((known: KnownWords, otherNames: Readonly<Record<string, readonly string[]>>): KnownWords => {
  const names = Object.values(otherNames).flat().map(searchWords);
  const often = new Map(names.flat().map((word) => [word, 0]));
  const stands = new Set([...known].flatMap(([word, count]) => (count > 0 ? [stemOf(word)] : [])));
  const meant = FAMILY_WORDS.filter(
    (word) => word.length >= LEAST_OF_FAMILY && [...(kinOf.get(stemOf(word)) ?? [])].some((stem) => stands.has(stem)),
  );
  return new Map([...often, ...meant.map((word) => [word, 1] as const), ...known]);
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

/** Consonants that sound alike; from memory. */
const ALIKE = ["cksqz", "gj", "fvw", "dt", "bp", "mn", "lr"];

/** Whether two words differ by a consonant for one that does not sound like it. */
function isOtherConsonant(word: string, other: string): boolean {
  if (word.length !== other.length) return false;
  const places = [...word].flatMap((letter, at) => (letter === other[at] ? [] : [at]));
  const pair = places.map((at) => word[at]! + other[at]!);
  return (
    pair.length === 1 &&
    !/[aeiouy]/.test(pair[0]!) &&
    !ALIKE.some((sound) => [...pair[0]!].every((letter) => sound.includes(letter)))
  );
}

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
