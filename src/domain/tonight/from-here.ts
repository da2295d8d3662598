/**
 * The call has changed, or the crew is stood down, in the middle of a changeover: the least way from exactly this
 * half-built state to an arrangement.
 */
import type { Operation, Procedure, Step } from "../../schema/collection.ts";
import { lowerFirst, sayList, smallFirst } from "../../schema/wording.ts";
import { bandOfPatient, type Patient } from "../bands/bands.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { type Changeover, findWay, graphFor, netMoves, secondsOf, stateOf } from "../states/changeover.ts";
import type { StateGraph } from "../states/explore.ts";
import { nameItem, namePlace } from "../parts/lookup.ts";
import { keyOf, type Model, programOf, type State } from "../states/model.ts";
import { isConfirming } from "../parts/confirming.ts";
import { alertsOfPlan } from "../parts/plan-alerts.ts";
import { BACK, endWithReading, type PlannedStep, readsCard } from "../parts/reading.ts";
import { run } from "../states/run.ts";

import { chooseAmongTies } from "../time/tied-ways.ts";
import { byPatients, type Carrier, confirmEach, confirmFirst, type PatientPlan } from "../time/plans.ts";
import { paragraphOf, sayInstruction } from "../words/say.ts";
import { heard } from "../../words/heard.ts";

/** A changeover that was begun, as a crew left it. */
export interface Begun {
  /** What stood before it. */
  readonly from: Arrangement;
  /** Its steps as planned, up to the end of the last procedure that was begun, the reading of the card left out. */
  readonly steps: readonly PlannedStep[];
  /** Indices of the steps that are done. */
  readonly done: ReadonlySet<number>;
}

/**
 * What a crew leaves when it stops in a plan. `steps`: the plan as written; `done`: indices of its steps. The reading
 * of the card is no part of it: it ends every changeover anew.
 */
export function begunAt(from: Arrangement, steps: readonly PlannedStep[], done: ReadonlySet<number>): Begun {
  const acting = steps.map((each, at) => ({ ...each, isDone: done.has(at) })).filter(({ step }) => !readsCard(step));
  return begunOf(
    from,
    upToBegun(acting, ({ procedure }) => procedure),
  );
}

/** What is begun, from its steps with whether each is done. */
export function begunOf(from: Arrangement, steps: readonly (PlannedStep & { readonly isDone: boolean })[]): Begun {
  return {
    from,
    steps: steps.map(({ procedure, step }) => ({ procedure, step })),
    done: new Set(steps.flatMap(({ isDone }, at) => (isDone ? [at] : []))),
  };
}

/** Steps in the order of a plan up to the end of the last procedure of which one is done; empty if none is. */
export function upToBegun<Step extends { readonly isDone: boolean }>(
  steps: readonly Step[],
  procedureOf: (step: Step) => unknown,
): Step[] {
  const last = steps.findLast(({ isDone }) => isDone);
  if (!last) return [];
  return steps.slice(0, steps.findLastIndex((each) => procedureOf(each) === procedureOf(last)) + 1);
}

/** For whom the way on is: the next patient, of whom weight and age may be unknown; or nobody, the crew stands down. */
type Next = Patient | "nobody";

/**
 * The ways from what was begun to an arrangement, for the patients of that arrangement as `plansBetween` groups them.
 * Each begins with what confirms them, since the next patient is another one; if the crew stands down, nothing does. It
 * then is the least of: the rest of the procedures in hand and on from there; an approved procedure that runs from
 * here; steps of the procedures in hand walked back, the last first, and on from there; the earlier ones finished and
 * the later ones walked back. What is walked back is marked as worked out. Empty: nobody is for it. `changeover` is
 * `undefined` where nothing leads there.
 */
export function plansFromHere(
  model: Model,
  carrier: Carrier,
  begun: Begun,
  to: Arrangement,
  next: Next = {},
): PatientPlan[] {
  const patient = next === "nobody" ? {} : next,
    ways = byPatients(model, carrier, to, patient, (graph) => leastWay(model, carrier, graph, begun, to));
  return next === "nobody" ? ways : confirmEach(model, ways, patient);
}

/** The way for one patient, or for nobody; `undefined` if there is none. */
export function leastFromHere(
  model: Model,
  carrier: Pick<Carrier, "crew">,
  begun: Begun,
  to: Arrangement,
  next: Next,
): Changeover | undefined {
  if (next === "nobody") return leastWay(model, carrier, graphFor(model, {}), begun, to);
  const way = leastWay(model, carrier, graphFor(model, next), begun, to);
  return way && confirmFirst(model, way, [bandOfPatient(to.band, next)]);
}

