/**
 * Turns of fastenings that are not on the platform: which procedures are meant to make them, and which only run in vain
 * there.
 */
import { StateGraph } from "./explore.ts";
import { independentOf } from "./apart.ts";
import type { Model, Program, State } from "./model.ts";
import { recent } from "../words/recent.ts";
import { nameOfNumbers } from "./numbers.ts";
import { run, runs } from "./run.ts";

const MOST_STATES = 20_000;
/** Sets of programs of which it is known at most. */
const MOST_KNOWN = 100;
const known = /* @__PURE__ */ recent<readonly number[]>(MOST_KNOWN);

/**
 * The programs that run only where every turn counts. Turning a fastening whose place is not on the platform stops
 * nobody, so a procedure could be
 * planned, or said to run, in a state in which it does nothing. A program is let off only if its acts can be done in no
 * state without such a turn,
 * and in some state with it. Programs that can't turn in vain are not in the set; nothing needs to be asked of them.
 */
export function strictPrograms(model: Model, programs: readonly Program[]): ReadonlySet<Program> {
  const indices = known(String(nameOfNumbers(model, programs)), () => {
    const strict = findStrict(model, programs);
    return programs.flatMap((program, at) => (strict.has(program) ? [at] : []));
  });
  return new Set(indices.map((at) => programs[at]!));
}

function findStrict(model: Model, programs: readonly Program[]): ReadonlySet<Program> {
  const travels = model.fastenings.map(({ always }) => !always);
  const candidates = programs.filter(({ acts }) => acts.some((act) => act.kind === "turn" && travels[act.fastening]));
  if (candidates.length === 0) return new Set();
  const strict = new Set(candidates),
    elsewhere = new Set<Program>();
  for (const { programs: group, starts } of independentOf(model, programs)) {
    const own = group.filter((program) => strict.has(program));
    if (own.length === 0) continue;
    const waiting = new Set(own.filter((program) => !starts.some((state) => belongs(model, state, program))));
    if (waiting.size === 0) continue;
    const graph = new StateGraph(model, group, { strict });
    // One state in which it belongs decides: all of them are looked at only for a program that has none.
    const { nodes } = graph.reach(
      starts.map((state) => graph.add(state)),
      MOST_STATES,
      (node) => {
        for (const program of waiting) if (belongs(model, graph.states[node]!, program)) waiting.delete(program);
        return waiting.size === 0;
      },
    );
    const states = nodes.map((node) => graph.states[node]!);
    for (const program of waiting) if (turnsElsewhere(model, states, program)) elsewhere.add(program);
  }
  return new Set(candidates.filter((program) => !elsewhere.has(program)));
}

function turnsElsewhere(model: Model, states: readonly State[], program: Program): boolean {
  return !states.some((state) => belongs(model, state, program)) && states.some((state) => runs(model, state, program));
}

/** Where all its acts can be done on the platform, that is where it belongs, even if it then leaves something open. */
function belongs(model: Model, state: State, program: Program): boolean {
  const { stops, done } = run(model, state, program, { noVainTurns: true });
  return stops.length === 0 || done === program.acts.length;
}
