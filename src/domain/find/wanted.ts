/** The words of a query as they are looked for: the stems that answer each, how well, and how much it tells. */
import { isWord } from "./query-words.ts";
import type { Ready } from "./ready.ts";
import { isGeneral, kinOf, rootOf, stemOf } from "./word-forms.ts";

/** A word of the query: the stems that answer it and how well each does, and how much it tells. */
export interface Wanted {
  /** Whether it is said of anything: nothing is missing where it is not met. */
  readonly general: boolean;
  readonly stems: ReadonlyMap<string, number>;
  readonly tells: number;
}

/** The words of a query; of two that mean the same, the first. */
export function wantedFrom(words: readonly string[], ready: Ready): Wanted[] {
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

const BEGINS = 0.7,
  IS_KIN = 0.55,
  /** Of one root: `approval` and `approve`. */
  OF_ROOT = 0.7;
