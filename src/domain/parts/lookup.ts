/** Records of a platform by id, those of them that are in force, and their names as people say them. */
import type { Band, Configuration, Item, Photo, Place, Platform, Procedure } from "../../schema/collection.ts";
import { ASIDE } from "../../schema/units.ts";
import { lowerFirst } from "../../schema/wording.ts";
import { remember } from "../words/remember.ts";
import { shareOf } from "../bands/bands.ts";
import { type Arrangement, findArrangement, validArrangements } from "./arrangements.ts";
import { placesUnder } from "./support.ts";
import { heard } from "../../words/heard.ts";

/** Records of a platform by id. */
interface Lookup {
  readonly items: ReadonlyMap<string, Item>;
  readonly places: ReadonlyMap<string, Place>;
  readonly procedures: ReadonlyMap<string, Procedure>;
  readonly configurations: ReadonlyMap<string, Configuration>;
  readonly photos: ReadonlyMap<string, Photo>;
}

/** Items, places, procedures, configurations and photos of a platform by id; empty maps where it has none. */
export const lookup: (platform: Platform) => Lookup = /* @__PURE__ */ remember((platform: Platform) => {
  const byId = <T extends { id: string }>(list: readonly T[]) => new Map(list.map((entry) => [entry.id, entry]));
  return {
    items: byId(platform.items),
    places: byId(platform.places),
    procedures: byId(platform.procedures),
    configurations: byId(platform.configurations),
    photos: byId(platform.photos),
  };
});

/** The configurations that may be chosen: those in force, in the collection's order. */
export const inUse: (platform: Platform) => readonly Configuration[] = /* @__PURE__ */ remember((platform: Platform) =>
  platform.configurations.filter(({ status }) => status === "approved"),
);

/**
 * The procedures that may be done, planned with and learnt: those in force, in the collection's order; empty where
 * there is none. Where proposals count as well, the platform is one of `Force.proposed`, in which they are as if
 * approved.
 */
export function usableProcedures({ procedures }: Pick<Platform, "procedures">): Procedure[] {
  return procedures.filter(({ status }) => status === "approved");
}

/** A configuration without options, as an arrangement; `undefined` if it can't exist. */
export function bareArrangement(platform: Platform, configuration: Configuration): Arrangement | undefined {
  return validArrangements(platform).find(({ name }) => name === configuration.id);
}

/** The arrangement in which the platform waits; `undefined` if none is standing. */
export function standingArrangement(platform: Platform): Arrangement | undefined {
  const standing = inUse(platform).find((configuration) => configuration.standing);
  return standing && bareArrangement(platform, standing);
}

/** A place's name; `aside` in words; the id itself when there is no such place. */
export function namePlace(platform: Platform, id: string): string {
  return id === ASIDE ? heard("fitting").asideWithinReach : (lookup(platform).places.get(id)?.name ?? id);
}

/** An item's name, or the id itself when there is no such item. */
export function nameItem(platform: Platform, id: string): string {
  return lookup(platform).items.get(id)?.name ?? id;
}

/**
 * The names on the way to an item's home while all is at home, the outermost place first: a place, an item in it, a
 * place on that … the home itself.
 *
 * Example: of a roll in the pouch of a capsule that lives in the store: `["Store", "Capsule", "Pouch"]`.
 */
export function wayHome(platform: Platform, { home }: Pick<Item, "home">): string[] {
  const { items, places } = lookup(platform);
  return placesUnder(home, places, (id) => (items.has(id) ? [items.get(id)!.home] : []))
    .flatMap((id) => {
      const on = items.get(places.get(id)?.on ?? "");
      return [namePlace(platform, id), ...(on ? [on.name] : [])];
    })
    .toReversed();
}

/** An option's title as it stands within a sentence, or the id itself when there is no such option. */
export function nameOption(platform: Platform, id: string): string {
  const option = platform.options.find((each) => each.id === id);
  return option ? lowerFirst(option.title) : id;
}

/** A configuration with the options that every patient of a band needs; `undefined` if that can't exist. */
export function arrangementNeeded(
  platform: Platform,
  configuration: Configuration,
  band: Band,
): Arrangement | undefined {
  const needed = (configuration.requires ?? []).filter((each) => shareOf(each.band, band) === "all");
  return findArrangement(
    validArrangements(platform),
    [configuration.id, ...new Set(needed.map(({ option }) => option))].join("+"),
  );
}
