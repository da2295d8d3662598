/** One platform of a collection alone, with all that stands beside the platforms. */
import type { Collection, Platform } from "../../schema/collection.ts";
import { BESIDE, followOn, readBefore } from "./as-before.ts";

/**
 * The collection with one of its platforms: the same one for as long as what stands beside it is the same. It follows
 * on that of the reading before, so that it keeps what is remembered of it.
 */
export function aloneIn(collection: Collection, platform: Platform): Collection {
  if (collection.platforms.length === 1) return collection;
  const last = views.get(platform)?.find((each) => BESIDE.every((field) => each[field] === collection[field]));
  if (last) return last;
  const made = { ...collection, platforms: [platform] },
    earlier = readBefore(collection),
    old = earlier?.platforms.find(({ id }) => id === platform.id);
  if (earlier && old) followOn(made, aloneIn(earlier, old));
  views.set(platform, [made, ...(views.get(platform) ?? []).slice(0, VIEWS)]);
  return made;
}

const views = new WeakMap<Platform, readonly Collection[]>();
/** A platform may stand in the files and in what is in force. */
const VIEWS = 2;
