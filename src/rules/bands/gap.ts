/** Rule bands/gap. */
import { compareCuts, findGaps, lowerCut, meet, type Region, sayBand, upperCut } from "../../domain/bands/bands.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";
import type { Collection, Platform, Where } from "../../schema/collection.ts";
import { hasDamage } from "./damage.ts";

/** Every patient that the service carries has an arrangement. */
export const gap: Rule = {
  id: "bands/gap",
  severity: "error",
  asks: "Every patient that the service carries has an arrangement.",
  why: "A patient in a gap is put into the neighbouring arrangement by guess.",
  source:
    "Interval notation of ISO 80000-2: [a, b[ and [b, c[ leave nothing out, [a, b[ and ]b, c[ leave out b " +
    "(from memory)",
  check(collection, report, { damaged }) {
    for (const platform of collection.platforms) {
      if (hasDamage(platform, damaged) || platform.configurations.length === 0) continue;
      for (const region of findGaps(
        collection.service.band,
        platform.configurations.map(({ band }) => band),
      ))
        report(placeOfGap(collection, platform, region), {
          message: `No configuration of \`${platform.id}\` is for a patient ${sayBand(region)}`,
          fix: "Let the band of the configuration above or below it reach to here, or narrow `weight` in service.yaml",
        });
    }
  },
};

/** The `weight:` (or `age:`) of the configuration above the gap, of service.yaml when nothing is above. */
function placeOfGap({ service }: Collection, { configurations }: Platform, { weight, age }: Region): Where {
  const wholeAge =
    compareCuts(lowerCut(age), lowerCut(service.band.age)) <= 0 &&
    compareCuts(upperCut(age), upperCut(service.band.age)) >= 0;
  const key = wholeAge ? "weight" : "age";
  const above = configurations.find(({ band }) =>
    wholeAge
      ? compareCuts(lowerCut(band.weight), upperCut(weight)) === 0
      : compareCuts(lowerCut(band.age), upperCut(age)) === 0 && meet(band.weight, weight) !== undefined,
  );
  if (above) return whereOf(above, key);
  return Object.hasOwn(service.at, key) ? service.at[key]! : whereOf(service, "weight");
}
