/** The one module that pages read: the collection and what is computed from it, each worked out once in a build. */
import type { Collection, Configuration, Item, Photo, Place, Platform, Procedure } from "../schema/collection.ts";
import { type Arrangement, validArrangements } from "../domain/parts/arrangements.ts";
import { meetBands } from "../domain/bands/bands.ts";
import { bandEnds, reportLoad } from "../domain/load/load.ts";
import { layRail, type Rail } from "../drawing/rail.ts";
import { currentJob, once } from "./job.ts";

/** The collection, for pages: `const { service, platforms } = collection`. */
export const collection: Collection = currentJob().collection;

/** The platform of that id; throws if a page asks for one that isn't there. */
export function platformOf(id: string): Platform {
  return needed(
    collection.platforms.find((platform) => platform.id === id),
    `platform ${id}`,
  );
}

/** Records of a platform by id. */
export interface Lookup {
  readonly items: ReadonlyMap<string, Item>;
  readonly places: ReadonlyMap<string, Place>;
  readonly procedures: ReadonlyMap<string, Procedure>;
  readonly configurations: ReadonlyMap<string, Configuration>;
  readonly photos: ReadonlyMap<string, Photo>;
}

/** Items, places, procedures, configurations and photos of a platform by id. */
export function lookup(platform: Platform): Lookup {
  const byId = <T extends { id: string }>(list: readonly T[]) => new Map(list.map((entry) => [entry.id, entry]));
  return once(`lookup/${platform.id}`, () => ({
    items: byId(platform.items),
    places: byId(platform.places),
    procedures: byId(platform.procedures),
    configurations: byId(platform.configurations),
    photos: byId(platform.photos),
  }));
}

/** The configurations that may be chosen: all but the withdrawn ones, in the collection's order. */
export function inUse(platform: Platform): readonly Configuration[] {
  return once(`in-use/${platform.id}`, () => platform.configurations.filter(({ status }) => status !== "withdrawn"));
}

/** The weight rail of a platform. */
export function railOf(platform: Platform): Rail {
  return once(`rail/${platform.id}`, () =>
    layRail(
      inUse(platform).map(({ id, band }) => ({ id, weight: band.weight })),
      collection.service.band.weight,
    ),
  );
}

/** Address of the page on which a weight is chosen: the home page, or the platform's own where there are several. */
export function homeOf(platform: Platform | undefined): string {
  return platform && collection.platforms.length > 1 ? `${platform.id}/` : "";
}

/** The day of the build, `YYYY-MM-DD`. */
export const today: string = currentJob().today;

/** `2026-09-14` as `14 Sep 2026`: the month in letters, so that no one reads 03/04 the wrong way round. */
export function sayDate(date: string): string {
  const [year, month, day] = date.split("-").map(Number);
  return `${day} ${["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"][month! - 1]} ${year}`;
}

/** Seconds as `4:50`. */
export function sayMinutes(seconds: number): string {
  return `${Math.floor(seconds / 60)}:${String(Math.round(seconds % 60)).padStart(2, "0")}`;
}

/** The value, or an error that names what is missing (a programmer's mistake, not an author's). */
export function needed<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`The collection has no ${what}`);
  return value;
}

/** The arrangements of a platform that can exist: each configuration with each set of options, fewest options first. */
export function arrangementsOf(platform: Platform): readonly Arrangement[] {
  return once(`arrangements/${platform.id}`, () => validArrangements(platform));
}

/** A configuration without options, as an arrangement; `undefined` if it can't exist. */
export function bareArrangement(configuration: Configuration): Arrangement | undefined {
  return arrangementsOf(platformOf(configuration.platform)).find(({ name }) => name === configuration.id);
}

/** The arrangement in which the platform waits; `undefined` if none is standing. */
export function standingOf(platform: Platform): Arrangement | undefined {
  const standing = inUse(platform).find((configuration) => configuration.standing);
  return standing && bareArrangement(standing);
}

/**
 * Mass of an arrangement with the lightest and the heaviest patient of its band, in kilograms; `undefined` if nothing
 * has a mass.
 */
export function massRange(
  platform: Platform,
  arrangement: Arrangement,
): { readonly fromKg: number; readonly toKg: number } | undefined {
  const band = meetBands(arrangement.band, collection.service.band) ?? arrangement.band;
  const { fromKg, toKg } = bandEnds(band);
  const least = reportLoad(platform, arrangement, fromKg),
    most = reportLoad(platform, arrangement, toKg ?? fromKg);
  return least.own.kg === 0 && least.items.every(({ kg }) => kg === 0)
    ? undefined
    : { fromKg: least.mass.kg, toKg: most.mass.kg };
}

/** A mass for reading, to a tenth of a kilogram. */
export function sayMass(kg: number): string {
  return `${(Math.round(kg * 10) / 10).toFixed(1).replace(/\.0$/, "")}`;
}
