/**
 * What is shown of a changeover beside its steps, in words: the tables of what to fetch and count, and the sentences
 * that go with them. The page of a pair, the paper under it and the answer on a device all show this.
 */
import { sayThe } from "../words/say.ts";
import type { Platform } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import type { Changeover } from "../states/changeover.ts";
import { countParts, listFetches } from "../states/counts.ts";
import { nameItem, namePlace } from "../parts/lookup.ts";
import { heard } from "../../words/heard.ts";

/** A row of a table: pieces of an item and where they stand or go, by id and in words. */
export interface CountedRow {
  readonly item: string;
  readonly itemName: string;
  readonly place: string;
  readonly placeName: string;
  readonly count: number;
  /** What stands small below the item. */
  readonly note?: string;
  /** Whether its place must stand out: it is to be back there before the platform rolls. */
  readonly strong?: boolean;
}

/** Parts to be counted, a pin to press for each piece. */
export interface CountedTable {
  readonly id: "fetch" | "out" | "in" | "moved";
  readonly title: string;
  /** What is in it and what its pins are for. */
  readonly about: string;
  /** What its column of places says. */
  readonly way: string;
  /** What a pressed pin means: `put down`, `fetched`. */
  readonly done: string;
  /** What stands before the sum in its last row. */
  readonly total: string;
  /** What is said where there is no row. */
  readonly none: string;
  readonly rows: readonly CountedRow[];
}

/** The tables in the order in which they are done, and the sentences; `moved` is left out where nothing is. */
interface ChangeoverView {
  readonly tables: readonly CountedTable[];
  /** What goes off and comes back on the way; absent if nothing does. */
  readonly undone?: string;
  /** What must be back in its place before the platform rolls, as the end of a sentence; absent if nothing must. */
  readonly back?: string;
}

/** What is shown of a changeover on a platform. */
export function viewChangeover(
  changeover: Pick<Changeover, "parts" | "steps" | "undone">,
  platform: Platform,
): ChangeoverView {
  const counts = countParts(changeover, platform);
  const pieces = (count: number, item: string) => `${count > 1 ? `${count} × ` : ""}${nameItem(platform, item)}`;
  const row = (
    { item, place, count }: { readonly item: string; readonly place: string; readonly count: number },
    note?: string,
    strong = false,
  ): CountedRow => ({
    item,
    itemName: nameItem(platform, item),
    place,
    placeName: namePlace(platform, place),
    count,
    ...(note ? { note } : {}),
    ...(strong ? { strong } : {}),
  });
  const from = (place: string) => heard("toCount").fromWhichPlatform({ whichPlatform: namePlace(platform, place) });
  const tables: CountedTable[] = [
    {
      id: "fetch",
      title: heard("toCount").fetchFirst,
      about: heard("toCount").inTheOrder,
      way: heard("toCount").standsIn,
      done: heard("toCount").fetched,
      total: heard("toCount").piecesToFetch,
      none: heard("toCount").nothingAll({ whichPlatform: sayThe(platform.name) }),
      rows: listFetches(changeover.steps, platform).map((each) =>
        row(each, heard("toCount").beforeStep({ before: each.before + 1 })),
      ),
    },
    {
      id: "out",
      title: heard("toCount").countOut,
      about: heard("toCount").goesBack,
      way: heard("toCount").goesTo,
      done: heard("toCount").putDown,
      total: heard("toCount").piecesOut,
      none: heard("toCount").nothingComesOff,
      rows: counts.out.map(({ item, count, to, stowed }) =>
        row({ item, count, place: to }, stowed ? heard("toCount").beforeTheWheelsRoll : undefined, stowed),
      ),
    },
    {
      id: "in",
      title: heard("toCount").countIn,
      about: heard("toCount").isFittedPress,
      way: heard("toCount").goesTo,
      done: heard("toCount").inItsPlace,
      total: heard("toCount").piecesIn,
      none: heard("toCount").nothingGoes,
      rows: counts.into.map((each) => row({ ...each, place: each.to }, from(each.from))),
    },
    {
      id: "moved",
      title: heard("toCount").move,
      about: heard("toCount").staysOnInAnother,
      way: heard("toCount").goesTo,
      done: heard("toCount").inItsPlace,
      total: heard("toCount").piecesMoved,
      none: "",
      rows: counts.moved.map((each) => row({ ...each, place: each.to }, from(each.from))),
    },
  ];
  const stowed = counts.out.filter((each) => each.stowed);
  return {
    tables: tables.filter(({ id, rows }) => id !== "moved" || rows.length > 0),
    ...(changeover.undone.length > 0
      ? {
          undone: heard("toCount").thereIsNoShorter({
            undone: changeover.undone
              .map(({ item, count, from: place }) =>
                heard("toCount").leavesTheAndComes({
                  count: pieces(count, item),
                  whichPlatform: namePlace(platform, place),
                }),
              )
              .join("; "),
          }),
        }
      : {}),
    ...(stowed.length > 0
      ? {
          back: heard("toCount").countThemAloud({
            stowed: sayList(
              stowed.map(({ item, count, to }) =>
                heard("toCount").backIn({ count: pieces(count, item), whichPlatform: namePlace(platform, to) }),
              ),
            ),
          }),
        }
      : {}),
  };
}

/** A store on the walk: pieces to fetch there, and the seconds one way, absent where the platform says none. */
interface Stop {
  readonly placeName: string;
  readonly count: number;
  readonly walkSeconds?: number;
}

/**
 * The walk to the stores, in the order in which the rows of what to fetch name them; empty where there is one or none:
 * then there is no order to keep.
 */
export function walkOf({ tables }: Pick<ChangeoverView, "tables">, { places }: Pick<Platform, "places">): Stop[] {
  const rows = tables.find(({ id }) => id === "fetch")?.rows ?? [];
  const stops = [...new Set(rows.map(({ place }) => place))].map((place): Stop => {
    const there = rows.filter((row) => row.place === place),
      seconds = places.find(({ id }) => id === place)?.walkSeconds;
    return {
      placeName: there[0]!.placeName,
      count: totalOf(there),
      ...(seconds === undefined ? {} : { walkSeconds: seconds }),
    };
  });
  return stops.length > 1 ? stops : [];
}

/** Most pieces of a row that have a pin each; more have one pin together. */
const MOST_PINS = 8;

/** The pins of a row, by what each is read out as: `Capsule pin, 2 of 4: fetched`; at least one. */
export function pinsOf({ itemName, count }: CountedRow, done: string): string[] {
  return count > 1 && count <= MOST_PINS
    ? Array.from({ length: count }, (_, at) => heard("toCount").itemName({ itemName, at: at + 1, count, done }))
    : [heard("toCount").itemDone({ itemName, done })];
}

/** How many pieces the rows come to. */
export function totalOf(rows: readonly CountedRow[]): number {
  return rows.reduce((sum, { count }) => sum + count, 0);
}
