/** How a fastening stands when a step is begun, over all states in which the step's procedure runs. */
import type { Band, Step } from "../../schema/collection.ts";
import { remember } from "../words/remember.ts";
import { StateGraph } from "./explore.ts";
import type { Model, Program } from "./model.ts";
import { MOST_STATES, variantsOf } from "./prove-parts.ts";
import { run, runs } from "./run.ts";

/**
 * The states of a fastening (by its id) in which a step can be begun, wherever a procedure with that step runs; empty
 * where none does, and for a fastening that is not there then.
 */
export function standsAt(model: Model, service: Band, { procedure, number }: Step, fastening: string): Set<string> {
  const at = model.fastenings.findIndex(({ id }) => id === fastening);
  const found = new Set<string>();
  if (at < 0) return found;
  const { programs, graph } = reachOf(model, service);
  for (const program of programs) {
    const index = program.steps.findIndex((step) => step.procedure === procedure && step.number === number);
    if (index < 0) continue;
    const before: Program = { ...program, acts: program.acts.filter((act) => act.step < index) };
    for (const start of graph.states) {
      if (!runs(model, start, program)) continue;
      const state = run(model, start, before).state[model.slots.length + at]!;
      const name = model.fastenings[at]!.states[state];
      if (name !== undefined) found.add(name);
    }
  }
  return found;
}

/** Every state that arrangements and procedures lead to, with the procedures as they are run. */
const reachOf = remember((model: Model, service: Band) => {
  const programs = model.platform.procedures
    .filter(({ status }) => status !== "withdrawn")
    .flatMap((procedure) => variantsOf(model, service, procedure));
  const graph = new StateGraph(model, programs);
  graph.reach(
    model.states.map((state) => graph.add(state)),
    MOST_STATES,
  );
  return { programs, graph };
});
