/**
 * What an edit leaves as it was keeps its records: what is remembered of them (`words/remember.ts`) is then known
 * without being worked out again.
 */
import { onceInProcess } from "../../schema/once-in-process.ts";
import { remember } from "../words/remember.ts";
import type { Collection, Platform } from "../../schema/collection.ts";

/** Of a reading the one before it. */
const before = /* @__PURE__ */ onceInProcess("readings", () => new WeakMap<Collection, Collection>());

/** Says that a reading of a folder came after another one. */
export function followOn(now: Collection, earlier: Collection): void {
  before.set(now, earlier);
  // The one before that is not asked for any more, and is not to be held by this one.
  before.delete(earlier);
}

/** The reading before this one, as far as somebody has said which it is. */
export const readBefore = (now: Collection): Collection | undefined => before.get(now);

/** What a collection has beside its platforms. */
export const BESIDE = ["service", "folders", "incidents", "reviews", "issued", "editions", "pictures", "on"] as const;

/**
 * The later collections, each as it was where nothing of it has changed, else with those platforms as they were of
 * which nothing has. A platform keeps its records as a whole or not at all: what is remembered of a record may rest on
 * all of its platform, and on what stands beside the platforms. `isSame`: as `comparing`, where what was compared
 * before is known.
 */
export function asBefore(
  earlier: readonly Collection[],
  now: readonly Collection[],
  isSame = sameRecords(),
): Collection[] {
  return now.map((collection, at) => {
    const old = earlier[at]!;
    if (!BESIDE.every((field) => isSame(old[field], collection[field]))) return collection;
    const platforms = collection.platforms.map((platform): Platform => {
      const known = old.platforms.find(({ id }) => id === platform.id);
      return known && isSame(known, platform) ? known : platform;
    });
    const isWhole =
      platforms.length === old.platforms.length &&
      platforms.every((platform, each) => platform === old.platforms[each]);
    return isWhole ? old : { ...old, platforms };
  });
}

/** Compares records of two readings that follow each other, whichever day's view they stand in. */
export const comparing = remember((_earlier: Collection, _now: Collection) => sameRecords());

/** Whether values say the same, lists in the same order; records that were compared are known again. */
function sameRecords(): (a: unknown, b: unknown) => boolean {
  const known = new Map<object, object>();
  const isSame = (a: unknown, b: unknown): boolean => {
    if (a === b) return true;
    if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return Object.is(a, b);
    if (known.get(b) === a) return true;
    if (!isSameInside(a, b)) return false;
    known.set(b, a);
    return true;
  };
  const isSameInside = (a: object, b: object): boolean => {
    if (Array.isArray(a))
      return Array.isArray(b) && a.length === b.length && a.every((entry, at) => isSame(entry, b[at]));
    if (a instanceof Map || a instanceof Set) {
      if (a.constructor !== b.constructor) return false;
      return isSame([...(a as Iterable<unknown>)], [...(b as Iterable<unknown>)]);
    }
    if (Array.isArray(b) || b instanceof Map || b instanceof Set) return false;
    const keys = Object.keys(a);
    return (
      keys.length === Object.keys(b).length &&
      keys.every(
        (key) =>
          Object.hasOwn(b, key) &&
          isSame((a as Readonly<Record<string, unknown>>)[key], (b as Readonly<Record<string, unknown>>)[key]),
      )
    );
  };
  return isSame;
}
