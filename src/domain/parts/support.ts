/**
 * What stands on what: the places under a place, one below the other; the one owner of it for everything drawn, weighed
 * and asked.
 */
import type { Place } from "../../schema/collection.ts";

/** As much of a place as says what it is on. */
type OnItem = Pick<Place, "on">;

/** Where an item has pieces: ids of places; empty if it has none anywhere. */
type StandsIn = (item: string) => readonly string[];

/**
 * The places under a place, itself first: where the item stands that it is on, then where the item stands that this
 * place is on, and so on down; of an item with pieces in several places, all of them. Each place once, so that a circle
 * ends. What is under a place of the platform's own is nothing but that place; the last of the list is on an item that
 * stands nowhere, if anything is.
 *
 * Example: straps in `cradle-slots`, which is on a cradle that stands on the `deck`: `["cradle-slots", "deck"]`.
 */
export function placesUnder(place: string, places: ReadonlyMap<string, OnItem>, standsIn: StandsIn): string[] {
  const found = new Set<string>();
  const visit = (id: string) => {
    if (found.has(id)) return;
    found.add(id);
    const item = places.get(id)?.on;
    if (item !== undefined) standsIn(item).forEach(visit);
  };
  visit(place);
  return [...found];
}

/** The items under a place, the one that it is on first; empty for a place of the platform's own. */
export function itemsUnder(place: string, places: ReadonlyMap<string, OnItem>, standsIn: StandsIn): Set<string> {
  return new Set(placesUnder(place, places, standsIn).flatMap((id) => places.get(id)?.on ?? []));
}

/** Where the items stand that are in these places; rows of no pieces count for nothing. */
export function standingIn(
  contents: readonly { readonly item: string; readonly place: string; readonly count?: number }[],
): StandsIn {
  const stands = new Map<string, string[]>();
  for (const { item, place, count = 1 } of contents)
    if (count > 0) stands.set(item, [...(stands.get(item) ?? []), place]);
  return (item) => stands.get(item) ?? [];
}
