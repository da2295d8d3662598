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
  const from = (place: string) => `from ${namePlace(platform, place)}`;
  const tables: CountedTable[] = [
    {
      id: "fetch",
      title: "Fetch first",
      about: "In the order of the walk. Press a circle for each one in your hands.",
      way: "Stands in",
      done: "fetched",
      total: "Pieces to fetch",
      none: `Nothing: all that is needed travels with ${sayThe(platform.name)}.`,
      rows: listFetches(changeover.steps, platform).map((each) => row(each, `before step ${each.before + 1}`)),
    },
    {
      id: "out",
      title: "Count out",
      about: "Goes back to its home. Press a circle for each one you put down.",
      way: "Goes to",
      done: "put down",
      total: "Pieces out",
      none: "Nothing comes off.",
      rows: counts.out.map(({ item, count, to, stowed }) =>
        row({ item, count, place: to }, stowed ? "before the wheels roll" : undefined, stowed),
      ),
    },
    {
      id: "in",
      title: "Count in",
      about: "Is fitted. Press a circle for each one in its place.",
      way: "Goes to",
      done: "in its place",
      total: "Pieces in",
      none: "Nothing goes on.",
      rows: counts.into.map((each) => row({ ...each, place: each.to }, from(each.from))),
    },
    {
      id: "moved",
      title: "Move",
      about: "Stays on, in another place.",
      way: "Goes to",
      done: "in its place",
      total: "Pieces moved",
      none: "",
      rows: counts.moved.map((each) => row({ ...each, place: each.to }, from(each.from))),
    },
  ];
  const stowed = counts.out.filter((each) => each.stowed);
  return {
    tables: tables.filter(({ id, rows }) => id !== "moved" || rows.length > 0),
    ...(changeover.undone.length > 0
      ? {
          undone: `${changeover.undone
            .map(
              ({ item, count, from: place }) =>
                `${pieces(count, item)} leaves the ${namePlace(platform, place)} and comes back to it`,
            )
            .join("; ")}. There is no shorter way with these procedures.`,
        }
      : {}),
    ...(stowed.length > 0
      ? {
          back: `${sayList(
            stowed.map(({ item, count, to }) => `${pieces(count, item)} back in the ${namePlace(platform, to)}`),
          )}. Count them aloud.`,
        }
      : {}),
  };
}

/** Most pieces of a row that have a pin each; more have one pin together. */
const MOST_PINS = 8;

/** The pins of a row, by what each is read out as: `Capsule pin, 2 of 4: fetched`; at least one. */
export function pinsOf({ itemName, count }: CountedRow, done: string): string[] {
  return count > 1 && count <= MOST_PINS
    ? Array.from({ length: count }, (_, at) => `${itemName}, ${at + 1} of ${count}: ${done}`)
    : [`${itemName}: ${done}`];
}

/** How many pieces the rows come to. */
export function totalOf(rows: readonly CountedRow[]): number {
  return rows.reduce((sum, { count }) => sum + count, 0);
}
