/** Which picture stands for a thing or a document where one is enough: in lists, beside a title. */
import type { Configuration, Item, Option, Photo, Platform, Procedure } from "../../schema/collection.ts";
import { photosMoving } from "../words/procedure-facts.ts";
import { lookup } from "./lookup.ts";

/**
 * The picture that shows an item and the fewest others, of several that of a step that carries it: a step that turns
 * the latch beside it shows the latch. None if no picture shows it.
 */
export function portraitOf(platform: Platform, item: Pick<Item, "id">): Photo | undefined {
  const carrying = photosMoving(platform, item.id);
  const rank = ({ id, shows }: Photo) => 2 * shows.length + (carrying.has(id) ? 0 : 1);
  return platform.photos
    .filter(({ shows }) => shows.some(({ id }) => id === item.id))
    .toSorted((a, b) => rank(a) - rank(b))[0];
}

/** The picture of a procedure's first safety-critical step that has one, else of its first step that has one. */
export function pictureOfProcedure(platform: Platform, { steps }: Pick<Procedure, "steps">): Photo | undefined {
  const pictured = steps.filter(({ photos }) => photos.length > 0),
    step = pictured.find(({ critical }) => critical) ?? pictured[0];
  return step && lookup(platform).photos.get(step.photos[0]!.id);
}

/** The picture of a configuration as it stands built: the first photo in its own text; none where it has none. */
export function pictureOfArrangement(platform: Platform, { body }: Pick<Configuration, "body">): Photo | undefined {
  for (const block of body)
    if (block.kind === "component" && block.name === "Photo") {
      const photo = lookup(platform).photos.get(String(block.attributes["id"]));
      if (photo) return photo;
    }
  return undefined;
}

/** The first photo in an option's own text, else that of the first item that it fits and that a picture shows. */
export function pictureOfOption(platform: Platform, option: Pick<Option, "fitted" | "body">): Photo | undefined {
  const own = pictureOfArrangement(platform, option);
  if (own) return own;
  for (const { item } of option.fitted) {
    const portrait = portraitOf(platform, { id: item });
    if (portrait) return portrait;
  }
  return undefined;
}
