/**
 * Proves that every procedure can run: in some state that arrangements and the other procedures lead to; if not, why,
 * at the step.
 */
import type { Band, Procedure } from "../../schema/collection.ts";
import { meetBands } from "../bands/bands.ts";
import { strictPrograms } from "./elsewhere.ts";
import { StateGraph } from "./explore.ts";
import { type Independent, independentOf } from "./apart.ts";
import { type Model, programFor, programOf, type Program, type State } from "./model.ts";
import { assume, isFurther, run, type Run, runs, type Stop } from "./run.ts";
import { groupPatients } from "./usable.ts";

/** A procedure that runs nowhere: the run that gets furthest. */
export interface Broken {
  readonly program: Program;
  readonly run: Run;
  /**
   * The procedure whose fault it is, where it stops no run of its own but every one of those that include it: its id,
   * with what each of them trips over.
   */
  readonly fragment?: { readonly id: string; readonly around: readonly Broken[] };
}

/**
 * What the proof found. `broken` holds only causes, in the order of the procedures, `follows` the procedures that run
 * nowhere because one that they include is at fault; `complete` is false if there were too many states to see all.
 */
interface PartsProof {
  readonly broken: readonly Broken[];
  readonly follows: readonly Broken[];
  readonly complete: boolean;
}

/** States looked at before giving up; a platform of ten independent options has some thousands. */
export const MOST_STATES = 60_000;

/**
 * The different programs of a procedure over the patients that the service carries: one for each set of steps that
 * apply.
 */
export function variantsOf(model: Model, service: Band, procedure: Procedure): Program[] {
  const banded = procedure.steps.filter((step) => step.ownWeight || step.ownAge || step.procedure !== procedure.id);
  if (banded.length === 0) return [programOf(model, procedure, procedure.steps)];
  return groupPatients(model, service, [procedure]).flatMap(
    ({ cells: [first] }) => programFor(model, procedure, first!.patient) ?? [],
  );
}

/** Runs every procedure that is not withdrawn from every state that can be reached, and says which run nowhere. */
export function proveParts(model: Model, service: Band, most = MOST_STATES): PartsProof {
  const programs = model.platform.procedures
    // What is for nobody whom the service carries is never done: its effects help no other procedure.
    .filter(({ status, band }) => status !== "withdrawn" && meetBands(band, service) !== undefined)
    .flatMap((procedure) => variantsOf(model, service, procedure));
  const whole = programs.filter((program) => program.whole);
  const trial: Trial = { model, strict: strictPrograms(model, whole), most };
  // What is independent is proved one by one: all together reach as many states as there are combinations.
  const groups = independentOf(model, whole);
  const first = groups.map((group) => explore(trial, group, []));
  const groupOf = new Map(groups.flatMap(({ programs: own }, at) => own.map((program) => [program, at])));
  const failing = whole.filter((program) => !first[groupOf.get(program)!]!.ran.has(program));
  let complete = first.every((each) => each.complete);
  if (failing.length === 0 || model.states.length === 0) return { broken: [], follows: [], complete };
  let broken = failing.map((program) => furthest(trial, program, first[groupOf.get(program)!]!.graph));
  // An effect that is assumed can lead to states in which others get further, or run: so look again, twice at most.
  for (let round = 0; round < 2; round++) {
    const others = broken;
    const judged = others.map((each) => {
      const again = explore(
        trial,
        groups[groupOf.get(each.program)!]!,
        others.filter((other) => other.program.procedure !== each.program.procedure),
      );
      complete &&= again.complete;
      return again.ran.has(each.program) ? undefined : furthest(trial, each.program, again.graph);
    });
    const left = judged.filter((each) => each !== undefined);
    // Where each runs once the others' effects are assumed, one of them has to be named.
    broken = left.length ? left : others.slice(0, 1);
    if (left.length === others.length) break;
  }
  return { ...causesOf(broken, programs), complete };
}

interface Explored {
  readonly graph: StateGraph;
  readonly ran: ReadonlySet<Program>;
  readonly complete: boolean;
}

/** The model with the programs that run only where every turn counts. */
interface Trial {
  readonly model: Model;
  readonly strict: ReadonlySet<Program>;
  /** States looked at before giving up. */
  readonly most: number;
}

