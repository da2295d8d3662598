/** What is on the platform and where its mass acts, as rows that can be added up. */
import type { Item, Place, Platform } from "../../schema/collection.ts";
import { placesUnder, standingIn } from "../parts/support.ts";
import { exactly, fraction, over, type Rational, sum, times, ZERO } from "../numbers/rational.ts";
import { remember } from "../words/remember.ts";

/** Pieces of an item in a place, anywhere; only what is on the platform counts. */
interface Content {
  readonly item: string;
  readonly place: string;
  readonly count: number;
}

/** What can be loaded: an arrangement, or any state of the platform. */
export interface Loadable {
  readonly contents: readonly Content[];
}

/** Pieces on the platform: mass of them all, and where it acts. `xMm` is undefined where the place has no x. */
export interface LoadRow extends Content {
  readonly massKg: Rational;
  readonly xMm: Rational | undefined;
  /** Whether the item has a mass in the collection; without one it counts as 0. */
  readonly hasMass: boolean;
}

/** Totals in kg, kg·m and mm; `balanceMm` is undefined when there is no mass at all. */
export interface Totals {
  readonly massKg: Rational;
  readonly momentKgm: Rational;
  readonly balanceMm: Rational | undefined;
}

/** What of a platform loads rest on. */
type Laden = Pick<Platform, "items" | "places">;

const THOUSAND = fraction(1000n);

/**
 * Everything on the platform, in the order given: on its mounts and in its stowages, and in places on items that are
 * there themselves;
 * what is in a store or `aside` is left out. A place on an item lies at where the item stands plus `dx` (0 if left
 * out).
 */
export function listRows(platform: Laden, { contents }: Loadable): readonly LoadRow[] {
  return rowsOf(platform, contents);
}

/** The same contents are asked for with several patients and by several rules. */
const rowsOf = remember(makeRows);

function makeRows(platform: Laden, contents: readonly Content[]): LoadRow[] {
  const locate = placeLocator(platform, contents);
  const items = new Map(platform.items.map((item) => [item.id, item]));
  return contents.flatMap((content) => {
    const item = items.get(content.item);
    const at = locate(content.place);
    if (!item || !at || content.count <= 0) return [];
    const massKg = times(exactly(item.massKg ?? 0), fraction(BigInt(content.count)));
    return [
      {
        item: content.item,
        place: content.place,
        count: content.count,
        massKg,
        xMm: at.xMm,
        hasMass: item.massKg !== undefined,
      },
    ];
  });
}

/**
 * Where a place is, in mm from the datum: the place of the platform under everything that it stands on, and the
 * distances of the places from what they are on. `undefined` when it is not on the platform; `xMm` and `yMm` are
 * `undefined` when nothing says where.
 */
export function placeLocator(
  platform: Pick<Platform, "places">,
  contents: readonly Content[],
): (place: string) => { readonly xMm: Rational | undefined; readonly yMm: Rational | undefined } | undefined {
  const places = new Map<string, Place>(platform.places.map((place) => [place.id, place]));
  const stands = standingIn(contents),
    standsIn = (item: string) => stands(item).slice(0, 1);
  return (id) => {
    const chain = placesUnder(id, places, standsIn).map((each) => places.get(each));
    const own = chain.at(-1);
    if (!own || own.on !== undefined || chain.some((place) => !place || place.kind === "store")) return undefined;
    const above = chain.slice(0, -1) as Place[];
    const along = (from: number | undefined, distances: readonly (number | undefined)[]) =>
      from === undefined ? undefined : sum(exactly(from), ...distances.map((each) => exactly(each ?? 0)));
    return {
      xMm: along(
        own.xMm,
        above.map(({ dxMm }) => dxMm),
      ),
      yMm: along(
        own.yMm,
        above.map(({ dyMm }) => dyMm),
      ),
    };
  };
}

/** A number of the schema as a fraction; undefined stays undefined. */
export function fractionOf(value: number | undefined): Rational | undefined {
  return value === undefined ? undefined : exactly(value);
}

/**
 * Total mass, moment about the datum and balance point. A row without x counts at the datum (0): `load/no-mass` says so
 * to the author.
 */
export function addUp(rows: readonly { readonly massKg: Rational; readonly xMm: Rational | undefined }[]): Totals {
  const massKg = sum(...rows.map((row) => row.massKg));
  const momentKgm = over(sum(...rows.map((row) => times(row.massKg, row.xMm ?? ZERO))), THOUSAND);
  return { massKg, momentKgm, balanceMm: massKg.n === 0n ? undefined : times(over(momentKgm, massKg), THOUSAND) };
}

/** Items without a mass among the rows, each once, in order. */
export function itemsWithoutMass(platform: Platform, rows: readonly LoadRow[]): Item[] {
  const missing = new Set(rows.filter((row) => !row.hasMass).map(({ item }) => item));
  return platform.items.filter(({ id }) => missing.has(id));
}
