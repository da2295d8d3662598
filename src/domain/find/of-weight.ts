/** A query with a weight or an age in it: when the page that chooses answers, and what is asked beside it. */
import type { FindEntry } from "./entry.ts";
import type { FoundPage } from "./find.ts";
import { agesApart, hasAge, isWord, queryWords, searchWords } from "./query-words.ts";
import { isGeneral, kinOf, stemOf } from "./word-forms.ts";

/**
 * The results of a query with a weight in it: the page that chooses by weight comes first if what answers best has
 * fewer points than `least` (`pointsBeforeChooser`), belongs to one arrangement or is for other weights than the one
 * that is typed (`kilograms`), else second. `found` are the others, best first.
 */
export function withChooser<T extends Pick<FoundPage, "entry" | "score">>(
  found: readonly T[],
  chooser: readonly T[],
  least: number,
  kilograms?: number,
): readonly T[] {
  const others = found.filter(({ entry }) => !entry.chooses),
    [best] = others;
  const isOfOthers = ({ kind, weights }: FindEntry) =>
    OF_AN_ARRANGEMENT.has(kind) ||
    (kilograms !== undefined && weights !== undefined && !isForWeight(weights, kilograms));
  const before = !best || best.score < least || isOfOthers(best.entry) ? 0 : 1;
  return [...others.slice(0, before), ...chooser, ...others.slice(before)];
}

/** Kinds of page that are right for some weights only: none of them answers a weight before the page that chooses. */
export const OF_AN_ARRANGEMENT: ReadonlySet<string> = new Set([
  "Configuration",
  "Option",
  "Card",
  "Changeover",
  "Check code",
]);

/** Whether a weight is among those that something is for; the one on its upper edge too, of which the page speaks. */
export function isForWeight([from, under = Infinity]: NonNullable<FindEntry["weights"]>, kilograms: number): boolean {
  return kilograms >= from && kilograms <= under;
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

/** Whether a query has somebody's age, and nothing is asked beside it. */
export function isOfAgeAlone(query: string, isUnknown: (word: string) => boolean): boolean {
  const isSomebodys = /\bolds?\b|\dyo\b/i.test(query) || searchWords(agesApart(query)).some(isPerson);
  return hasAge(query) && isSomebodys && pointsBeforeChooser(query, isUnknown) === Infinity;
}

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

/**
 * Points from which a page answers for sure, and from which it does where a thing is asked of beside the weight.
 */
const SURE = 100,
  LIKELY = 75;

/** What is chosen for a weight, where a query asks which. */
const CHOSEN: ReadonlySet<string> = new Set(["arrangement", "configuration", "restraint", "seat", "setup"].map(stemOf));

/** Words for somebody who is carried. */
const WHOM = new Set(["baby", "child", "patient", "age", "weight"].map(stemOf));

/** Whether a word is one for somebody who is carried, or means the same. */
function isPerson(word: string): boolean {
  const stem = stemOf(word);
  return WHOM.has(stem) || [...(kinOf.get(stem) ?? [])].some((kin) => WHOM.has(kin));
}