/** Runs independent programs from their starts, with the effects of broken ones assumed. */
function explore(
  { model, strict, most }: Trial,
  { programs, starts: from }: Independent,
  assumed: readonly Broken[],
): Explored {
  const byProgram = new Map(assumed.map((each) => [each.program, each]));
  const force = (state: State, program: Program) => {
    const broken = byProgram.get(program);
    return broken && isFurther(run(model, state, program), broken.run) >= 0 ? assume(model, state, program) : undefined;
  };
  const graph = new StateGraph(model, programs, { strict, ...(assumed.length ? { force } : {}) });
  const starts = from.map((state) => graph.add(state));
  const waiting = new Set(programs);
  const ran = new Set<Program>();
  const { complete } = graph.reach(starts, most, (node) => {
    for (const program of waiting)
      if (runs(model, graph.states[node]!, program, { noVainTurns: strict.has(program) })) {
        ran.add(program);
        waiting.delete(program);
      }
    return waiting.size === 0;
  });
  return { graph, ran, complete: complete || waiting.size === 0 };
}

function furthest({ model, strict }: Trial, program: Program, graph: StateGraph): Broken {
  let best: Run | undefined;
  for (const state of graph.states) {
    const tried = run(model, state, program, { noVainTurns: strict.has(program) });
    if (!best || isFurther(tried, best) > 0) best = tried;
  }
  return { program, run: best! };
}

/**
 * A procedure that others include may be a fragment that runs only inside them: it is fine if one that includes it
 * runs, or trips over something else after it. An approved one needs an approved one round it, since changeovers use no
 * other. A fault in an included step breaks both; it is the included procedure's, reported once: so is what it leaves
 * open in every procedure that includes it.
 */
function causesOf(broken: readonly Broken[], programs: readonly Program[]): Pick<PartsProof, "broken" | "follows"> {
  const includers = ({ id, status }: Procedure) =>
    programs.filter(
      ({ procedure }) =>
        procedure.id !== id &&
        (status !== "approved" || procedure.status === "approved") &&
        procedure.steps.some((step) => step.procedure === id),
    );
  const ofProcedure = (id: string) => broken.filter(({ program: { procedure } }) => procedure.id === id);
  const isFine = ({ program: { procedure } }: Broken) =>
    includers(procedure).some((each) =>
      ofProcedure(each.procedure.id).every(
        ({ program, run: { done, stops } }) =>
          done > lastActOf(program, procedure.id) &&
          stops.every((stop) => faultyProcedure(program, stop) !== procedure.id),
      ),
    );
  const left = broken.filter((each) => !isFine(each));
  const names = new Set(left.map(({ program }) => program.procedure.id));
  const isCause = ({ program, run: { stops } }: Broken) => {
    const fault = faultyProcedure(program, stops[0]);
    return fault === program.procedure.id || !names.has(fault);
  };
  const causes = left.filter(isCause);
  return {
    broken: causes.map((each) => asIncluded(each, left) ?? each),
    follows: left.filter((each) => !isCause(each)),
  };
}

/**
 * A fragment as those that include it trip over it: where each of them does all its acts and is stopped at its end by
 * what the fragment did, that is the fault, and not what keeps the fragment from running alone.
 */
function asIncluded({ program: { procedure } }: Broken, broken: readonly Broken[]): Broken | undefined {
  const around = broken.filter(
    ({ program }) => program.procedure !== procedure && program.steps.some((step) => step.procedure === procedure.id),
  );
  const stopped = around.map(({ program, run, ...each }): Broken => {
    const stops = run.stops.filter((stop) => faultyProcedure(program, stop) === procedure.id);
    return { ...each, program, run: { ...run, stops: run.done === program.acts.length ? stops : [] } };
  });
  const [first] = stopped;
  return first && stopped.every(({ run: { stops } }) => stops.length > 0)
    ? { ...first, fragment: { id: procedure.id, around: stopped } }
    : undefined;
}

function lastActOf(program: Program, procedure: string): number {
  return program.acts.findLastIndex((act) => program.steps[act.step]!.procedure === procedure);
}

/** The procedure whose step stopped a run. */
export function faultyProcedure(program: Program, stop: Stop | undefined): string {
  return (stop && program.steps[stop.act.step]?.procedure) ?? program.procedure.id;
}
