/** What of a site is worked out from its collection alone, so that the next site of an equal collection has it too. */
import { remember } from "../domain/words/remember.ts";
import type { Collection } from "../schema/collection.ts";
import type { Site } from "./site.ts";

/**
 * A function of a site and other records that works out its result once for the site's collection (`remember`). `work`
 * is given that in the site's place: its day is `on`, and what else a site has it can't rest on.
 */
export function ofCollection<Others extends readonly object[], Result>(
  work: (collection: Collection, ...others: Others) => Result,
): (site: Pick<Site, "collection">, ...others: Others) => Result {
  const once = remember<readonly [Collection, ...Others], Result>(work);
  return ({ collection }, ...others) => once(collection, ...others);
}
