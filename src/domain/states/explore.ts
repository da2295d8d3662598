/** The states that procedures lead to: a graph that grows as it is asked, each state kept once. */
import type { Model, Program, State } from "./model.ts";
import { keyOf } from "./model.ts";
import { type Division, divisionOf } from "./apart.ts";
import { Bounds } from "./least-left.ts";
import { type Ends, endsKnown } from "./numbers.ts";
import { isSettled, runs } from "./run.ts";

/** States of a graph whose ends are kept for the next one at most. */
const MOST_KNOWN = 5_000;

/** One procedure that runs in a state. */
interface Edge {
  /** Index into `programs`. */
  readonly program: number;
  /** Index of the state it ends in. */
  readonly to: number;
}

/**
 * Programs of a group by the slot that their first act takes from, and those that begin otherwise: most are ruled out
 * by a look at the slot.
 */
interface Group {
  readonly bySlot: ReadonlyMap<number, readonly number[]>;
  readonly others: readonly number[];
}

/** Pieces that must be in a slot. */
type Needed = readonly (readonly [slot: number, count: number])[];

/** What a program takes from slots into which it has put nothing before: that has to be there when it begins. */
function neededBy({ acts }: Program): Needed {
  const needed = new Map<number, number>(),
    filled = new Set<number>();
  for (const act of acts)
    if (act.kind === "move") {
      if (!filled.has(act.fromSlot)) needed.set(act.fromSlot, (needed.get(act.fromSlot) ?? 0) + act.count);
      filled.add(act.toSlot);
    }
  return [...needed];
}

/** How a graph grows. */
interface GraphOptions {
  /** A forced end of a program in a state where it does not run; `undefined`: it stays impossible. */
  readonly force?: ((state: State, program: Program) => State | undefined) | undefined;
  /** Programs that run only where every turn counts. */
  readonly strict?: ReadonlySet<Program>;
}

/** What a search asks of a graph. */
export interface Ways extends Pick<StateGraph, "programs" | "states" | "from" | "reach"> {
  /** Worked out when asked: how many whole milliseconds it takes at least from a node to the end (`least-left.ts`). */
  readonly leastLeft?: () => ((node: number) => number) | undefined;
}

/** A state graph over a set of programs. Nodes are numbered as they are found. */
export class StateGraph {
  readonly states: State[] = [];
  readonly #numbers = new Map<string, number>();
  readonly #edges: (readonly Edge[] | undefined)[] = [];
  /** The edges of each group of programs apart. */
  readonly #apart: (Edge[] | undefined)[][] = [];
  /** The graph of some groups alone, by their numbers. */
  readonly #only = new Map<string, Ways>();
  readonly model: Model;
  readonly programs: readonly Program[];
  readonly #force: GraphOptions["force"];
  readonly #strict: ReadonlySet<Program>;
  /** What is known from other graphs of the same numbers; a forced end rests on more than these. */
  readonly #known: Ends | undefined;
  /** What must stand in which slots for a program to run, by its place in the list. */
  readonly #asks: (Needed | undefined)[] = [];
  #division: Division | undefined;
  #groups: readonly Group[] | undefined;
  #knownBounds: Bounds | undefined;

  constructor(model: Model, programs: readonly Program[], { force, strict = new Set() }: GraphOptions = {}) {
    this.model = model;
    this.programs = programs;
    this.#force = force;
    this.#strict = strict;
    this.#known = force ? undefined : endsKnown(model, programs, strict);
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
    const known = this.#edges[node];
    if (known) return known;
    const edges = this.#of(node, this.#allGroups.keys());
    this.#edges[node] = edges;
    return edges;
  }

