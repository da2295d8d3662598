/** Changeovers: the procedures, in order, that take the platform from one arrangement to another in the least time. */
import type { Procedure } from "../../schema/collection.ts";
import { findArrangement, type Arrangement } from "../parts/arrangements.ts";
import type { Patient } from "../bands/bands.ts";
import { strictPrograms } from "./elsewhere.ts";
import { StateGraph } from "./explore.ts";
import { type Model, NONE, type Program, programFor, type State } from "./model.ts";
import { compareByTrade } from "../parts/phase.ts";
import type { PlannedStep } from "../parts/reading.ts";
import { type ChooseWay, findWays, type Way } from "./search.ts";
import { heard } from "../../words/heard.ts";
import { usableProcedures } from "../parts/lookup.ts";

/** Pieces whose place is another one after the changeover. */
export interface NetMove {
  readonly item: string;
  readonly count: number;
  readonly from: string;
  readonly to: string;
}

/** A way from one arrangement to another, by their names (`capsule+gas-shelf`); no steps where both are one. */
export interface Changeover {
  readonly from: string;
  readonly to: string;
  readonly procedures: readonly Procedure[];
  readonly steps: readonly PlannedStep[];
  /** What the steps add up to, one after another. */
  readonly seconds: number;
  /** Net change: what moved and moved back is not in it. */
  readonly parts: readonly NetMove[];
  /** Items moved out of a place and later back into it: work done and undone. */
  readonly undone: readonly NetMove[];
}

/**
 * The graph of what a patient's procedures lead to, from every arrangement. Its programs are in the order of their
 * procedures' ids.
 */
export function graphFor(
  model: Model,
  patient: Patient,
  force?: (state: State, program: Program) => State | undefined,
): StateGraph {
  const procedures = usableProcedures(model.platform).sort((a, b) => (a.id < b.id ? -1 : 1));
  const programs = procedures
    .flatMap((procedure) => programFor(model, procedure, patient) ?? [])
    .filter((program) => program.acts.length > 0 && program.whole);
  return new StateGraph(model, programs, { force, strict: strictPrograms(model, programs) });
}

/**
 * The least-time changeover between two arrangements for a patient; `undefined` if there is none. Both are valid
 * arrangements of the model.
 */
export function planChangeover(
  model: Model,
  graph: StateGraph,
  from: Arrangement,
  to: Arrangement,
  choose?: ChooseWay,
): Changeover | undefined {
  return planAll(model, graph, from, [to], choose)[0];
}

/**
 * Least-time changeovers from one arrangement to several, in one search; `undefined` where there is none. Among ways of
 * the same time `choose` decides (`time/tied-ways.ts`).
 */
export function planAll(
  model: Model,
  graph: StateGraph,
  from: Arrangement,
  targets: readonly Arrangement[],
  choose?: ChooseWay,
): (Changeover | undefined)[] {
  const node = (arrangement: Arrangement) => graph.add(stateOf(model, arrangement));
  const start = node(from);
  const ends = targets.map(node);
  const near = ends.filter((end) => graph.countApart(start, end) <= MOST_TOGETHER);
  const ways =
    near.length > 0 ? findWays(graph.between(start, near), start, new Set(near), choose) : new Map<number, Way>();
  return targets.map((to, at) => {
    const end = ends[at]!,
      way = near.includes(end) ? ways.get(end) : findWay(graph, start, end, choose);
    return way && describe(model, graph, from, to, way.programs);
  });
}

/**
 * Independent parts in which two arrangements differ, that are searched together. Of more, which can be done in as many
 * orders as there are (ten of one procedure each: 3.6 million, by way of 1,024 states), each is searched by itself.
 */
const MOST_TOGETHER = 8;

/**
 * The least-time way from one node to another; `undefined` if there is none. Where they differ in more than
 * `MOST_TOGETHER` independent parts it is the least-time way of each part: none of them changes what another takes, so
 * that together they are of least time too. They are done in the order of the trade, each part in its own order; of the
 * many orders of the same seconds that is one, perhaps not of least elapsed time.
 */
export function findWay(graph: StateGraph, start: number, end: number, choose?: ChooseWay): Way | undefined {
  if (graph.countApart(start, end) <= MOST_TOGETHER)
    return findWays(graph.between(start, [end]), start, new Set([end]), choose).get(end);
  const left: (readonly number[])[] = [];
  let seconds = 0;
  for (const part of graph.apart(start, end)) {
    const way = findWays(part.ways, start, new Set([part.end]), choose).get(part.end);
    if (!way) return undefined;
    left.push(way.programs);
    seconds += way.seconds;
  }
  const byTrade = compareByTrade(graph.model.platform),
    compare = (a: number, b: number) => byTrade(graph.programs[a]!.procedure, graph.programs[b]!.procedure) || a - b;
  const programs: number[] = [];
  for (let next = nextOf(left, compare); next; next = nextOf(left, compare)) {
    programs.push(next[0]!);
    left[left.indexOf(next)] = next.slice(1);
  }
  return { programs, seconds };
}

