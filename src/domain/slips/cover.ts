/** The fewest lines of a card that see every slip that any of them sees. */

/** Lines that are enough, by their index. */
export interface Cover {
  readonly lines: readonly number[];
  /** No set is smaller. */
  readonly isLeast: boolean;
  /** No set is smaller than this. */
  readonly atLeast: number;
}

/** Candidates up to which the smallest set is searched for; with more it is chosen greedily. */
const MOST_CANDIDATES = 20;

/**
 * A smallest set of lines so that each slip is seen by one of them. `seenBy`: for each slip the lines that see it;
 * those that nobody sees are left out. Up to 20 candidates it is exact: every set of one, then of two lines and so on
 * is tried, as far as it can still be enough. Beyond, the line that sees most of what is left is taken each time; that
 * is at most 1 + 1/2 + … + 1/n times as many as needed, n being the most that one sees (Chvátal 1979, from memory).
 * Of sets of the same size the one whose lines stand first on the card.
 */
export function coverOf(seenBy: readonly (readonly number[])[]): Cover {
  const wanted = new Map(
    seenBy.filter((lines) => lines.length > 0).map((lines) => [[...lines].sort(compare).join(" "), lines]),
  );
  const slips = [...wanted.values()];
  const candidates = [...new Set(slips.flat())].sort(compare);
  const greedy = coverGreedily(slips);
  if (candidates.length > MOST_CANDIDATES) {
    const most = Math.max(...candidates.map((line) => slips.filter((lines) => lines.includes(line)).length));
    let harmonic = 0;
    for (let n = 1; n <= most; n++) harmonic += 1 / n;
    const atLeast = Math.ceil(greedy.length / harmonic - 1e-9);
    return { lines: greedy, isLeast: greedy.length <= atLeast, atLeast };
  }
  for (let size = 0; ; size++) {
    const lines = coverWithin(slips, candidates, size);
    if (lines) return { lines, isLeast: true, atLeast: size };
  }
}

const compare = (a: number, b: number): number => a - b;

/** A set of exactly so many lines, those that stand first on the card; `undefined` if so few are not enough. */
function coverWithin(
  slips: readonly (readonly number[])[],
  candidates: readonly number[],
  size: number,
): readonly number[] | undefined {
  if (slips.length === 0) return [];
  if (size === 0) return undefined;
  // A line that is passed over can't be taken later: some slip that is left must still have one.
  for (const [at, line] of candidates.entries()) {
    const rest = candidates.slice(at + 1),
      left = slips.filter((lines) => !lines.includes(line));
    if (left.every((lines) => lines.some((each) => rest.includes(each)))) {
      const more = coverWithin(left, rest, size - 1);
      if (more) return [line, ...more];
    }
    if (slips.some((lines) => !lines.some((each) => rest.includes(each)))) return undefined;
  }
  return undefined;
}

function coverGreedily(slips: readonly (readonly number[])[]): number[] {
  const chosen: number[] = [];
  let left = slips;
  while (left.length > 0) {
    const counts = new Map<number, number>();
    for (const line of left.flat()) counts.set(line, (counts.get(line) ?? 0) + 1);
    const [best] = [...counts].sort(([a, seenA], [b, seenB]) => seenB - seenA || a - b)[0]!;
    chosen.push(best);
    left = left.filter((lines) => !lines.includes(best));
  }
  return chosen.sort(compare);
}
