/**
 * How the steps of a procedure are laid out between the rails: on whose rail each one is, and which two stand side by
 * side.
 */
import type { Crew, Section, Step } from "../../schema/collection.ts";
import { isPair } from "../words/crew.ts";
import type { Timeline } from "./timeline.ts";

/**
 * On which rails a step is, as indices of the crew; `beside` when it shares its row with the step before or after it.
 */
export interface StepRow {
  readonly step: Step;
  readonly lanes: readonly number[];
  readonly beside: boolean;
}

/** On whose rails a step is, in rising order: of those who do it, or of all where it names nobody of the crew. */
export function lanesOf({ by }: Pick<Step, "by">, crew: readonly Crew[]): readonly number[] {
  const named = by
    .map((role) => crew.findIndex(({ id }) => id === role))
    .filter((lane) => lane >= 0)
    .sort((a, b) => a - b);
  return named.length > 0 ? named : crew.map((_, lane) => lane);
}

/** On which side of a crew of two a line stands, by who does it or looks; `free` in a crew of any other size. */
export type Side = "left" | "right" | "both" | "free";

/** The side of a line by who does it or looks: both where nobody of the crew is named. */
export function sideOf(by: readonly string[], crew: readonly Crew[]): Side {
  if (!isPair(crew)) return "free";
  const [first, second] = lanesOf({ by }, crew);
  return second !== undefined ? "both" : first === 0 ? "left" : "right";
}

/**
 * The steps in order. Two of them stand side by side when they follow one another in one section, are done by two
 * different people, each alone, and overlap in the timeline: then the crew really does them at the same time. A step
 * that names nobody is on every rail. `timeline` is that of the same steps, in their order.
 */
export function layRows(
  sections: readonly Pick<Section, "entries">[],
  timeline: Pick<Timeline, "steps">,
  crew: readonly Crew[],
): ReadonlyMap<Step, StepRow> {
  const timed = timeline.steps.toSorted((a, b) => a.index - b.index);
  const steps = sections.flatMap(({ entries }) => entries.flatMap(stepsOf));
  const neighbours = neighboursOf(sections);
  const rows = new Map<Step, StepRow>();
  for (let index = 0; index < steps.length; index++) {
    const step = steps[index]!,
      next = steps[index + 1];
    const together =
      next !== undefined &&
      isPair(crew) &&
      neighbours.has(next) &&
      step.by.length === 1 &&
      next.by.length === 1 &&
      step.by[0] !== next.by[0] &&
      !step.hold &&
      !next.hold &&
      timed[index]!.start < timed[index + 1]!.end &&
      timed[index + 1]!.start < timed[index]!.end;
    rows.set(step, { step, lanes: lanesOf(step, crew), beside: together });
    if (together) (rows.set(next, { step: next, lanes: lanesOf(next, crew), beside: true }), index++);
  }
  return rows;
}

const stepsOf = (entry: Section["entries"][number]): readonly Step[] =>
  entry.kind === "step" ? [entry] : entry.kind === "include" ? entry.steps : [];

/** Steps that follow another step at once, with nothing between the two. */
function neighboursOf(sections: readonly Pick<Section, "entries">[]): Set<Step> {
  const found = new Set<Step>();
  for (const { entries } of sections)
    entries.forEach((entry, index) => {
      if (entry.kind === "step" && entries[index - 1]?.kind === "step") found.add(entry);
      if (entry.kind === "include") entry.steps.slice(1).forEach((step) => found.add(step));
    });
  return found;
}
