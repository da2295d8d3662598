/**
 * In which orders the steps of a procedure could be done at all: found by trying, so that "what comes next" has one
 * answer only where it has.
 */
import type { Band, Platform, Step } from "../../../schema/collection.ts";
import { type Act, keyOf, type Model, type Program, programOf, type State } from "../../states/model.ts";
import { StateGraph } from "../../states/explore.ts";
import { run, runs } from "../../states/run.ts";
import { variantsOf } from "../../states/prove-parts.ts";
import { remember } from "../../words/remember.ts";
import { usableProcedures } from "../../parts/lookup.ts";

/** What the search found for one program, over every state that it runs in. Steps are indices into `program.steps`. */
export interface Orders {
  /** Whether `step` could be done when exactly the first `done` steps are done, and the rest after it. */
  readonly canFollow: (done: number, step: number) => boolean;
  /** Whether `a` comes before `b` in every order that can be done. */
  readonly isForced: (a: number, b: number) => boolean;
}

/** Sets of done steps looked at for one program before giving up. */
const MOST_NODES = 60_000;
/** States looked for that a platform can be in. */
const MOST_STATES = 20_000;
/** Done steps are bits of a number. */
const MOST_STEPS = 24;

/**
 * Programs of a platform's approved procedures with the states in which each runs; states that differ only elsewhere
 * are kept once.
 */
export function startsOf(model: Model, service: Band): Map<Program, State[]> {
  const programs = usableProcedures(model.platform)
    .flatMap((procedure) => variantsOf(model, service, procedure))
    .filter(({ whole }) => whole);
  const graph = new StateGraph(model, programs);
  const { nodes } = graph.reach(
    model.states.map((state) => graph.add(state)),
    MOST_STATES,
  );
  return new Map(
    programs.map((program) => {
      const concerns = concernsOf(model, program.acts);
      const starts = new Map<string, State>();
      for (const node of nodes) {
        const state = graph.states[node]!;
        const key = concerns.map((at) => state[at]).join(",");
        if (!starts.has(key) && runs(model, state, program)) starts.set(key, state);
      }
      return [program, [...starts.values()]];
    }),
  );
}

/**
 * Positions in a state on which the outcome of these acts can depend: the places concerned, what is on them, under them
 * and holds them.
 */
function concernsOf(model: Model, acts: readonly Act[]): number[] {
  const places = new Set<number>();
  const items = new Set<number>();
  const fastenings = new Set<number>();
  const addItem = (item: number) => {
    if (items.has(item)) return;
    items.add(item);
    for (const slot of model.items[item]!.slots) addPlace(model.slots[slot]!.place);
    for (const place of model.items[item]!.places) addPlace(place);
  };
  const addPlace = (place: number) => {
    if (places.has(place)) return;
    places.add(place);
    if (model.places[place]!.on >= 0) addItem(model.places[place]!.on);
    for (const fastening of model.places[place]!.fastenings) addFastening(fastening);
  };
  const addFastening = (fastening: number) => {
    if (fastenings.has(fastening)) return;
    fastenings.add(fastening);
    for (const place of model.fastenings[fastening]!.holds) addPlace(place);
  };
  for (const act of acts) {
    if (act.kind === "turn") addFastening(act.fastening);
    else (addItem(act.item), addPlace(act.from), addPlace(act.to));
  }
  const slots = model.slots.flatMap(({ place, item }, at) =>
    places.has(place) && (items.has(item) || !model.places[place]!.off || model.places[place]!.room !== Infinity)
      ? [at]
      : [],
  );
  return [...slots, ...[...fastenings].map((at) => model.slots.length + at)].sort((a, b) => a - b);
}

interface Node {
  readonly done: number;
  /** Number of the state in `Trials`. */
  readonly state: number;
  /** The node and the step that first led here; -1 for the start. */
  readonly from: number;
  readonly by: number;
  readonly next: { readonly step: number; readonly to: number }[];
}

