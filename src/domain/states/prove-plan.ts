/**
 * Proves that every arrangement can be reached, for every patient of its band, and that the platform can be brought
 * back to the standing one.
 */
import type { Band, Procedure } from "../../schema/collection.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { meetBands, sayBand } from "../bands/bands.ts";
import { graphFor, type Missing, whatIsMissing } from "./changeover.ts";
import type { StateGraph } from "./explore.ts";
import type { Model, Program, State } from "./model.ts";
import type { Cell } from "../bands/patients.ts";
import { type Broken, MOST_STATES } from "./prove-parts.ts";
import { assume, run } from "./run.ts";
import { findsWay, MOST_LOOKED_AT } from "./witness.ts";
import { groupPatients, usableProcedures } from "./usable.ts";

/** An arrangement with the others from which (or the standing one to which) there is no way. */
interface NoWay {
  readonly rule: "plan/unreachable" | "plan/no-way-back";
  readonly arrangement: Arrangement;
  /** Names of the arrangements at the other end of the pairs without a way. */
  readonly others: readonly string[];
  /** For whom, in words, lightest first. */
  readonly patients: string;
  /** What is missing in the nearest state that can be reached, in words. */
  readonly missing: readonly string[];
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
      missing: string[];
      beyond?: boolean;
    }
  >();
  const note = (
    rule: NoWay["rule"],
    arrangement: Arrangement,
    other: string,
    cells: readonly Cell[],
    isWhole: boolean,
    near: () => readonly Missing[],
  ) => {
    const key = `${rule} ${arrangement.name}`;
    const missing = handled.size || !found.has(key) ? near() : [];
    if (missing.some(({ id, places }) => [id, ...places].some((each) => handled.has(each)))) return;
    const known = found.get(key) ?? {
      rule,
      arrangement,
      others: new Set<string>(),
      cells: [],
      missing: missing.map(({ text }) => text),
      ...(isWhole ? {} : { beyond: true }),
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
    if (allReachAll(graph, nodes, most)) continue;
    const looks = nodes.map((node) => graph.reach([node], most));
    const reached = looks.map(({ nodes: seen }) => new Set(seen));
    const inBand = ({ band: own, without }: Arrangement) =>
      cells.filter(({ band }) => meetBands(own, band) && !without.some((each) => meetBands(each, band)));
    // It waits for all of its configuration's patients, also for those who then need an option.
    const backCells = standing ? cells.filter(({ band }) => meetBands(standing.configuration.band, band)) : [];
    const home = standing ? arrangements.indexOf(standing) : -1;
    const stuck = new Set<number>();
    arrangements.forEach((arrangement, at) => {
      if (home < 0 || at === home || reached[at]!.has(nodes[home]!)) return;
      stuck.add(at);
      if (backCells.length)
        note("plan/no-way-back", arrangement, standing!.name, backCells, looks[at]!.complete, () =>
          nearest(model, graph.states, reached[at]!, model.states[home]!),
        );
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
        if (!reached[from]!.has(nodes[at]!))
          note("plan/unreachable", target, arrangements[from]!.name, forCells, looks[from]!.complete, () =>
            nearest(model, graph.states, reached[from]!, model.states[at]!),
          );
    });
  }
  const all = [...found.values()].map(({ cells, others, ...rest }) => ({
    ...rest,
    others: [...others],
    patients: sayCells(cells),
  }));
  return all.filter((each) => !all.some((other) => explains(other, each)));
}

/**
 * Whether every node leads to every other: the first leads to all of them, and all of them to the first. Ways that are
 * found by going straight for them (`witness.ts`) spare the look at all states, of which there can be too many.
 */
function allReachAll(graph: StateGraph, nodes: readonly number[], most: number): boolean {
  const hub = nodes[0];
  const looks = Math.min(most, MOST_LOOKED_AT);
  const isFound = (from: number, to: number) => findsWay(graph, from, to, looks);
  if (hub !== undefined && nodes.every((node) => isFound(hub, node) && isFound(node, hub))) return true;
  const { nodes: all, complete } = graph.reach(nodes, most);
  if (!complete || nodes.length === 0) return false;
  const forward = new Set(graph.reach([nodes[0]!]).nodes);
  if (!nodes.every((node) => forward.has(node))) return false;
  const into = new Map<number, number[]>();
  for (const node of all) for (const { to } of graph.from(node)) (into.get(to) ?? into.set(to, []).get(to)!).push(node);
  const back = new Set([nodes[0]!]);
  for (const node of back) for (const before of into.get(node) ?? []) back.add(before);
  return nodes.every((node) => back.has(node));
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

function nearest(
  model: Model,
  states: readonly State[],
  nodes: ReadonlySet<number>,
  target: State,
): readonly Missing[] {
  let best: readonly Missing[] | undefined;
  for (const node of nodes) {
    const missing = whatIsMissing(model, states[node]!, target);
    if (!best || missing.length < best.length) best = missing;
  }
  return best ?? [];
}

function sayCells(cells: readonly Cell[]): string {
  const first = cells[0]!;
  return cells.length === 1
    ? sayBand(first.band)
    : `${sayBand(first.band)} and ${cells.length - 1} more ${cells.length === 2 ? "band" : "bands"}`;
}
