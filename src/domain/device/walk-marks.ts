/**
 * Whether a walk still says what it said when a crew left it: a temporary amendment that began or ended, another
 * revision or a newer set of pages may have changed what was done, or the order of it, under the same numbers.
 */
import type { Walk, WalkStop } from "./walk.ts";

/** What of a walk is not as it was. */
interface WalkChange {
  /** Index of the first stop that is another one than it was, or stands elsewhere. */
  readonly from: number;
  /** Stops that tell something that no stop told before; empty where some only fell away or changed places. */
  readonly anew: readonly WalkStop[];
}

/** A short mark of all that each stop tells a crew to do, say and look at, in their order; times are not in it. */
export function marksOf({ stops }: Pick<Walk, "stops">): string[] {
  return stops.map(({ procedure, step, who, critical, hold, text, detail, alerts, acts, checks }) =>
    markOf(JSON.stringify([procedure, step, who, critical, hold, text, detail, alerts, acts, checks])),
  );
}

/** What has changed since a walk had these marks; `undefined` if nothing has. */
export function changeSince(before: readonly string[], walk: Pick<Walk, "stops">): WalkChange | undefined {
  const now = marksOf(walk);
  const longer = Math.max(before.length, now.length);
  const from = Array.from({ length: longer }, (_, at) => at).find((at) => before[at] !== now[at]);
  if (from === undefined) return undefined;
  const known = new Set(before);
  return { from, anew: walk.stops.filter((_, at) => !known.has(now[at]!)) };
}

/**
 * The same way in whatever revisions: the key of a walk (`layWalk`, `leaveOut`) without its procedures and the numbers
 * of steps left out, so that a walk kept under an older key is found again.
 */
export function wayOfKey(key: string): string {
  const words = key.split(" "),
    first = words.findIndex((word) => word.includes("@")),
    after = words.findLastIndex((word) => word.includes("@")) + 1;
  if (first < 0) return key;
  return [...words.slice(0, first), ...words.slice(after).filter((word) => !/^[\d,]+$/.test(word))].join(" ");
}

/** FNV-1a of 32 bits over the units of UTF-16, in base 36: only tells one text from another (constants from memory). */
function markOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  return (hash >>> 0).toString(36);
}
