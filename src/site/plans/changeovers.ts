/**
 * Changeovers between the configurations of a platform, without options, for every patient: each worked out once in a
 * build.
 */
import type { Platform } from "../../schema/collection.ts";
import { type Arrangement } from "../../domain/parts/arrangements.ts";
import { holdsPatient, sayBand } from "../../domain/bands/bands.ts";
import { type Changeover, graphFor, planAll } from "../../domain/parts/changeover.ts";
import { modelOf, stepsFor } from "../../domain/parts/model.ts";
import { type Cell, elementaryBands, groupCells } from "../../domain/bands/patients.ts";
import { joinBands } from "../../domain/bands/join-bands.ts";
import { planTimeline, type Timeline } from "../../domain/time/timeline.ts";
import { once, type Site } from "../site.ts";

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
export function changeoversOf(site: Site, platform: Platform): ReadonlyMap<string, readonly PlannedChangeover[]> {
  return once(site, `changeovers/${platform.id}`, () => planPairs(site, platform));
}

function planPairs(site: Site, platform: Platform): Map<string, PlannedChangeover[]> {
  const model = modelOf(platform),
    { service } = site.collection;
  const bare = model.arrangements.filter(
    ({ options, configuration }) => options.length === 0 && configuration.status === "approved",
  );
  const byId = new Map(platform.procedures.map((procedure) => [procedure.id, procedure]));
  const approved = platform.procedures.filter(({ status }) => status === "approved");
  const bands = [
    ...bare.map(({ band }) => band),
    ...approved.flatMap(({ band, steps }) => [band, ...steps.map((step) => step.band)]),
  ];
  const cells = elementaryBands(service.band, bands);
  // Patients for whom the same arrangements may be built by the same steps share one search.
  const groups = groupCells(cells, ({ patient }) =>
    JSON.stringify([
      bare.map(({ band }) => holdsPatient(band, patient)),
      approved.map((procedure) => stepsFor(byId, procedure, patient).map(({ number }) => number)),
    ]),
  );
  const pairs = new Map<string, PlannedChangeover[]>();
  for (const { cells: alike } of groups) {
    const { patient } = alike[0]!;
    const targets = bare.filter(({ band }) => holdsPatient(band, patient));
    if (targets.length === 0) continue;
    const graph = graphFor(model, patient);
    for (const from of bare) {
      const others = targets.filter((target) => target !== from);
      planAll(model, graph, from, others).forEach(
        (changeover, at) => changeover && addPlan(site, pairs, platform, from, others[at]!, changeover, alike),
      );
    }
  }
  return pairs;
}

/** Joins patients whose steps are the same. */
function addPlan(
  site: Site,
  pairs: Map<string, PlannedChangeover[]>,
  platform: Platform,
  from: Arrangement,
  to: Arrangement,
  changeover: Changeover,
  cells: readonly Cell[],
): void {
  const key = `${from.configuration.id}--${to.configuration.id}`,
    plans = pairs.get(key) ?? [];
  const same = (plan: Changeover) =>
    JSON.stringify(plan.steps.map(({ procedure, step }) => [procedure.id, step.number]));
  const twin = plans.findIndex((plan) => same(plan.changeover) === same(changeover));
  if (twin >= 0) plans[twin] = { ...plans[twin]!, cells: [...plans[twin]!.cells, ...cells] };
  else
    plans.push({
      changeover,
      cells,
      timeline: planTimeline(
        changeover.steps,
        site.collection.service.crew.map(({ id }) => id),
        platform,
      ),
    });
  pairs.set(key, plans);
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
