/** Images that are too large to be handled safely. */
import type { Rule } from "../../findings/finding.ts";
import { photosOf } from "../photos.ts";

/** Most bytes and most pixels of an image. */
const MOST_BYTES = 40_000_000;
const MOST_PIXELS = 60_000_000;

/** An image has at most 40 MB and 60 megapixels. */
export const tooLarge: Rule = {
  id: "photo/too-large",
  severity: "error",
  asks: "A photo has at most 40 MB and 60 megapixels.",
  why: "Larger images make every build slow, and a small file can hide an image that fills the memory.",
  source: "the project's own limit; 210 mm at 300 ppi needs 2,480 pixels",
  byPlatform: true,
  check(collection, report) {
    for (const { file, image } of photosOf(collection)) {
      if (!file || !image) continue;
      const pixels = image.width * image.height;
      const size = [
        ...(image.bytes > MOST_BYTES ? [`${(image.bytes / 1e6).toFixed(1)} MB, expected at most 40 MB`] : []),
        ...(pixels > MOST_PIXELS ? [`${(pixels / 1e6).toFixed(1)} megapixels, expected at most 60`] : []),
      ];
      if (size.length)
        report(
          { file, line: 1, column: 1 },
          {
            message: `The image has ${size.join(", and ")}`,
            fix: "Save it smaller: 4,000 pixels on the long side are plenty",
          },
        );
    }
  },
};