/** The state when these of the planned steps are done; `undefined` if they can't be done one after another. */
function stateAfter(model: Model, { from, steps }: Begun, done: ReadonlySet<number>): State | undefined {
  return runFrom(
    model,
    stateOf(model, from),
    steps.filter((_, at) => done.has(at)),
  );
}

/** The state to which steps lead from a state; `undefined` if one of their acts can't be done. */
function runFrom(model: Model, start: State, steps: readonly PlannedStep[]): State | undefined {
  let state = start;
  for (const { procedure, own } of byProcedure(steps)) {
    const program = programOf(model, procedure, own),
      made = run(model, state, program);
    // What is open or loose at the end is what half-built means; what can't be done is another thing.
    if (made.done < program.acts.length) return undefined;
    state = made.state;
  }
  return state;
}

/** Steps of one procedure after another, as they follow in the plan. */
function byProcedure(steps: readonly PlannedStep[]): { readonly procedure: Procedure; readonly own: Step[] }[] {
  const groups: { procedure: Procedure; own: Step[] }[] = [];
  for (const { procedure, step } of steps) {
    const last = groups.at(-1);
    if (last?.procedure === procedure) last.own.push(step);
    else groups.push({ procedure, own: [step] });
  }
  return groups;
}

/** What was begun without the questions about the patient whom it was for: they are of no use to another. */
function withoutConfirming({ platform }: Model, { from, steps, done }: Begun): Begun {
  const kept = steps
    .map((each, at) => ({ ...each, isDone: done.has(at) }))
    .filter((each) => !isConfirming(platform, each));
  return begunOf(from, kept);
}

/** One way to begin: steps from here, and the state that they lead to. */
interface Beginning {
  readonly steps: readonly PlannedStep[];
  readonly state: State;
}

function leastWay(
  model: Model,
  { crew }: Pick<Carrier, "crew">,
  graph: StateGraph,
  whole: Begun,
  to: Arrangement,
): Changeover | undefined {
  const begun = withoutConfirming(model, whole),
    here = stateAfter(model, begun, begun.done);
  if (!here) return undefined;
  const end = graph.add(stateOf(model, to)),
    choose = chooseAmongTies(
      graph,
      crew.map(({ id }) => id),
    );
  let least:
    { readonly beginning: Beginning; readonly programs: readonly number[]; readonly seconds: number } | undefined;
  for (const beginning of beginningsOf(model, begun, here)) {
    const start = graph.add(beginning.state),
      way = findWay(graph, start, end, choose),
      seconds = way && way.seconds + secondsOf(beginning.steps);
    // Of the same length the one of which more is written: it comes first.
    if (way && (!least || seconds! < least.seconds)) least = { beginning, programs: way.programs, seconds: seconds! };
  }
  if (!least) return undefined;
  const programs = least.programs.map((index) => graph.programs[index]!);
  const on = programs.flatMap(({ procedure, steps }) => steps.map((step) => ({ procedure, step })));
  const steps = endWithReading([...least.beginning.steps, ...on], to, crew);
  return {
    from: begun.from.name,
    to: to.name,
    procedures: [
      ...byProcedure(least.beginning.steps).map(({ procedure }) => procedure),
      ...programs.map(({ procedure }) => procedure),
    ],
    steps,
    seconds: secondsOf(steps),
    parts: netMoves(model, here, stateOf(model, to)),
    undone: [],
  };
}

/**
 * Ways to begin, what is written before what is worked out: all that is in hand finished; the earlier procedures
 * finished and steps of the later ones walked back; nothing finished. Each leads to a state of its own.
 */
function beginningsOf(model: Model, begun: Begun, here: State): Beginning[] {
  const { steps, done } = begun;
  const isDone = (at: number) => done.has(at);
  const indices = [...steps.keys()],
    inHand = [...new Set(steps.map(({ procedure }) => procedure))].filter((procedure) => {
      const own = indices.filter((at) => steps[at]!.procedure === procedure);
      return own.some(isDone) && !own.every(isDone);
    });
  const back = stepsBack(model, begun, here, new Set(inHand));
  return Array.from({ length: inHand.length + 1 }, (_, at) => inHand.length - at).flatMap((many) => {
    const finished = inHand.slice(0, many),
      end = steps.findLastIndex(({ procedure }) => finished.at(-1) === procedure);
    const left = indices.filter((at) => at <= end && !isDone(at));
    // With those between that were not begun, as the plan has them; and without.
    const own = left.filter((at) => finished.includes(steps[at]!.procedure));
    const finishes = own.length < left.length ? [left, own] : [left];
    const walked = back.filter(({ at }) => !finished.includes(steps[at]!.procedure));
    return finishes.flatMap((finish) =>
      Array.from({ length: walked.length + 1 }, (_, count): Beginning | undefined => {
        const undone = walked.slice(0, count);
        const now = new Set([...done, ...finish]);
        for (const { at } of undone) now.delete(at);
        const all = [...undone.map(({ planned }) => planned), ...finish.map((at) => steps[at]!)];
        // What was done by then in another order must come to the same.
        const [state, made] = [stateAfter(model, begun, now), runFrom(model, here, all)];
        return state && made && keyOf(state) === keyOf(made) ? { steps: all, state } : undefined;
      }).filter((each) => each !== undefined),
    );
  });
}