/** The part whose next program comes first; `undefined` when all are done. */
function nextOf(left: readonly (readonly number[])[], compare: (a: number, b: number) => number) {
  return left.filter(({ length }) => length > 0).sort((a, b) => compare(a[0]!, b[0]!))[0];
}

/** What steps add up to, one after another. */
export function secondsOf(steps: readonly PlannedStep[]): number {
  return steps.reduce((sum, { step }) => sum + step.takesSeconds, 0);
}

/** The state of a valid arrangement. */
export function stateOf(model: Model, arrangement: Arrangement): State {
  const found = model.arrangements.findIndex(({ name }) => name === arrangement.name);
  if (found < 0) throw new RangeError(`not an arrangement of this platform: ${arrangement.name}`);
  return model.states[found]!;
}

/** The valid arrangement with this name, options in any order; `undefined` if there is none. */
export function arrangementNamed(model: Model, name: string): Arrangement | undefined {
  return findArrangement(model.arrangements, name);
}

function describe(
  model: Model,
  graph: StateGraph,
  from: Arrangement,
  to: Arrangement,
  way: readonly number[],
): Changeover {
  const programs = way.map((index) => graph.programs[index]!);
  const parts = netMoves(model, stateOf(model, from), stateOf(model, to));
  const steps = programs.flatMap((program) => program.steps.map((step) => ({ procedure: program.procedure, step })));
  return {
    from: from.name,
    to: to.name,
    procedures: programs.map(({ procedure }) => procedure),
    steps,
    seconds: secondsOf(steps),
    parts,
    undone: undoneMoves(programs, parts),
  };
}

/** How many pieces of an item a place has more (less: negative) than before; `order`: of the places. */
interface PlaceChange {
  readonly place: string;
  readonly by: number;
  readonly order: number;
}

/**
 * What is in another place in the second state than in the first; from and to are matched in the order of the places.
 */
export function netMoves(model: Model, before: State, after: State): NetMove[] {
  return model.items.flatMap((item) =>
    pairChanges(
      item.id,
      item.slots.map((slot) => ({
        place: model.places[model.slots[slot]!.place]!.id,
        by: after[slot]! - before[slot]!,
        order: model.slots[slot]!.place,
      })),
    ),
  );
}

/** The moves that come to these changes of one item, as few as can be; from and to in the order of the places. */
export function pairChanges(item: string, changes: readonly PlaceChange[]): NetMove[] {
  const sorted = changes.toSorted((a, b) => a.order - b.order);
  const out = sorted.filter(({ by }) => by < 0).map(({ place, by }) => ({ place, left: -by }));
  const into = sorted.filter(({ by }) => by > 0).map(({ place, by }) => ({ place, left: by }));
  const moves: NetMove[] = [];
  for (const source of out)
    for (const target of into) {
      const count = Math.min(source.left, target.left);
      if (count === 0) continue;
      moves.push({ item, count, from: source.place, to: target.place });
      source.left -= count;
      target.left -= count;
    }
  return moves;
}

/** Moves out of a place that a later procedure of the same changeover brings back: done and undone. */
function undoneMoves(programs: readonly Program[], parts: readonly NetMove[]): NetMove[] {
  const flows = new Map<string, { item: string; place: string; out: number; back: number }>();
  for (const { acts } of programs)
    for (const act of acts) {
      if (act.source.kind !== "move") continue;
      const { item, from, to, count } = act.source;
      for (const place of [from, to])
        if (!flows.has(`${item} ${place}`)) flows.set(`${item} ${place}`, { item, place, out: 0, back: 0 });
      flows.get(`${item} ${from}`)!.out += count;
      const target = flows.get(`${item} ${to}`)!;
      // What comes back to a place it was taken from: putting in first and taking out later is passing through.
      target.back += Math.min(count, target.out - target.back);
    }
  return [...flows.values()]
    .filter(
      ({ item, place, back }) =>
        back > 0 && place !== "aside" && !parts.some((part) => part.item === item && part.to === place),
    )
    .map(({ item, place, back }) => ({ item, count: back, from: place, to: place }));
}

/** One thing that is not as an arrangement wants it: an item or a fastening, with words for it. */
export interface Missing {
  readonly id: string;
  /** Where the item is and where it should be; empty for a fastening. */
  readonly places: readonly string[];
  /** How many pieces; left out for a fastening. */
  readonly count?: number;
  readonly text: string;
}

/** How far a state is from an arrangement: everything that stands elsewhere or otherwise; empty when nothing does. */
export function whatIsMissing(model: Model, state: State, target: State): Missing[] {
  const missing = netMoves(model, state, target).map(({ item, count, from, to }): Missing => ({
    id: item,
    places: [from, to],
    count,
    text: heard("fitting").countItemCount({ count, item, from, to }),
  }));
  model.fastenings.forEach(({ id, states }, at) => {
    const [now, should] = [state[model.slots.length + at]!, target[model.slots.length + at]!];
    if (now !== should && now !== NONE && should !== NONE)
      missing.push({
        id,
        places: [],
        text: heard("fitting").idIsStates({ id, now: states[now]!, should: states[should]! }),
      });
  });
  return missing;
}
