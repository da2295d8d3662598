/**
 * How long it takes at least from a state to another: a bound from below, by which a search leaves alone what leads
 * away and back (Hart, Nilsson and Raphael 1968: a search with a bound that is never too high finds the least).
 */
import TinyQueue from "tinyqueue";
import { partPrograms } from "./apart.ts";
import { StateGraph } from "./explore.ts";
import { keyOf, type Model, type Program, type State } from "./model.ts";
import { isSettled } from "./run.ts";

/** States of one group looked at before it is left out of the bound. */
const MOST_LOOKED_AT = 4_000;

/** Whole milliseconds that a way from a state takes at least; infinite where there is none. */
type LeastLeft = (state: State) => number;

/**
 * Bounds for the ways of a model by programs. Where every place had room for all, more could be done, never less; and
 * what only shares a place's room is then independent (`apart.ts`). So a way takes at least as long as the ways of the
 * independent parts take together where room is not asked for. The bound is consistent: a program changes the state of
 * one part only, and its least time by no more than the program takes.
 */
export class Bounds {
  readonly #graph: StateGraph;
  readonly #groupAt: readonly number[];
  readonly #known = new Map<string, ReadonlyMap<string, number> | undefined>();

  constructor(model: Model, programs: readonly Program[], strict: ReadonlySet<Program>) {
    const roomy = { ...model, places: model.places.map((place) => ({ ...place, room: Infinity })) };
    this.#graph = new StateGraph(roomy, programs, { strict });
    this.#groupAt = partPrograms(roomy, programs).groupAt;
  }

  /**
   * For the ways between two states by programs that change these positions alone; `undefined` where it would say
   * nothing, or no sooner than the search itself: where not even then there is more than one part.
   */
  between(start: State, end: State, wanted: ReadonlySet<number>): LeastLeft | undefined {
    if (![start, end].every((state) => isSettled(this.#graph.model, state))) return undefined;
    const groups = new Set([...wanted].map((at) => this.#groupAt[at]!).filter((group) => group >= 0));
    if (groups.size < 2) return undefined;
    const parts: { readonly positions: readonly number[]; readonly left: ReadonlyMap<string, number> }[] = [];
    for (const group of groups) {
      const positions = [...this.#groupAt.keys()].filter((at) => this.#groupAt[at] === group);
      const left = this.#leftOf(group, positions, start, end);
      if (left) parts.push({ positions, left });
    }
    if (parts.length === 0) return undefined;
    return (state) =>
      parts.reduce((sum, { positions, left }) => sum + (left.get(keyAt(state, positions)) ?? Infinity), 0);
  }

  /** Least milliseconds from each state of a group to the one that it ends in; `undefined`: too many states to see. */
  #leftOf(group: number, positions: readonly number[], start: State, end: State) {
    const still = [...this.#groupAt.keys()].filter((at) => this.#groupAt[at]! < 0);
    const key = [group, keyAt(start, positions), keyAt(end, positions), keyAt(start, still)].join("|");
    if (this.#known.has(key)) return this.#known.get(key);
    const left = this.#measure(group, positions, start, end);
    this.#known.set(key, left);
    return left;
  }

  #measure(group: number, positions: readonly number[], start: State, end: State) {
    const graph = this.#graph,
      ways = graph.group(group);
    const { nodes, complete } = ways.reach([graph.add(start)], MOST_LOOKED_AT);
    if (!complete) return undefined;
    const into = new Map<number, { readonly from: number; readonly takes: number }[]>();
    for (const from of nodes)
      for (const { program, to } of ways.from(from)) {
        const before = into.get(to) ?? [];
        into.set(to, before);
        before.push({ from, takes: Math.round(graph.programs[program]!.seconds * 1000) });
      }
    const target = graph.add(start.map((value, at) => (this.#groupAt[at] === group ? end[at]! : value))),
      least = new Map([[target, 0]]);
    const queue = new TinyQueue([{ node: target, time: 0 }], (a, b) => a.time - b.time);
    for (let next = queue.pop(); next; next = queue.pop()) {
      if (least.get(next.node)! < next.time) continue;
      for (const { from, takes } of into.get(next.node) ?? []) {
        const time = next.time + takes;
        if (time >= (least.get(from) ?? Infinity)) continue;
        least.set(from, time);
        queue.push({ node: from, time });
      }
    }
    return new Map([...least].map(([node, time]) => [keyAt(graph.states[node]!, positions), time]));
  }
}

function keyAt(state: State, positions: readonly number[]): string {
  const own = new Uint16Array(positions.length);
  for (let index = 0; index < positions.length; index++) own[index] = state[positions[index]!]!;
  return keyOf(own);
}
