/**
 * What a changeover's parts come to: counted off the platform, counted on to it, and fetched from the stores in the
 * order of the walk.
 */
import type { Platform } from "../../schema/collection.ts";
import type { Changeover, NetMove } from "./changeover.ts";
import { takenFromStart } from "../parts/handling.ts";
import type { PlannedStep } from "../parts/reading.ts";

/** The net parts of a changeover, sorted for counting. Pieces are counted, not rows. */
interface Counts {
  /** What goes home: off the platform, or back into a tray or another place that travels with it. */
  readonly out: readonly CountRow[];
  /** What leaves its home and is fitted. */
  readonly into: readonly CountRow[];
  /** What stands in another place than before, neither of them its home. */
  readonly moved: readonly CountRow[];
  readonly total: { readonly out: number; readonly into: number; readonly moved: number };
}

interface CountRow extends NetMove {
  /** It goes home to a place that travels: it must be back there before the platform rolls. */
  readonly stowed: boolean;
}

/** Pieces that stand in a store and are needed on the way. */
interface Fetch {
  readonly item: string;
  readonly place: string;
  readonly count: number;
  /** Index of the first step that takes one of them. */
  readonly before: number;
}

/** Sorts the net parts: each is counted out, counted in, or moved. */
export function countParts({ parts }: Pick<Changeover, "parts">, platform: Pick<Platform, "items" | "places">): Counts {
  const home = new Map(platform.items.map((item) => [item.id, item.home]));
  const kinds = new Map(platform.places.map((place) => [place.id, place.kind]));
  const rows = parts.map((part): CountRow => ({
    ...part,
    stowed: part.to === home.get(part.item) && kinds.get(part.to) === "stowage",
  }));
  const out = rows.filter(({ item, to }) => to === home.get(item));
  const into = rows.filter(({ item, from, to }) => from === home.get(item) && to !== from);
  const moved = rows.filter((row) => !out.includes(row) && !into.includes(row));
  const pieces = (list: readonly CountRow[]) => list.reduce((sum, { count }) => sum + count, 0);
  return { out, into, moved, total: { out: pieces(out), into: pieces(into), moved: pieces(moved) } };
}

/**
 * What has to be fetched: the pieces that the steps take from where they stood in a store at the start, also those that
 * are brought back at the end. In the order of the walk: store by store in the order of the collection's places, there
 * by item in the order of its equipment; empty if all that is needed travels with the platform.
 */
export function listFetches(steps: readonly PlannedStep[], platform: Pick<Platform, "items" | "places">): Fetch[] {
  const stores = new Map(platform.places.flatMap(({ id, kind }, at) => (kind === "store" ? [[id, at] as const] : [])));
  const order = new Map(platform.items.map(({ id }, at) => [id, at]));
  const found = new Map<string, Fetch>();
  for (const { item, place, count, at } of takenFromStart(steps.map(({ step }) => step))) {
    if (!stores.has(place)) continue;
    const known = found.get(`${item} ${place}`) ?? { item, place, count: 0, before: at };
    found.set(`${item} ${place}`, { ...known, count: known.count + count });
  }
  return [...found.values()].sort(
    (a, b) => stores.get(a.place)! - stores.get(b.place)! || order.get(a.item)! - order.get(b.item)!,
  );
}
