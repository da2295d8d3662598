/** Photos that are named and not there. */
import type { Photo } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";
import type { Rule } from "../../findings/finding.ts";
import { bareName, photoMeant, photosOf, photoUses } from "../photos.ts";

/**
 * Every `photo=` has an image, and every sidecar too. An image that is gone is reported once, at the first step that
 * shows it, else at its sidecar.
 */
export const missing: Rule = {
  id: "photo/missing",
  severity: "error",
  asks: "Every photo that a step names is in the platform's `photos` folder.",
  why: "A step whose picture is missing is done from memory.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    const reported = new Set<Photo>();
    for (const { reference, photo, platform } of photoUses(collection)) {
      if (photo?.file || (photo && reported.has(photo))) continue;
      if (photo) reported.add(photo);
      const bare = bareName(reference.id);
      if (bare !== reference.id) {
        const isThere = platform.photos.some(({ id, file }) => id === bare && file);
        report(reference.where, {
          message: `\`photo\` takes the name of a photo without its ending, unexpected \`${reference.id}\``,
          fix: isThere
            ? `Write \`${bare}\``
            : `Put \`${bare}.jpg\` (or .png, .webp) into \`${platform.id}/photos/\` with a sidecar \`${bare}.yaml\`, ` +
              `and write \`${bare}\` here`,
          actual: reference.id,
          expected: [bare],
        });
        continue;
      }
      const near = photo ? undefined : photoMeant(platform, reference.id);
      report(reference.where, {
        message: `The photo \`${reference.id}\` is missing from \`${platform.id}/photos/\``,
        fix:
          (near ? heard("slipFindings").photoMeant({ near }) : "") +
          `Put \`${reference.id}.jpg\` (or .png, .webp) ` +
          `there${photo ? "" : ` with a sidecar \`${reference.id}.yaml\``}, or correct the name`,
        actual: reference.id,
        expected: near ? [near] : [],
        ...(photo ? { cause: photo.where } : {}),
      });
    }
    for (const photo of photosOf(collection))
      if (!photo.file && !reported.has(photo))
        report(photo.where, {
          message: `The image that \`${photo.id}.yaml\` describes is missing`,
          fix: `Put \`${photo.id}.jpg\` (or .png, .webp) beside it, or delete the sidecar`,
        });
  },
};
