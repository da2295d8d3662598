/** Rule bands/gap. */
import {
  compareCuts,
  covers,
  findGaps,
  isSameRange,
  lowerCut,
  meet,
  type Region,
  sayBand,
  upperCut,
} from "../../domain/bands/bands.ts";
import { reachFor } from "../../domain/bands/reach.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";
import type { Collection, Platform, Service, Where } from "../../schema/collection.ts";
import { hasDamage } from "./damage.ts";
import { heard } from "../../words/heard.ts";

/** Every patient that the service carries has an arrangement. */
export const gap: Rule = {
  id: "bands/gap",
  severity: "error",
  asks: "Every patient that the service carries has an arrangement.",
  why: "A patient in a gap is put into the neighbouring arrangement by guess.",
  source:
    "Interval notation of ISO 80000-2: [a, b[ and [b, c[ leave nothing out, [a, b[ and ]b, c[ leave out b " +
    "(from memory)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const platform of collection.platforms) {
      if (hasDamage(platform, damaged) || platform.configurations.length === 0) continue;
      for (const region of findGaps(
        collection.service.band,
        platform.configurations.map(({ band }) => band),
      ))
        report(placeOfGap(collection, platform, region), {
          message: heard("bandFindings").gap({ id: platform.id, band: sayBand(region) }),
          fix: isAtAnEnd(region, collection.service)
            ? heard("bandFindings").reachOrNarrow
            : heard("bandFindings").reachHere,
        });
    }
  },
};

/** Whether a gap reaches an end of whom the service carries: one between two bands is mended by no other service. */
function isAtAnEnd(gap: Region, { band }: Service): boolean {
  return (["weight", "age"] as const).some(
    (key) =>
      !isSameRange(gap[key], band[key]) &&
      (compareCuts(lowerCut(gap[key]), lowerCut(band[key])) === 0 ||
        compareCuts(upperCut(gap[key]), upperCut(band[key])) === 0),
  );
}

/**
 * The limit that would have to reach further (`domain/bands/reach.ts`); else the `weight:` (or `age:`) of the
 * configuration above the gap, of service.yaml when nothing is above.
 */
function placeOfGap({ service }: Collection, { configurations }: Platform, gap: Region): Where {
  const { weight, age } = gap;
  const wholeAge = covers(age, service.band.age);
  const key = wholeAge ? "weight" : "age";
  const above = configurations.find(({ band }) =>
    wholeAge
      ? compareCuts(lowerCut(band.weight), upperCut(weight)) === 0
      : compareCuts(lowerCut(band.age), upperCut(age)) === 0 && meet(band.weight, weight) !== undefined,
  );
  const reach = reachFor(
    gap,
    configurations.map(({ band }) => band),
  );
  // At the top of the service it is the service that says how far it reaches.
  if (reach && (above || !wholeAge)) return whereOf(configurations[reach.at]!, reach.key);
  if (above) return whereOf(above, key);
  return Object.hasOwn(service.at, key) ? service.at[key]! : whereOf(service, "weight");
}
