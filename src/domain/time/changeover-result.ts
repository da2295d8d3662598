/** A changeover in the form of `rerig changeover --json`. */
import { sayBand } from "../bands/bands.ts";
import type { Changeover, NetMove } from "../states/changeover.ts";
import type { Model } from "../states/model.ts";
import { isPair } from "../words/crew.ts";
import { planTimeline, type Timeline } from "./timeline.ts";

/** One step with its place in time; `by` is a role id, `both`, or role ids with spaces between. */
interface ResultStep {
  readonly procedure: string;
  readonly step: number;
  readonly by: string;
  readonly critical: boolean;
  /** The patients for whom the step is; absent where it is for all that were asked for. */
  readonly only?: string;
  readonly start: number;
  readonly end: number;
}

/** The JSON of `rerig changeover`; seconds. `elapsed` is the timeline's, `seconds` what the steps add up to. */
export interface ChangeoverResult {
  readonly from: string;
  readonly to: string;
  readonly procedures: readonly string[];
  readonly seconds: number;
  readonly elapsed: number;
  readonly steps: readonly ResultStep[];
  readonly parts: readonly NetMove[];
}

/** The timeline of a changeover for a crew of these roles. */
function timelineOf(changeover: Changeover, model: Model, crew: readonly string[]): Timeline {
  return planTimeline(changeover.steps, crew, model.platform);
}

/** The changeover as its JSON. */
export function changeoverResult(
  changeover: Changeover,
  model: Model,
  crew: readonly string[],
  timeline: Timeline = timelineOf(changeover, model, crew),
): ChangeoverResult {
  const { from, to, procedures, seconds, parts } = changeover;
  return {
    from,
    to,
    procedures: procedures.map(({ id }) => id),
    seconds,
    elapsed: timeline.elapsed,
    steps: timeline.steps.map((timed) => ({
      procedure: timed.procedure.id,
      step: timed.step.number,
      // At a hold everybody waits, but the step is done by whom the author named.
      by: sayWho(timed.step.by.length ? timed.step.by : timed.by, crew),
      critical: timed.step.critical,
      ...(timed.only ? { only: sayBand(timed.only) } : {}),
      start: timed.start,
      end: timed.end,
    })),
    parts,
  };
}

/** Who acts: the role, `both` for a crew of two, else the roles with spaces between. */
function sayWho(by: readonly string[], crew: readonly string[]): string {
  return isPair(crew) && by.length === 2 ? "both" : by.join(" ");
}