  /**
   * The same graph without the programs that are of no use on the way from a node to others: those of groups in which
   * nothing differs between them (`apart.ts`). A way of least time has none of them: without them it takes no
   * longer and has fewer programs. To a single end it knows a bound from below.
   */
  between(start: number, ends: readonly number[]): Ways {
    const own = this.states[start]!,
      targets = ends.map((end) => this.states[end]!);
    if (![own, ...targets].every((state) => isSettled(this.model, state))) return this;
    const { groupAt } = this.#divided,
      groups = new Set<number>();
    for (const target of targets)
      for (const [at, group] of groupAt.entries()) if (group >= 0 && own[at] !== target[at]) groups.add(group);
    const { programs, states, from, reach } = this.#onlyOf([...groups].sort((a, b) => a - b));
    const leastLeft = () => {
      if (targets.length !== 1 || this.#force) return undefined;
      const wanted = new Set([...groupAt.keys()].filter((at) => groups.has(groupAt[at]!)));
      const left = this.#bounds.between(own, targets[0]!, wanted);
      return left && ((node: number) => left(this.states[node]!));
    };
    return { programs, states, from, reach, leastLeft };
  }

  /** The graph of one group alone, by its number among the independent ones. */
  group(number: number): Ways {
    return this.#onlyOf([number]);
  }

  /**
   * A way from a node to another in its independent parts: for each group of programs in which they differ, the graph
   * of that group alone, and the node that differs from the first as the second does in this group. There is a way if
   * and only if there is one in each part. Where they differ in what no program changes, the last part has no programs.
   */
  apart(start: number, end: number): { readonly ways: Ways; readonly end: number }[] {
    const own = this.states[start]!,
      target = this.states[end]!;
    const { groupAt } = this.#divided;
    if (this.#allGroups.length <= 1 || ![own, target].every((state) => isSettled(this.model, state)))
      return [{ ways: this, end }];
    const differing = new Set(groupAt.filter((_, at) => own[at] !== target[at]));
    return [...differing]
      .sort((a, b) => b - a)
      .map((group) => {
        const part = own.map((value, at) => (groupAt[at] === group ? target[at]! : value));
        return { ways: this.#onlyOf(group < 0 ? [] : [group]), end: this.add(part) };
      });
  }

  /** In how many independent parts two nodes differ: of as many parts `apart` would speak. */
  countApart(start: number, end: number): number {
    const own = this.states[start]!,
      target = this.states[end]!;
    const { groupAt } = this.#divided;
    if (this.#allGroups.length <= 1 || ![own, target].every((state) => isSettled(this.model, state))) return 1;
    return new Set(groupAt.filter((_, at) => own[at] !== target[at])).size;
  }

  #onlyOf(groups: readonly number[]): Ways {
    const key = groups.join(" "),
      known = this.#only.get(key);
    if (known) return known;
    const edges: (readonly Edge[])[] = [];
    const from = (node: number) => (edges[node] ??= this.#of(node, groups));
    const made: Ways = {
      programs: this.programs,
      states: this.states,
      from,
      reach: (...asked) => reachBy(from, ...asked),
    };
    this.#only.set(key, made);
    return made;
  }

  /** The edges of some groups, in the order of the programs; what is not known yet is run in that order too. */
  #of(node: number, groups: Iterable<number>): readonly Edge[] {
    const apart = (this.#apart[node] ??= []),
      wanted = [...groups],
      asked: number[] = [];
    const state = this.states[node]!,
      { groupOf } = this.#divided;
    for (const group of wanted) {
      if (apart[group]) continue;
      apart[group] = [];
      const { bySlot, others } = this.#allGroups[group]!;
      for (const index of others) if (this.#force || this.#hasAll(index, state)) asked.push(index);
      for (const [slot, programs] of bySlot)
        if (state[slot]! > 0) for (const index of programs) if (this.#hasAll(index, state)) asked.push(index);
    }
    const ends = this.#endsAt(state);
    for (const index of asked.sort((a, b) => a - b)) {
      const end = ends.has(index) ? ends.get(index) : this.#endOf(index, state);
      ends.set(index, end);
      const to = end ? this.add(end) : node;
      if (to !== node) apart[groupOf[index]!]!.push({ program: index, to });
    }
    return wanted.length === 1
      ? apart[wanted[0]!]!
      : wanted.flatMap((group) => apart[group]!).sort((a, b) => a.program - b.program);
  }

  /** Whether a program finds all that it takes: else it can't be done to its end, and needs not be begun. */
  #hasAll(index: number, state: State): boolean {
    const needed = (this.#asks[index] ??= neededBy(this.programs[index]!));
    return needed.every(([slot, count]) => state[slot]! >= count);
  }

  get #bounds(): Bounds {
    return (this.#knownBounds ??= new Bounds(this.model, this.programs, this.#strict));
  }

  /** Where a program ends that is begun in a state; nothing where it does not run there. */
  #endOf(index: number, state: State): State | undefined {
    const program = this.programs[index]!;
    return (
      runs(this.model, state, program, { noVainTurns: this.#strict.has(program) }) ?? this.#force?.(state, program)
    );
  }

  /** Ends of programs in a state, by their place in the list: to be added to. */
  #endsAt(state: State): Map<number, State | undefined> {
    const key = keyOf(state),
      ends = this.#known?.get(key) ?? new Map<number, State | undefined>();
    if (this.#known && this.#known.size < MOST_KNOWN) this.#known.set(key, ends);
    return ends;
  }

  get #divided(): Division {
    return (this.#division ??= divisionOf(this.model, this.programs));
  }

  get #allGroups(): readonly Group[] {
    if (this.#groups) return this.#groups;
    const groups: { readonly bySlot: Map<number, number[]>; readonly others: number[] }[] = [];
    this.#divided.groupOf.forEach((group, index) => {
      const { bySlot, others } = (groups[group] ??= { bySlot: new Map(), others: [] }),
        first = this.programs[index]!.acts[0];
      if (first?.kind !== "move" || this.#force) others.push(index);
      else bySlot.set(first.fromSlot, [...(bySlot.get(first.fromSlot) ?? []), index]);
    });
    return (this.#groups = groups);
  }

  /**
   * Every node that can be reached from `starts`, starts first; stops early when `enough` says so or at `most` states.
   */
  reach(starts: readonly number[], most?: number, enough?: (node: number) => boolean): Reached {
    return reachBy((node) => this.from(node), starts, most, enough);
  }
}

/** Nodes in the order in which they were found; not complete where the look was ended before. */
interface Reached {
  readonly nodes: readonly number[];
  readonly complete: boolean;
}

function reachBy(
  from: (node: number) => readonly Edge[],
  starts: readonly number[],
  most = Infinity,
  enough?: (node: number) => boolean,
): Reached {
  const seen = new Set(starts);
  const nodes = [...seen];
  for (let at = 0; at < nodes.length; at++) {
    if (enough?.(nodes[at]!)) return { nodes, complete: false };
    if (nodes.length > most) return { nodes, complete: false };
    for (const { to } of from(nodes[at]!))
      if (!seen.has(to)) {
        seen.add(to);
        nodes.push(to);
      }
  }
  return { nodes, complete: true };
}