/** A done step walked back. `at`: its index in what was begun. */
interface StepBack {
  readonly at: number;
  readonly planned: PlannedStep;
}

/**
 * The done steps of the procedures in hand, walked back: the last first, each act reversed, in reverse order. Steps
 * that move and turn nothing have nothing to walk back. Ends where an act can't be reversed.
 */
function stepsBack(model: Model, begun: Begun, here: State, inHand: ReadonlySet<Procedure>): StepBack[] {
  const { steps, done } = begun,
    alerts = alertsOfPlan(steps, model.platform),
    records = new Map([...inHand].map((procedure) => [procedure, backOut(procedure)]));
  const found: StepBack[] = [];
  const left = new Set(done);
  let state = here;
  for (const at of [...done].sort((a, b) => b - a)) {
    const { procedure, step } = steps[at]!,
      record = records.get(procedure);
    if (!record || step.operations.length === 0) continue;
    left.delete(at);
    const before = stateAfter(model, begun, new Set([...done].filter((each) => each < at))),
      operations = before && reversed(model, before, steps[at]!);
    if (!operations) break;
    const undo = heard("fromHere").undoStep({
        number: step.number,
        step: smallFirst(sayInstruction(step)).replace(/\.$/, ""),
      }),
      acts = sayList(operations.map((act) => sayAct(model, act)));
    const back: Step = {
      ...step,
      // What an author did not mark when it was taken off may be what holds the patient when it is put back.
      critical: true,
      procedure: record.id,
      photos: [],
      after: [],
      guards: [],
      checks: [],
      alerts: [...alerts[at]!.between, ...alerts[at]!.own],
      alertsAfter: [],
      instruction: paragraphOf(`${undo}: ${acts}.`, step.where),
      detail: [paragraphOf(heard("fromHere").notWritten, step.where)],
      operations,
    };
    // It must lead exactly to where all but the steps walked back are done.
    const planned = { procedure: record, step: back };
    const [made, without] = [runFrom(model, state, [planned]), stateAfter(model, begun, left)];
    if (!made || !without || keyOf(made) !== keyOf(without)) break;
    state = made;
    found.push({ at, planned });
  }
  return found;
}

/** A step's acts the other way round, the last first; `undefined` if one of them has no state to go back to. */
function reversed(model: Model, before: State, { procedure, step }: PlannedStep): Operation[] | undefined {
  const program = programOf(model, procedure, [step]);
  const back: (Operation | undefined)[] = [];
  let last = before;
  run(model, before, program, {
    watch: (act, state) => {
      const { source } = act;
      if (source.kind === "move") back.push({ ...source, from: source.to, to: source.from });
      else if (act.kind === "turn") {
        const fastening = model.fastenings[act.fastening]!,
          was = last[model.slots.length + act.fastening]!;
        back.push({ ...source, to: fastening.states[was] ?? fastening.states[fastening.empty]! });
      }
      last = state.slice();
    },
  });
  return back.length === program.acts.length && back.every((each) => each !== undefined)
    ? back.toReversed()
    : undefined;
}

/** `4 × capsule pin from capsule seat to pin tray`, `capsule pins back to locked`. */
function sayAct({ platform }: Model, act: Operation): string {
  if (act.kind === "turn") {
    const name = platform.fastenings.find(({ id }) => id === act.fastening)?.name ?? act.fastening;
    return heard("fromHere").backTo({ name: lowerFirst(name), to: act.to });
  }
  const [from, to] = [act.from, act.to].map((place) => lowerFirst(namePlace(platform, place))) as [string, string];
  return heard("fromHere").countWhichPlatform({
    count: act.count,
    whichPlatform: lowerFirst(nameItem(platform, act.item)),
    from,
    to,
  });
}

/** A procedure in which the steps that are walked back stand, under the numbers that they undo: that of no file. */
function backOut(procedure: Procedure): Procedure {
  return {
    ...procedure,
    id: `${BACK}${procedure.id}`,
    title: heard("fromHere").backOutOfWorked({ procedure: lowerFirst(procedure.title) }),
    purpose: [],
    sections: [],
    steps: [],
  };
}
