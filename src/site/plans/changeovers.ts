/**
 * Changeovers between the configurations of a platform, without options, for every patient: each worked out once in a
 * build.
 */
import type { Platform } from "../../schema/collection.ts";
import { sayBand } from "../../domain/bands/bands.ts";
import type { Changeover } from "../../domain/states/changeover.ts";
import { modelOf } from "../../domain/states/model.ts";
import type { Cell } from "../../domain/bands/patients.ts";
import { joinBands } from "../../domain/bands/join-bands.ts";
import { plansBetween } from "../../domain/time/plans.ts";
import { planTimeline, type Timeline } from "../../domain/time/timeline.ts";
import { remember } from "../../domain/words/remember.ts";
import type { Site } from "../site.ts";

/** A changeover for some of the patients of the arrangement that it leads to. */
export interface PlannedChangeover {
  readonly changeover: Changeover;
  readonly timeline: Timeline;
  /** The patients for whom it is; any one of them stands for all. */
  readonly cells: readonly Cell[];
}

/**
 * Changeovers by `from--to` (configuration ids), different ones for different patients; a pair without any is not in
 * the map.
 */
export const changeoversOf: (site: Site, platform: Platform) => ReadonlyMap<string, readonly PlannedChangeover[]> =
  remember(planPairs);

function planPairs(site: Site, platform: Platform): Map<string, PlannedChangeover[]> {
  const model = modelOf(platform),
    { service } = site.collection;
  const bare = model.arrangements.filter(
    ({ options, configuration }) => options.length === 0 && configuration.status === "approved",
  );
  const pairs = new Map<string, PlannedChangeover[]>();
  for (const from of bare)
    for (const to of bare.filter((target) => target !== from)) {
      const plans = plansBetween(model, service, from, to).flatMap(({ cells, changeover }) =>
        changeover ? [{ cells, changeover, timeline: timelineOf(site, changeover, platform) }] : [],
      );
      if (plans.length > 0) pairs.set(`${from.configuration.id}--${to.configuration.id}`, plans);
    }
  return pairs;
}

function timelineOf(site: Site, changeover: Changeover, platform: Platform): Timeline {
  const roles = site.collection.service.crew.map(({ id }) => id);
  return planTimeline(changeover.steps, roles, platform);
}

/** The shortest and the longest time of each pair over all patients, in seconds with the whole crew. */
export function changeoverTimes(
  site: Site,
  platform: Platform,
): ReadonlyMap<string, { readonly least: number; readonly most: number }> {
  return new Map(
    [...changeoversOf(site, platform)].map(([pair, plans]) => {
      const times = plans.map(({ timeline }) => timeline.elapsed);
      return [pair, { least: Math.min(...times), most: Math.max(...times) }];
    }),
  );
}

/** The patients of a plan in words, neighbours joined. */
export function sayPatients({ cells }: PlannedChangeover): string {
  return joinBands(cells.map(({ band }) => band))
    .map(sayBand)
    .join("; ");
}
