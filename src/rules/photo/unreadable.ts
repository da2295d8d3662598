/** Files that are called images and are none. */
import type { Rule } from "../../findings/finding.ts";
import { photosOf } from "../photos.ts";

/** Every image file can be read as JPEG, PNG or WebP. */
export const unreadable: Rule = {
  id: "photo/unreadable",
  severity: "error",
  asks: "Every photo is a JPEG, PNG or WebP that can be opened.",
  why: "A broken picture is found by the crew that needs it.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const photo of photosOf(collection))
      if (photo.file && !photo.image)
        report(
          { file: photo.file, line: 1, column: 1 },
          {
            message: `\`${photo.file.split("/").at(-1)}\` can't be read as an image, expected a JPEG, PNG or WebP`,
            fix: "Open it and save it again as a JPEG, or replace it",
          },
        );
  },
};
