/** Which of several ways of the same time a crew takes: what it costs beyond the seconds of its steps. */
import type { Procedure, Step } from "../../schema/collection.ts";
import type { StateGraph } from "./explore.ts";
import type { Model, Program, State } from "./model.ts";
import { remember } from "../words/remember.ts";
import { compareByTrade } from "./phase.ts";
import { run, standsOn } from "./run.ts";
import type { Preference } from "./search.ts";

/** A step of a changeover, with the procedure that is run (not the included one that wrote it). */
export interface PlannedStep {
  readonly procedure: Procedure;
  readonly step: Step;
}

/** Seconds from the first start to the last end of a run of steps, for some crew. */
export type ElapsedOf = (steps: readonly PlannedStep[]) => number;

/**
 * What decides among ways of least time from a state: nothing is put onto what is later taken away, as far as another
 * way avoids it; then the least elapsed time, if `elapsedOf` says it; then the order of the trade, file names last.
 */
export function preferenceFor(graph: StateGraph, start: State, elapsedOf?: ElapsedOf): Preference {
  const { model, programs } = graph;
  return {
    ranks: ranksOf(graph),
    costs: (way) => {
      const chosen = way.map((index) => programs[index]!);
      return [countPutOnTaken(model, start, chosen), ...(elapsedOf ? [elapsedOf(stepsOf(chosen))] : [])];
    },
  };
}

/** The steps of programs, one after the other. */
export function stepsOf(programs: readonly Program[]): PlannedStep[] {
  return programs.flatMap(({ procedure, steps }) => steps.map((step) => ({ procedure, step })));
}

const ranksOf = remember(rankPrograms);

function rankPrograms({ model, programs }: StateGraph): number[] {
  const compare = compareByTrade(model.platform);
  const sorted = programs.map((_, at) => at).sort((a, b) => compare(programs[a]!.procedure, programs[b]!.procedure));
  const ranked: number[] = [];
  sorted.forEach((program, rank) => (ranked[program] = rank));
  return ranked;
}

/** How often something is put onto what a later procedure moves away under it. */
export function countPutOnTaken(model: Model, start: State, programs: readonly Program[]): number {
  let state = start;
  let count = 0;
  let put: { item: number; at: number; slot: number }[] = [];
  programs.forEach((program, at) => {
    state = run(model, state, program, {
      watch: (act, now) => {
        if (act.kind !== "move") return;
        put = put.filter(({ slot }) => now[slot]! > 0);
        const moved = put.filter(
          (each) => each.at < at && standsOn(model, now, act.item, model.slots[each.slot]!.place),
        );
        count += moved.length;
        put = put.filter((each) => !moved.includes(each));
        if (!model.places[act.to]!.off) put.push({ item: act.item, at, slot: act.toSlot });
      },
    }).state;
  });
  return count;
}