/**
 * Every order of the steps that respects `after`, holds (nobody goes on before, nobody is ahead) and the conditions of
 * every move and
 * turn, from each start, and leaves everything as a procedure must. `undefined` if there are too many to look at.
 */
export function findOrders(model: Model, program: Program, starts: readonly State[]): Orders | undefined {
  const { steps } = program;
  if (steps.length > MOST_STEPS || starts.length === 0) return undefined;
  const { bound, before } = boundSteps(program, roundsOfLooks(model.platform));
  // A step that nothing binds can be done at any time: it makes twice as many sets and says nothing about the others,
  // so it is left out of the search.
  const mostNodes = MOST_NODES / 2 ** (steps.length - bound.length);
  const part = programOf(
    model,
    program.procedure,
    bound.map((at) => steps[at]!),
  );
  const trials = new Trials(
    model,
    part.steps.map((step) => programOf(model, program.procedure, [step])),
  );
  const follows = new Map<number, Set<number>>();
  // Bits of the bound steps that can still be ahead when a bound step is done.
  const ahead = bound.map(() => 0);
  for (const start of starts) {
    const nodes = tryOrders(model, part, trials, before, start, mostNodes);
    if (!nodes) return undefined;
    for (const { done, next } of nodes) {
      const first = prefixLength(done);
      if (first >= 0 && !follows.has(first)) follows.set(first, new Set());
      for (const { step } of next) {
        if (first >= 0) follows.get(first)!.add(step);
        ahead[step]! |= ~done & ~(1 << step);
      }
    }
  }
  const place = new Map(bound.map((at, index) => [at, index]));
  // How many bound steps there are among the first steps.
  const boundIn = steps.map((_, at) => bound.filter((each) => each < at).length);
  return {
    canFollow: (done, step) => {
      const can = follows.get(boundIn[done]!),
        index = place.get(step);
      return can !== undefined && step >= done && (index === undefined || can.has(index));
    },
    isForced: (a, b) => {
      const [one, other] = [place.get(a), place.get(b)];
      return a === b || (one !== undefined && other !== undefined && (ahead[other]! & (1 << one)) === 0);
    },
  };
}

/**
 * Indices of the steps that move or turn something, or must be before or after another; with bits of those among them
 * that must be done before each.
 */
function boundSteps(
  { steps }: Program,
  rounds: ReadonlySet<string>,
): { readonly bound: readonly number[]; readonly before: readonly number[] } {
  const before = steps.map((step, at) => mustPrecede(steps, step, at, rounds));
  const needed = before.reduce((bits, each) => bits | each, 0);
  const bound = steps.flatMap((step, at) =>
    step.operations.length > 0 || before[at] !== 0 || needed & (1 << at) ? [at] : [],
  );
  return {
    bound,
    before: bound.map((at) =>
      bound.reduce((bits, each, index) => (before[at]! & (1 << each) ? bits | (1 << index) : bits), 0),
    ),
  };
}

/**
 * Ids of procedures that are a round of looks: all is looked at, nothing is moved or turned, and nobody waits for it.
 * Which of them is looked at first is a habit, whatever `after` says: nobody is asked it (common practice, no source).
 */
const roundsOfLooks = remember(({ procedures }: Platform): ReadonlySet<string> => {
  const isLook = ({ operations, checks, hold }: Step) => operations.length === 0 && checks.length > 0 && !hold;
  return new Set(
    procedures
      .filter(({ id, steps }) => steps.length > 0 && steps.every((step) => step.procedure === id && isLook(step)))
      .map(({ id }) => id),
  );
});

/**
 * Bits of the steps that must be done before: those named in `after`, but for one look of a round before another; all
 * before a hold, every hold before it.
 */
function mustPrecede(steps: readonly Step[], step: Step, at: number, rounds: ReadonlySet<string>): number {
  let bits = 0;
  for (let earlier = 0; earlier < at; earlier++) if (step.hold || steps[earlier]!.hold) bits |= 1 << earlier;
  for (const { id } of step.after) {
    const named = steps.slice(0, at).findLastIndex((other) => other.id === id && other.procedure === step.procedure);
    const found = named >= 0 ? named : steps.slice(0, at).findLastIndex((other) => other.id === id);
    if (found >= 0 && !(steps[found]!.procedure === step.procedure && rounds.has(step.procedure))) bits |= 1 << found;
  }
  return bits;
}

