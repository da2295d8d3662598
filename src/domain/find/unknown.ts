/** Which words of a query stand nowhere in the site, and whether what is left of it is still a question. */
import { remember } from "../words/remember.ts";
import { singleNames, wordsOfNames } from "./other-names.ts";
import { isFiller, isWord, queryWords } from "./query-words.ts";
import { isGeneral, kinOf, stemOf } from "./word-forms.ts";

/** Word -> how often it stands in what is in force; 0: elsewhere only. */
export type KnownWords = ReadonlyMap<string, number>;

/**
 * The words of the query that stand nowhere in the site, in no form, and begin no word of it: whoever asks for one is
 * told so, whatever else is shown. Words that the service has another word for, and those that say nothing, are known.
 */
export function unknownWords(
  query: string,
  known: KnownWords,
  otherNames: Readonly<Record<string, readonly string[]>> = {},
): string[] {
  const met = wordsOfNames(query, otherNames);
  const single = singleNames(otherNames);
  return queryWords(query).filter(
    (word) =>
      !isKnownWord(word, known) &&
      !met.has(word) &&
      !single.some((name) => name.startsWith(word) || stemOf(name) === stemOf(word)),
  );
}

/**
 * Whether so much of the query stands nowhere that pages with the rest are no answer: half of its telling words or
 * more. Who asks for a chest drain is not helped with everything about the chest. What stands only in histories, forms
 * and rules counts as nowhere beside a word that stands in what is in force.
 */
export function isMostlyUnknown(
  query: string,
  known: KnownWords,
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

/** Whether a word stands on the site, in some form, or begins a word that does. */
export function isKnownWord(word: string, known: KnownWords): boolean {
  const stem = stemOf(word);
  if (isFiller(word) || /\d/.test(word) || known.has(word) || kinOf.has(stem)) return true;
  if (known.has(word.replace(/(?<=..)s$/, ""))) return true;
  // What is left of a misspelt word may be another: `hering` is no form of `her`, but `pinned` is one of `pin`.
  if (/(?:ing|ed)$/.test(word) && known.has(`${stem}e`)) return true;
  const isForm = stem.length > 3 || /([bdfglmnprt])\1(?:ed|ing)$/.test(word);
  if (isForm && stemsKnown(known).has(stem)) return true;
  for (const other of known.keys()) if (other.startsWith(word)) return true;
  return false;
}

const stemsKnown = remember((known: KnownWords): ReadonlySet<string> => new Set([...known.keys()].map(stemOf)));

/** Whether a word itself stands nowhere, and only another that means the same does. */
function isOnlyLikened(word: string, known: KnownWords): boolean {
  const stem = stemOf(word);
  return kinOf.has(stem) && !known.has(word) && !stemsKnown(known).has(stem);
}

/** The words that stand in what is in force, without histories, forms and rules. */
const knownInForce = remember((known: KnownWords): KnownWords => new Map([...known].filter(([, count]) => count > 0)));
