/** The states that procedures lead to: a graph that grows as it is asked, each state kept once. */
import { watcherHere } from "../words/reads.ts";
import type { Model, Program, State } from "./model.ts";
import { keyOf } from "./model.ts";
import { runs } from "./run.ts";

/** One procedure that runs in a state. */
interface Edge {
  /** Index into `programs`. */
  readonly program: number;
  /** Index of the state it ends in. */
  readonly to: number;
}

/** How a graph grows. */
interface GraphOptions {
  /** A forced end of a program in a state where it does not run; `undefined`: it stays impossible. */
  readonly force?: ((state: State, program: Program) => State | undefined) | undefined;
  /** Programs that run only where every turn counts. */
  readonly strict?: ReadonlySet<Program>;
}

/** A state graph over a set of programs. Nodes are numbered as they are found. */
export class StateGraph {
  readonly states: State[] = [];
  readonly #numbers = new Map<string, number>();
  readonly #edges: (readonly Edge[] | undefined)[] = [];
  readonly model: Model;
  readonly programs: readonly Program[];
  /**
   * Programs by the slot that their first act takes from, and those that begin otherwise: most are ruled out by a look
   * at the slot.
   */
  readonly #bySlot = new Map<number, number[]>();
  readonly #others: number[] = [];
  readonly #force: GraphOptions["force"];
  readonly #strict: ReadonlySet<Program>;

  constructor(model: Model, programs: readonly Program[], { force, strict = new Set() }: GraphOptions = {}) {
    this.model = model;
    this.programs = programs;
    this.#force = force;
    this.#strict = strict;
    programs.forEach((program, index) => {
      const first = program.acts[0];
      if (first?.kind !== "move" || force) this.#others.push(index);
      else this.#bySlot.set(first.fromSlot, [...(this.#bySlot.get(first.fromSlot) ?? []), index]);
    });
  }

  #candidates(state: State): number[] {
    const found = [...this.#others];
    for (const [slot, programs] of this.#bySlot) if (state[slot]! > 0) found.push(...programs);
    return found.sort((a, b) => a - b);
  }

  /** Number of a state, new or known. */
  add(state: State): number {
    const key = keyOf(state);
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    this.#numbers.set(key, this.states.length);
    this.states.push(state);
    return this.states.length - 1;
  }

  /** What leads on from a state, in the order of the programs; computed once. */
  from(node: number): readonly Edge[] {
    const watcher = watcherHere();
    return watcher ? watcher.within(this, () => this.#look(node)) : this.#look(node);
  }

  #look(node: number): readonly Edge[] {
    const known = this.#edges[node];
    if (known) return known;
    const state = this.states[node]!;
    const edges: Edge[] = [];
    for (const index of this.#candidates(state)) {
      const program = this.programs[index]!;
      const end =
        runs(this.model, state, program, { noVainTurns: this.#strict.has(program) }) ?? this.#force?.(state, program);
      const to = end ? this.add(end) : node;
      if (to !== node) edges.push({ program: index, to });
    }
    this.#edges[node] = edges;
    return edges;
  }

  /**
   * Every node that can be reached from `starts`, starts first; stops early when `enough` says so or at `most` states.
   */
  reach(
    starts: readonly number[],
    most = Infinity,
    enough?: (node: number) => boolean,
  ): { readonly nodes: readonly number[]; readonly complete: boolean } {
    const seen = new Set(starts);
    const nodes = [...seen];
    for (let at = 0; at < nodes.length; at++) {
      if (enough?.(nodes[at]!)) return { nodes, complete: false };
      if (nodes.length > most) return { nodes, complete: false };
      for (const { to } of this.from(nodes[at]!))
        if (!seen.has(to)) {
          seen.add(to);
          nodes.push(to);
        }
    }
    return { nodes, complete: true };
  }
}
