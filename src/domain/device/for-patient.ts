/** A walk for one of the patients for whom it was laid out: without the steps that are only for others. */
import type { Crew, Platform } from "../../schema/collection.ts";
import { holdsPatient, type Patient } from "../bands/bands.ts";
import { type Cell, elementaryBands } from "../bands/patients.ts";
import type { Changeover } from "../states/changeover.ts";
import { planTimeline, type Timeline } from "../time/timeline.ts";
import { layWalk, type Walk, type WalkStop } from "./walk.ts";
import { heard } from "../../words/heard.ts";

/** What is otherwise for patients for whom some of the steps of a walk that confirm are left out. */
export interface Led {
  /** Numbers of the steps that are left out, in order. */
  readonly without: readonly number[];
  /** The stops that confirm, as they are laid out without those. */
  readonly stops: readonly WalkStop[];
  /** By how many seconds all that follows them comes earlier: it begins when they have ended. */
  readonly earlier: number;
}

/**
 * For each set of steps that some of the patients (`cells`) go without, how those that confirm are laid out then. Of a
 * patient of whom weight or age is not known, that leaves nothing out. Empty: all steps are for all of them.
 */
export function ledApart(
  changeover: Changeover,
  timeline: Timeline,
  cells: readonly Cell[],
  platform: Platform,
  crew: readonly Crew[],
): Led[] {
  const apart = changeover.steps.flatMap(({ only }, at) => (only ? [{ number: at + 1, only }] : []));
  if (apart.length === 0) return [];
  const whom = cells
    .flatMap(({ band }) =>
      elementaryBands(
        band,
        apart.map(({ only }) => only),
      ),
    )
    .flatMap(({ patient }): Patient[] => {
      const { weight, age } = patient;
      return [patient, ...(weight === undefined ? [] : [{ weight }]), ...(age === undefined ? [] : [{ age }])];
    });
  const sets = whom.map((patient) =>
    apart.filter(({ only }) => !holdsPatient(only, patient)).map(({ number }) => number),
  );
  const unlike = new Map(sets.filter((set) => set.length > 0).map((set) => [set.join(), set]));
  return [...unlike.values()].map((without) => {
    const numbers = changeover.steps.map((_, at) => at + 1).filter((number) => !without.includes(number)),
      steps = numbers.map((number) => changeover.steps[number - 1]!),
      anew = planTimeline(
        steps,
        crew.map(({ id }) => id),
        platform,
        0,
      );
    const { stops } = layWalk({ ...changeover, steps }, anew, platform, crew, "", numbers);
    const confirms = steps[0]!.procedure,
      last = (of: Timeline) =>
        Math.max(0, ...of.steps.filter(({ procedure }) => procedure === confirms).map(({ end }) => end));
    return {
      without,
      stops: stops.filter(({ procedure }) => procedure === confirms.id),
      earlier: last(timeline) - last(anew),
    };
  });
}

/**
 * The walk without the stops of these numbers, led as `led` says; the same walk if it has none of them. Numbers stay as
 * they are printed.
 */
export function leaveOut(walk: Walk, numbers: ReadonlySet<number>, led: readonly Led[]): Walk {
  const isLeft = ({ number }: WalkStop) => numbers.has(number);
  if (!walk.stops.some(isLeft)) return walk;
  const found = led.find(
    ({ without }) => without.length === numbers.size && without.every((each) => numbers.has(each)),
  );
  const anew = new Map(found?.stops.map((stop) => [stop.number, stop]));
  const later = (stop: WalkStop): WalkStop => ({
    ...stop,
    start: stop.start - (found?.earlier ?? 0),
    end: stop.end - (found?.earlier ?? 0),
  });
  const kept = [
    ...(found?.stops ?? []),
    ...walk.stops.filter((stop) => !anew.has(stop.number) && !isLeft(stop)).map(later),
  ];
  return {
    ...walk,
    key: heard("onDevice").without({ walk: walk.key, toSorted: [...numbers].toSorted((a, b) => a - b).join(",") }),
    stops: kept.map((stop) =>
      anew.has(stop.number)
        ? stop
        : { ...stop, group: walk.stops.slice(0, stop.group).filter((each) => !isLeft(each)).length },
    ),
    ...(walk.reading ? { reading: later(walk.reading) } : {}),
  };
}
