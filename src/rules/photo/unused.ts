/** Photos that no page shows. */
import type { Block, Platform } from "../../schema/collection.ts";
import type { Rule } from "../../findings/finding.ts";
import { bareName, photoMeant, photosOf, photoUses } from "../photos.ts";

/** Every image is shown by a step, a component or a background page. */
export const unused: Rule = {
  id: "photo/unused",
  severity: "warning",
  asks: "Every photo is shown somewhere.",
  why: "A picture that nothing shows is often one that a step has lost.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const platform of collection.platforms) {
      // A step that could not be read may show it.
      if ([...damaged].some((file) => file.startsWith(`${platform.id}/`) && file.endsWith(".mdx"))) continue;
      const used = usedPhotos(platform);
      // The photo that a mistyped name means is told of there, and is not to be deleted.
      for (const { reference, photo } of photoUses({ ...collection, platforms: [platform] })) {
        const meant = photo ? undefined : photoMeant(platform, bareName(reference.id));
        if (meant !== undefined) used.add(meant);
      }
      for (const photo of photosOf({ ...collection, platforms: [platform] }))
        if (photo.file && !used.has(photo.id))
          report(photo.where, {
            message: `No step shows the photo \`${photo.id}\``,
            fix: `Add \`photo=${photo.id}\` to the step that it shows, or delete the photo`,
          });
    }
  },
};

/**
 * Ids of the photos that steps and components name. A component's attribute counts if it is the photo's id or a list
 * with it.
 */
function usedPhotos(platform: Platform): Set<string> {
  const inSteps = platform.procedures.flatMap((procedure) =>
    procedure.steps.flatMap((step) => step.photos.map(({ id }) => id)),
  );
  const blocks = [
    ...platform.procedures.flatMap((procedure) => [
      ...procedure.purpose,
      ...procedure.sections.flatMap((section) =>
        section.entries.flatMap((entry): readonly Block[] =>
          entry.kind === "step" ? entry.detail : entry.kind === "include" ? [] : [entry],
        ),
      ),
    ]),
    ...[...platform.configurations, ...platform.options].flatMap(({ body }) => body),
  ];
  return new Set([
    ...inSteps,
    ...blocks.flatMap(namesInBlock),
    ...platform.readings.flatMap(({ mentions }) => mentions ?? []),
  ]);
}

function namesInBlock(block: Block): string[] {
  if (block.kind === "component")
    return Object.values(block.attributes).flatMap((value) => (typeof value === "string" ? value.split(/\s+/) : []));
  if (block.kind === "alert" || block.kind === "quote") return block.children.flatMap(namesInBlock);
  if (block.kind === "list") return block.items.flat().flatMap(namesInBlock);
  return [];
}