/** How many steps are done if they are the first ones; -1 if others are. */
function prefixLength(done: number): number {
  return (done & (done + 1)) === 0 ? 32 - Math.clz32(done) : -1;
}

/**
 * What each step does in each state, tried once: the same few states come back in very many orders. States are numbered
 * as they are met.
 */
class Trials {
  readonly model: Model;
  readonly #parts: readonly Program[];
  readonly #states: State[] = [];
  readonly #numbers = new Map<string, number>();
  readonly #ends: (number | undefined)[][] = [];

  constructor(model: Model, parts: readonly Program[]) {
    this.model = model;
    this.#parts = parts;
  }

  /** Number of a state, new or known. */
  numberOf(state: State): number {
    const key = keyOf(state);
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    this.#numbers.set(key, this.#states.length);
    this.#ends.push([]);
    return this.#states.push(state) - 1;
  }

  /** The state after a step's moves and turns; -1 if one of them can't be done. */
  after(state: number, step: number): number {
    const ends = this.#ends[state]!;
    ends[step] ??= this.#try(state, step);
    return ends[step];
  }

  #try(state: number, step: number): number {
    const part = this.#parts[step]!;
    if (part.acts.length === 0) return state;
    let after = this.#states[state]!;
    const { done } = run(this.model, after, part, {
      watch: (_, now) => {
        after = now.slice();
      },
    });
    return done === part.acts.length ? this.numberOf(after) : -1;
  }
}

/**
 * The sets of done steps from which the procedure can be brought to its end; only steps on the way there are in `next`.
 */
function tryOrders(
  model: Model,
  program: Program,
  trials: Trials,
  before: readonly number[],
  start: State,
  mostNodes: number,
): Node[] | undefined {
  const count = program.steps.length;
  const full = 2 ** count - 1;
  const nodes: Node[] = [{ done: 0, state: trials.numberOf(start), from: -1, by: -1, next: [] }];
  // Sets of done steps fit into MOST_STEPS bits, so that a number tells a set and a state together.
  const keyOfNode = (done: number, state: number) => state * 2 ** MOST_STEPS + done;
  const numbers = new Map([[keyOfNode(0, nodes[0]!.state), 0]]);
  for (let at = 0; at < nodes.length; at++) {
    const node = nodes[at]!;
    for (let step = 0; step < count; step++) {
      if (node.done & (1 << step) || (before[step]! & ~node.done) !== 0) continue;
      const state = trials.after(node.state, step);
      if (state < 0) continue;
      const done = node.done | (1 << step);
      const key = keyOfNode(done, state);
      let to = numbers.get(key);
      if (to === undefined) {
        to = nodes.length;
        if (to >= mostNodes) return undefined;
        numbers.set(key, to);
        nodes.push({ done, state, from: at, by: step, next: [] });
      }
      node.next.push({ step, to });
    }
  }
  const alive = new Set<number>();
  // Nodes are numbered by how much is done, so that going backwards meets what follows first.
  for (let at = nodes.length - 1; at >= 0; at--) {
    const { done, next } = nodes[at]!;
    const ends =
      done === full &&
      runs(
        model,
        start,
        programOf(
          model,
          program.procedure,
          orderOf(nodes, at).map((step) => program.steps[step]!),
        ),
      );
    if (ends || next.some(({ to }) => alive.has(to))) alive.add(at);
  }
  return nodes.flatMap((node, at) =>
    alive.has(at) ? [{ ...node, next: node.next.filter(({ to }) => alive.has(to)) }] : [],
  );
}

/** The steps in the order in which a node was first reached. */
function orderOf(nodes: readonly Node[], at: number): number[] {
  const order: number[] = [];
  for (let node = nodes[at]!; node.from >= 0; node = nodes[node.from]!) order.push(node.by);
  return order.reverse();
}
