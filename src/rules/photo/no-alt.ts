/** Photos that nobody describes. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import { photosOf } from "../photos.ts";

/** Every image has a sidecar with `alt`. */
export const noAlt: Rule = {
  id: "photo/no-alt",
  severity: "error",
  asks: "Every photo has a sidecar that says in `alt` what it shows.",
  why: "Whoever can't see the picture, because of eyes, light or signal, gets the words.",
  source: "WCAG 2.2, success criterion 1.1.1",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const photo of photosOf(collection)) {
      if (!photo.file) continue;
      if (!photo.sidecar)
        report(photo.where, {
          message: `The photo \`${photo.id}\` has no sidecar \`${photo.id}.yaml\``,
          fix: `Write \`${photo.id}.yaml\` beside it, with \`alt: …\` in words that replace the picture`,
        });
      else if (!photo.alt?.trim() && !(damaged.has(photo.sidecar) && Object.keys(photo.at).length === 0))
        report(whereOf(photo, "alt"), {
          message: "`alt` is missing, expected what the photo shows",
          fix: "Add `alt: …` in words that replace the picture",
        });
    }
  },
};
