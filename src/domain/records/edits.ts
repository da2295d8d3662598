/** Shortest edits between two lists and between two texts, word by word. */
import { diffArrays, diffWordsWithSpace } from "diff";

/** A run of one kind: kept in both, only in the later (added) or only in the earlier (removed). */
export interface Edit<T> {
  readonly kind: "keep" | "added" | "removed";
  readonly value: T;
}

/**
 * A shortest sequence of single edits from `before` to `after` (E. W. Myers, An O(ND) difference algorithm,
 * Algorithmica 1, 1986).
 */
export function editsBetween<T>(before: readonly T[], after: readonly T[]): Edit<T>[] {
  return diffArrays([...before], [...after]).flatMap(({ value, added, removed }) =>
    value.map((entry) => ({ kind: added ? "added" : removed ? "removed" : "keep", value: entry }) as const),
  );
}

/**
 * A text as kept, removed and added words, in reading order; joined, `keep` and `removed` are the earlier text, `keep`
 * and `added` the later.
 */
export function wordEdits(before: string, after: string): Edit<string>[] {
  return diffWordsWithSpace(before, after).map(({ value, added, removed }) => ({
    kind: added ? "added" : removed ? "removed" : "keep",
    value,
  }));
}

/** The later list from the earlier one and the edits. Throws if they do not fit. */
export function applyEdits<T>(before: readonly T[], edits: readonly Edit<T>[]): T[] {
  let at = 0;
  const after = edits.flatMap((edit) => {
    if (edit.kind === "added") return [edit.value];
    const entry = before[at++];
    if (entry === undefined) throw new Error("The edits do not fit the list");
    return edit.kind === "keep" ? [entry] : [];
  });
  if (at !== before.length) throw new Error("The edits do not fit the list");
  return after;
}

/**
 * How alike two texts are, from 0 (no word in common) to 1 (the same words in the same order): twice the kept words by
 * all words (Dice 1945, over the longest common subsequence).
 */
export function likeness(a: string, b: string): number {
  const [before, after] = [wordsOf(a), wordsOf(b)];
  if (!before.length && !after.length) return 1;
  const kept = editsBetween(before, after).filter(({ kind }) => kind === "keep").length;
  return (2 * kept) / (before.length + after.length);
}

/** The words of a text in lower case, without punctuation. */
export function wordsOf(text: string): string[] {
  return text.toLowerCase().match(/[\p{L}\p{N}]+(?:[-'’.,][\p{L}\p{N}]+)*/gu) ?? [];
}

/**
 * The positions that are in every longest rising run of numbers: what surely stayed in place when the rest has moved.
 * Of two that changed places neither stayed.
 */
export function surelyRising(numbers: readonly number[]): Set<number> {
  const upTo = runsEndingAt(numbers);
  const onwards = runsEndingAt(numbers.map((number) => -number).reverse()).reverse();
  const longest = Math.max(0, ...upTo);
  // A position is in some longest run if the runs up to it and from it on make one; in all of them if no other could
  // take that place in the run.
  const inSome = numbers.flatMap((_, at) => (upTo[at]! + onwards[at]! - 1 === longest ? [at] : []));
  const rivals = new Map<number, number>();
  for (const at of inSome) rivals.set(upTo[at]!, (rivals.get(upTo[at]!) ?? 0) + 1);
  return new Set(inSome.filter((at) => rivals.get(upTo[at]!) === 1));
}

/** For each position the length of a longest rising run that ends there. */
function runsEndingAt(numbers: readonly number[]): number[] {
  const lengths: number[] = [];
  for (const [at, number] of numbers.entries()) {
    lengths[at] = 1;
    for (let earlier = 0; earlier < at; earlier += 1)
      if (numbers[earlier]! < number) lengths[at] = Math.max(lengths[at], lengths[earlier]! + 1);
  }
  return lengths;
}
