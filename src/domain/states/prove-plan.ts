/**
 * Proves that every arrangement can be reached, for every patient of its band, and that the platform can be brought
 * back to the standing one.
 */
import type { Band, Procedure } from "../../schema/collection.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { meetBands, sayBand } from "../bands/bands.ts";
import { graphFor, type Missing, whatIsMissing } from "./changeover.ts";
import type { StateGraph, Ways } from "./explore.ts";
import type { Model, Program, State } from "./model.ts";
import type { Cell } from "../bands/patients.ts";
import { type Broken, MOST_STATES } from "./prove-parts.ts";
import { heard } from "../../words/heard.ts";
import { assume, run } from "./run.ts";
import { findsWay, MOST_LOOKED_AT } from "./witness.ts";
import { groupPatients } from "./usable.ts";
import { usableProcedures } from "../parts/lookup.ts";

/** An arrangement with the others from which (or the standing one to which) there is no way. */
export interface NoWay {
  readonly rule: "plan/unreachable" | "plan/no-way-back";
  readonly arrangement: Arrangement;
  /** Names of the arrangements at the other end of the pairs without a way. */
  readonly others: readonly string[];
  /** For whom, in words, lightest first. */
  readonly patients: string;
  /** What is missing in the nearest state that can be reached. */
  readonly lacks: readonly Missing[];
  /** There were too many states to see all: a way may lie beyond them. */
  readonly beyond?: boolean;
}

/**
 * Every arrangement without a way to it or back. Effects of broken procedures are assumed; and where what is missing is
 * something that a
 * broken or `suspect` procedure handles, nothing is said: that procedure is the cause.
 */
export function provePlan(
  model: Model,
  service: Band,
  broken: readonly Broken[],
  suspect: readonly Procedure[] = [],
  most = MOST_STATES,
  few = FEW_STATES,
): NoWay[] {
  const { arrangements } = model;
  const handled = handledBy(model, [...broken.map(({ program }) => program.procedure), ...suspect]);
  const standing = arrangements.find(
    ({ configuration, options: { length } }) => configuration.standing && length === 0,
  );
  const found = new Map<
    string,
    {
      rule: NoWay["rule"];
      arrangement: Arrangement;
      others: Set<string>;
      cells: Cell[];
      lacks: readonly Missing[];
      beyond?: boolean;
    }
  >();
  const note = (
    rule: NoWay["rule"],
    arrangement: Arrangement,
    other: string,
    cells: readonly Cell[],
    start: number,
    end: number,
    lookout: Lookout,
  ) => {
    const key = `${rule} ${arrangement.name}`;
    const missing = handled.size || !found.has(key) ? lookout.nearest(model, start, end) : [];
    if (missing.some(({ id, places }) => [id, ...places].some((each) => handled.has(each)))) return;
    const known = found.get(key) ?? {
      rule,
      arrangement,
      others: new Set<string>(),
      cells: [],
      lacks: missing,
      ...(lookout.isWhole(start, end) ? {} : { beyond: true }),
    };
    known.others.add(other);
    for (const cell of cells) if (!known.cells.includes(cell)) known.cells.push(cell);
    found.set(key, known);
  };
  const bands = arrangements.flatMap(({ band, without }) => [band, ...without]);
  const groups = groupPatients(model, service, usableProcedures(model.platform), bands, ({ band }) =>
    bands.some((each) => meetBands(each, band)),
  );
  for (const { cells } of groups) {
    const graph = graphFor(model, cells[0]!.patient, broken.length ? forceOf(model, broken) : undefined);
    const nodes = model.states.map((state) => graph.add(state));
    const lookout = new Lookout(graph, most, few);
    if (lookout.allReachAll(nodes)) continue;
    const inBand = ({ band: own, without }: Arrangement) =>
      cells.filter(({ band }) => meetBands(own, band) && !without.some((each) => meetBands(each, band)));
    // It waits for all of its configuration's patients, also for those who then need an option.
    const backCells = standing ? cells.filter(({ band }) => meetBands(standing.configuration.band, band)) : [];
    const home = standing ? arrangements.indexOf(standing) : -1;
    const stuck = new Set<number>();
    arrangements.forEach((arrangement, at) => {
      if (home < 0 || at === home || lookout.isReached(nodes[at]!, nodes[home]!)) return;
      stuck.add(at);
      if (backCells.length)
        note("plan/no-way-back", arrangement, standing!.name, backCells, nodes[at]!, nodes[home]!, lookout);
    });
    arrangements.forEach((target, at) => {
      const forCells = inBand(target);
      if (forCells.length === 0) return;
      // What can't get back to the standing arrangement is reported as that, where the standing band has these
      // patients.
      const sources = arrangements.flatMap((_, from) =>
        from === at || (stuck.has(from) && backCells.length > 0) ? [] : [from],
      );
      for (const from of sources)
        if (!lookout.isReached(nodes[from]!, nodes[at]!))
          note("plan/unreachable", target, arrangements[from]!.name, forCells, nodes[from]!, nodes[at]!, lookout);
    });
  }
  const all = [...found.values()].map(({ cells, others, ...rest }) => ({
    ...rest,
    others: [...others],
    patients: sayCells(cells),
  }));
  return all.filter((each) => !all.some((other) => explains(other, each)));
}

/** States looked at from one arrangement all together, before what is independent is looked at one by one. */
const FEW_STATES = 2_000;

