/**
 * Changeovers between the configurations of a platform, without options, for every patient: each worked out once in a
 * build.
 */
import type { Platform, Procedure, Service } from "../../schema/collection.ts";
import { platformsToCome } from "../../domain/force/amendments.ts";
import { sayBand } from "../../domain/bands/bands.ts";
import type { Changeover } from "../../domain/states/changeover.ts";
import { modelOf } from "../../domain/states/model.ts";
import type { Cell } from "../../domain/bands/patients.ts";
import { joinBands } from "../../domain/bands/join-bands.ts";
import { plansBetween } from "../../domain/time/plans.ts";
import { planTimeline, type Timeline } from "../../domain/time/timeline.ts";
import type { Days } from "../../domain/words/days.ts";
import { withoutTelling } from "../../domain/words/reads.ts";
import { rememberInForce } from "../../domain/force/in-force.ts";
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
export const changeoversOf: (site: Site, platform: Platform) => ReadonlyMap<string, readonly PlannedChangeover[]> = (
  site,
  platform,
) => pairsOf(site.collection.service, platform);

const pairsOf = rememberInForce(planPairs);

function planPairs(service: Service, platform: Platform): Map<string, PlannedChangeover[]> {
  const model = modelOf(platform);
  const bare = model.arrangements.filter(
    ({ options, configuration }) => options.length === 0 && configuration.status === "approved",
  );
  const pairs = new Map<string, PlannedChangeover[]>();
  for (const from of bare)
    for (const to of bare.filter((target) => target !== from)) {
      const plans = plansBetween(model, service, from, to).flatMap(({ cells, changeover }) =>
        changeover ? [{ cells, changeover, timeline: timelineOf(service, changeover, platform) }] : [],
      );
      if (plans.length > 0) pairs.set(`${from.configuration.id}--${to.configuration.id}`, plans);
    }
  return pairs;
}

/** A plan as it stands on some days, by the dates of temporary amendments. */
export interface PlanOn extends PlannedChangeover {
  readonly platform: Platform;
  /** None: on all. */
  readonly days: readonly Days[];
}

/**
 * A plan as it is from the site's day on: first that of the day itself, then with the steps and warnings that hold on
 * other days. Only the first, with no days, if no amendment is about a procedure of it.
 */
export function plansByDay(site: Site, platform: Platform, planned: PlannedChangeover): readonly [PlanOn, ...PlanOn[]] {
  const [today, ...others] = platformsOn(site, platform);
  const isSame = (other: Platform) =>
    planned.changeover.procedures.every(({ id }) => procedureOn(other, id) === procedureOn(platform, id));
  if (others.every((other) => isSame(other.platform))) return [{ ...planned, platform, days: [] }];
  return [
    { ...planned, ...today },
    ...others.map(({ platform: other, days }): PlanOn => {
      const changeover = withProceduresOf(planned.changeover, other);
      return {
        changeover,
        timeline: timelineOf(site.collection.service, changeover, other),
        cells: planned.cells,
        platform: other,
        days,
      };
    }),
  ];
}

/** A platform from the site's day on, as `platformsToCome` gives it. */
export const platformsOn = remember((site: Site, platform: Platform) => {
  // What comes of it is in the key of kept pages (`pages-by-words.ts`).
  const written = withoutTelling(() => site.force.files.platforms.find(({ id }) => id === platform.id)?.procedures);
  return platformsToCome(platform, written ?? [], site.today);
});

const procedureOn = ({ procedures }: Platform, id: string) => procedures.find((each) => each.id === id);

/** The same steps as another day has them; what the tool adds (the reading) stays. */
function withProceduresOf(changeover: Changeover, platform: Platform): Changeover {
  const other = (procedure: Procedure) => procedureOn(platform, procedure.id) ?? procedure;
  return {
    ...changeover,
    procedures: changeover.procedures.map(other),
    steps: changeover.steps.map((planned) => {
      const step = procedureOn(platform, planned.procedure.id)?.steps.find(
        ({ number }) => number === planned.step.number,
      );
      return step ? { ...planned, procedure: other(planned.procedure), step } : planned;
    }),
  };
}

function timelineOf(service: Service, changeover: Changeover, platform: Platform): Timeline {
  const roles = service.crew.map(({ id }) => id);
  return planTimeline(changeover.steps, roles, platform);
}

/** How long a pair takes, in seconds, one time for each plan. */
export interface PairTimes {
  /** With the whole crew. */
  readonly together: readonly number[];
  /** The work of one person alone. */
  readonly alone: readonly number[];
  /** Whether nothing has to be done for any patient. */
  readonly isNothing: boolean;
}

/** The times of each pair of arrangements without options, by `from--to`; without those between which is no way. */
export function changeoverTimes(site: Site, platform: Platform): ReadonlyMap<string, PairTimes> {
  return new Map(
    [...changeoversOf(site, platform)]
      .filter(([, plans]) => plans.length > 0)
      .map(([pair, plans]) => [
        pair,
        {
          together: plans.map(({ timeline }) => timeline.elapsed),
          alone: plans.map(({ timeline }) => timeline.alone),
          isNothing: plans.every(({ changeover }) => changeover.procedures.length === 0),
        },
      ]),
  );
}

/** The patients of a plan in words, neighbours joined. */
export function sayPatients({ cells }: PlannedChangeover): string {
  return joinBands(cells.map(({ band }) => band))
    .map(sayBand)
    .join("; ");
}
