/** Which changes somebody missed who was last here on a day. */

/** How many lines are read after a leave (agreed for this program; no source). */
export const MOST_MISSED = 10;

/** A line: what is another now for who knows a document in an earlier revision. */
interface Line {
  readonly document: string;
  /** The revision that is known, and the day from which it was no longer in force, `YYYY-MM-DD`. */
  readonly known: number;
  readonly until: string;
  /** Whether it is the last revision before the present one. */
  readonly isLast: boolean;
}

/**
 * Of each document the line of the revision that was in force on the day, ten at most, in the order given; `left` says
 * how many more there are. `signed` empty: all documents; `since` empty: of each the last change, and all of them.
 */
export function linesSince<Each extends Line>(
  lines: readonly Each[],
  since: string,
  signed: ReadonlySet<string>,
): { readonly shown: readonly Each[]; readonly left: number } {
  const mine = lines.filter(({ document }) => signed.size === 0 || signed.has(document));
  if (since === "") return { shown: mine.filter(({ isLast }) => isLast), left: 0 };
  const missed = mine.filter(
    (line) =>
      line.until > since &&
      !mine.some(({ document, until, known }) => document === line.document && until > since && known < line.known),
  );
  return { shown: missed.slice(0, MOST_MISSED), left: Math.max(0, missed.length - MOST_MISSED) };
}