/** Looks from nodes of a graph to others, each made once. */
class Lookout {
  readonly #graph: StateGraph;
  readonly #most: number;
  readonly #few: number;
  readonly #looks = new Map<Ways, Map<number, Look>>();

  constructor(graph: StateGraph, most: number, few: number) {
    this.#graph = graph;
    this.#most = most;
    this.#few = Math.min(few, most);
  }

  /**
   * Whether every node leads to every other: the first leads to all of them, and all of them to the first. Ways that
   * are found by going straight for them (`witness.ts`) spare the look at all states, of which there can be too many.
   */
  allReachAll(nodes: readonly number[]): boolean {
    const looks = Math.min(this.#most, MOST_LOOKED_AT);
    const isFound = (from: number, to: number) =>
      this.#graph
        .apart(from, to)
        .every(({ ways, end }) => findsWay(ways, from, end, looks) || this.#look(ways, from).nodes.has(end));
    const hub = nodes[0];
    return hub !== undefined && nodes.every((node) => isFound(hub, node) && isFound(node, hub));
  }

  /** Whether a node leads to another, as far as it was seen. */
  isReached(from: number, to: number): boolean {
    return this.#parts(from, to).every(({ ways, end }) => this.#look(ways, from).nodes.has(end));
  }

  /** Whether all states between the two were seen. */
  isWhole(from: number, to: number): boolean {
    return this.#parts(from, to).every(({ ways }) => this.#look(ways, from).complete);
  }

  /** What the state that comes nearest to the other lacks. */
  nearest(model: Model, from: number, to: number): readonly Missing[] {
    const { states } = this.#graph,
      own = states[from]!,
      state = own.slice();
    for (const { ways, end } of this.#parts(from, to)) {
      const near = nearest(model, states, this.#look(ways, from).nodes, states[end]!);
      near.forEach((value, at) => {
        if (value !== own[at]) state[at] = value;
      });
    }
    return whatIsMissing(model, state, states[to]!);
  }

  /** All together where that is seen at a glance, else what is independent one by one. */
  #parts(from: number, to: number): readonly { readonly ways: Ways; readonly end: number }[] {
    return this.#look(this.#graph, from, this.#few).complete
      ? [{ ways: this.#graph, end: to }]
      : this.#graph.apart(from, to);
  }

  #look(ways: Ways, from: number, most = this.#most): Look {
    const looks = this.#looks.get(ways) ?? new Map<number, Look>();
    this.#looks.set(ways, looks);
    const known = looks.get(from);
    if (known && (known.complete || known.most >= most)) return known;
    const { nodes, complete } = ways.reach([from], most),
      look = { nodes: new Set(nodes), complete, most };
    looks.set(from, look);
    return look;
  }
}

/** What was seen from a node, before there were more states than `most`. */
interface Look {
  readonly nodes: ReadonlySet<number>;
  readonly complete: boolean;
  readonly most: number;
}

/** Whether a finding follows from another: the same configuration already has no way with fewer of the options. */
function explains(cause: NoWay, effect: NoWay): boolean {
  if (
    cause === effect ||
    cause.rule !== effect.rule ||
    cause.arrangement.configuration.id !== effect.arrangement.configuration.id
  )
    return false;
  const { options } = effect.arrangement;
  return (
    cause.arrangement.options.length < options.length &&
    cause.arrangement.options.every((option) => options.includes(option))
  );
}

function forceOf(model: Model, broken: readonly Broken[]) {
  const least = new Map<string, { done: number; met: number }>();
  for (const {
    program,
    run: { done, met },
  } of broken)
    least.set(program.procedure.id, { done, met });
  return (state: State, program: Program) => {
    const bound = least.get(program.procedure.id);
    if (!bound) return undefined;
    const attempt = run(model, state, program);
    return attempt.done > bound.done || (attempt.done === bound.done && attempt.met >= bound.met)
      ? assume(model, state, program)
      : undefined;
  };
}

/**
 * What the procedures handle: items moved, places filled or emptied (stores are everybody's) or on an item moved,
 * fastenings turned or of such a place.
 */
function handledBy(model: Model, procedures: readonly Procedure[]): Set<string> {
  const handled = new Set<string>();
  for (const { steps } of procedures)
    for (const operation of steps.flatMap((step) => step.operations)) {
      if (operation.kind === "turn") handled.add(operation.fastening);
      else for (const each of [operation.item, operation.from, operation.to]) handled.add(each);
    }
  for (const { id, on, off } of model.places) {
    if (on >= 0 && handled.has(model.items[on]!.id)) handled.add(id);
    if (on < 0 && off) handled.delete(id);
  }
  for (const { id, holds } of model.fastenings)
    if (holds.some((place) => handled.has(model.places[place]!.id))) handled.add(id);
  return handled;
}

/** The state of these that lacks least of the target, the first of several. */
function nearest(model: Model, states: readonly State[], nodes: ReadonlySet<number>, target: State): State {
  let best: { readonly state: State; readonly lacks: number } | undefined;
  for (const node of nodes) {
    const state = states[node]!,
      lacks = whatIsMissing(model, state, target).length;
    if (!best || lacks < best.lacks) best = { state, lacks };
  }
  return best!.state;
}

function sayCells(cells: readonly Cell[]): string {
  const first = cells[0]!;
  return cells.length === 1
    ? sayBand(first.band)
    : heard("planFindings").bandAndMore({ band: sayBand(first.band), more: cells.length - 1 });
}
