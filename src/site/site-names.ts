/** Names of items, places and fastenings as pages say them, `aside` included. */
import type { Platform } from "../schema/collection.ts";
import { ASIDE } from "../schema/units.ts";
import { lookup } from "./site.ts";

export { lookup };

/** A place's name; `aside` in words; the id itself when there is no such place. */
export function namePlace(platform: Platform, id: string): string {
  return id === ASIDE ? "Aside, within reach" : (lookup(platform).places.get(id)?.name ?? id);
}

/** An item's name, or the id itself when there is no such item. */
export function nameItem(platform: Platform, id: string): string {
  return lookup(platform).items.get(id)?.name ?? id;
}
