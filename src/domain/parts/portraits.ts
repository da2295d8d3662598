/** Which picture stands for a thing or a document where one is enough: in lists, beside a title. */
import type { Item, Option, Photo, Platform, Procedure } from "../../schema/collection.ts";
import { lookup } from "./lookup.ts";

/** The picture that shows an item and the fewest others; none if no picture shows it. */
export function portraitOf(platform: Platform, item: Pick<Item, "id">): Photo | undefined {
  return platform.photos
    .filter(({ shows }) => shows.some(({ id }) => id === item.id))
    .sort((a, b) => a.shows.length - b.shows.length)[0];
}

/** The picture of a procedure's first safety-critical step that has one, else of its first step that has one. */
export function pictureOfProcedure(platform: Platform, { steps }: Pick<Procedure, "steps">): Photo | undefined {
  const pictured = steps.filter(({ photos }) => photos.length > 0),
    step = pictured.find(({ critical }) => critical) ?? pictured[0];
  return step && lookup(platform).photos.get(step.photos[0]!.id);
}

/** The picture of a configuration as it stands built: the photo `arrangement-ID` of the collection. */
export function pictureOfArrangement(platform: Platform, configuration: string): Photo | undefined {
  return lookup(platform).photos.get(`arrangement-${configuration}`);
}

/** The picture of the first item that an option fits and that a picture shows. */
export function pictureOfOption(platform: Platform, { fitted }: Pick<Option, "fitted">): Photo | undefined {
  for (const { item } of fitted) {
    const portrait = portraitOf(platform, { id: item });
    if (portrait) return portrait;
  }
  return undefined;
}
