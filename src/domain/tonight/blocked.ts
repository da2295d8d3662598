/**
 * Whether what is out of service keeps an arrangement from being built, from a table that pages carry with them: light
 * enough for every page.
 */

/** Pieces out of service: item id -> how many. */
export type OutOfService = ReadonlyMap<string, number>;

/** Item id -> how many of it an arrangement can miss; of items that are not in it, all. */
export type Spares = Readonly<Record<string, number>>;

/** The items out of service of which an arrangement can't miss so many; empty if it can still be built. */
export function blockedBy(spares: Spares, out: OutOfService): string[] {
  return [...out].filter(([item, count]) => count > (spares[item] ?? Infinity)).map(([item]) => item);
}
