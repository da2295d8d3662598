/** How a fastening stands when a step is begun, over all states in which the step's procedure runs. */
import type { Band, Step } from "../../schema/collection.ts";
import { recent } from "../words/recent.ts";
import { remember } from "../words/remember.ts";
import { StateGraph } from "./explore.ts";
import type { Model, Program, State } from "./model.ts";
import { nameOfNumbers } from "./numbers.ts";
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
  const { programs, name, states } = reachOf(model, service);
  programs.forEach((program, which) => {
    const index = program.steps.findIndex((step) => step.procedure === procedure && step.number === number);
    if (index < 0) return;
    const before: Program = { ...program, acts: program.acts.filter((act) => act.step < index) };
    const standing = known(`${name} ${which} ${before.acts.length} ${at}`, () => {
      const starts = states().filter((start) => runs(model, start, program));
      return [...new Set(starts.map((start) => run(model, start, before).state[model.slots.length + at]!))];
    });
    for (const state of standing) {
      const name = model.fastenings[at]!.states[state];
      if (name !== undefined) found.add(name);
    }
  });
  return found;
}

/** How fastenings stand is known of so many steps at most. */
const MOST_KNOWN = 500;
const known = recent<readonly number[]>(MOST_KNOWN);

/** Every state that arrangements and procedures lead to, with the procedures as they are run. */
const reachOf = remember((model: Model, service: Band) => {
  const programs = model.platform.procedures
    .filter(({ status }) => status !== "withdrawn")
    .flatMap((procedure) => variantsOf(model, service, procedure));
  let states: readonly State[] | undefined;
  const reach = () => {
    const graph = new StateGraph(model, programs);
    graph.reach(
      model.states.map((state) => graph.add(state)),
      MOST_STATES,
    );
    return graph.states;
  };
  return {
    programs,
    name: nameOfNumbers(model, programs),
    states: () => (states ??= reach()),
  };
});
