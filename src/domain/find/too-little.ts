/** Whether what was found is too little to be shown. */
import type { FoundPage } from "./find.ts";
import { isWord, queryWords } from "./query-words.ts";
import { isGeneral } from "./word-forms.ts";

/**
 * Whether the best page has too little of a short query to be shown for it: where one of its things stands nowhere on
 * the site, or both do and never together, or no page says most of it in one place. `found`: best first. The bounds are
 * those that told the queries in `tests/search` best from what is not there.
 */
export function isTooLittle(
  query: string,
  unknown: readonly string[],
  found: readonly Pick<FoundPage, "score" | "whole" | "covered">[],
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

/** Points from which a page answers at all where a word of few is unknown. */
const ENOUGH = 60,
  FEW_WORDS = 3,
  /** What is too little however long the query, where one of its things stands nowhere. */
  LITTLE = 36;

/** What a page has too few points with that has not two thirds of what some words tell, in one place. */
const STREWN = 45,
  MOST_STREWN = 4,
  TWO_THIRDS = 2 / 3;
