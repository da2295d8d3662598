/** What must stand where while the platform waits, and what is looked at there, by place in walking order. */
import type { Every, Item, Place, Platform, ReadyLine } from "../../schema/collection.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { lookup } from "../parts/lookup.ts";

/** How often, from the most often on: the order in which a sheet asks. */
export const EVERY: readonly Every[] = ["shift", "day", "week", "run"];

/** A line of the sheet, and what it is about. */
interface Look {
  readonly line: ReadyLine;
  readonly of: Item | Place;
}

/** A place with what must stand there and what is looked at. */
interface ReadyPlace {
  readonly place: Place;
  /** On how many items it stands: 0 for a place of the platform, 1 for one on an item that stands in such a place. */
  readonly depth: number;
  readonly stands: readonly { readonly item: Item; readonly count: number }[];
  readonly looks: readonly Look[];
}

/**
 * The places at which something must stand in an arrangement, or something is looked at, in walking order: the
 * platform's places in the order of its file, each followed by the places on what stands there, then the stores. An
 * item's lines stand where its pieces stand, in the order of the equipment. Empty if nothing stands anywhere.
 */
export function readinessOf(platform: Platform, { contents }: Pick<Arrangement, "contents">): ReadyPlace[] {
  const { items, places } = lookup(platform);
  const order = new Map(platform.items.map(({ id }, index) => [id, index]));
  const visit = (place: Place, depth: number): ReadyPlace[] => {
    const stands = contents
      .filter((each) => each.place === place.id && each.count > 0 && items.has(each.item))
      .map(({ item, count }) => ({ item: items.get(item)!, count }))
      .sort((a, b) => order.get(a.item.id)! - order.get(b.item.id)!);
    const looks = [place, ...stands.map(({ item }) => item)].flatMap((of) =>
      (of.ready ?? []).map((line) => ({ line, of })),
    );
    const here = stands.length || looks.length ? [{ place, depth, stands, looks }] : [];
    const onThem = stands.flatMap(({ item }) => item.places.map((id) => places.get(id)!));
    return [...here, ...onThem.flatMap((on) => visit(on, depth + 1))];
  };
  const own = platform.places.filter(({ on }) => on === undefined);
  return [...own.filter(({ kind }) => kind !== "store"), ...own.filter(({ kind }) => kind === "store")].flatMap(
    (place) => visit(place, 0),
  );
}

/** A date by which something has expired or is serviced. */
interface ReadyDate {
  readonly platform: Platform;
  readonly of: Item | Place;
  readonly line: ReadyLine & { readonly until: string };
}

/** Every line with a date, the earliest first, then in the order of the files; empty where none has one. */
export function readyDates(platforms: readonly Platform[]): ReadyDate[] {
  return platforms
    .flatMap((platform) =>
      [...platform.items, ...platform.places].flatMap((of) =>
        (of.ready ?? []).flatMap((line) =>
          line.until === undefined ? [] : [{ platform, of, line: { ...line, until: line.until } }],
        ),
      ),
    )
    .sort((a, b) => (a.line.until < b.line.until ? -1 : a.line.until > b.line.until ? 1 : 0));
}

/**
 * Days until somebody looks at a line again at the latest: what is looked at every shift, every day or with every run
 * is seen tomorrow, the rest within a week (common practice, no source).
 */
export function daysToNextLook({ every }: Pick<ReadyLine, "every">): number {
  return every === undefined || every === "week" ? 7 : 1;
}
