/** Photos that are coarse in print. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import { photosOf } from "../photos.ts";

/** Fewest pixels on the long side of what is shown. */
const FEWEST_PIXELS = 1000;

/** What is shown of a photo has at least 1,000 pixels on its long side. */
export const lowResolution: Rule = {
  id: "photo/low-resolution",
  severity: "warning",
  asks: "What is shown of a photo has at least 1,000 pixels on its long side.",
  why: "85 mm on paper at 300 pixels an inch need 1,011: with fewer, a pin and its hole run together in print.",
  source: "300 ppi at final size, 150 ppi at least: printing practice (from memory)",
  byPlatform: true,
  check(collection, report) {
    for (const photo of photosOf(collection)) {
      if (!photo.image) continue;
      const long = Math.round(Math.max(photo.crop.width * photo.image.width, photo.crop.height * photo.image.height));
      if (long < FEWEST_PIXELS)
        report(whereOf(photo, "crop"), {
          actual: String(long),
          expected: [`at least ${FEWEST_PIXELS}`],
          message: `What is shown has ${long} pixels on its long side, expected at least 1,000`,
          fix: Object.hasOwn(photo.at, "crop")
            ? "Make `crop` larger, or take the photo from nearer"
            : "Use a larger version of the photo",
        });
    }
  },
};
