/** Photos of equipment that is no longer in use. */
import { type Rule, whereOf } from "../../findings/finding.ts";

/** A photo was taken when the items that it shows were in use: not before their `replaced`. */
export const olderThanItem: Rule = {
  id: "photo/older-than-item",
  severity: "warning",
  asks: "A photo is not older than the model of the items that it shows.",
  why: "A new starter who compares the picture with the part in hand finds another part.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const platform of collection.platforms) {
      const items = new Map(platform.items.map((item) => [item.id, item]));
      for (const photo of platform.photos)
        for (const shown of photo.shows) {
          const item = items.get(shown.id);
          if (photo.taken && item?.replaced && photo.taken < item.replaced)
            report(whereOf(photo, "taken"), {
              message: `Taken on ${photo.taken}, before this model of \`${item.id}\` came into use on ${item.replaced}`,
              fix: "Take the photo again, or correct `taken` or the item's `replaced`",
              cause: whereOf(item, "replaced"),
            });
        }
    }
  },
};
