/** Least-time search over a state graph: Dijkstra's algorithm, and the choice among ways that take the same time. */
import TinyQueue from "tinyqueue";
import type { StateGraph } from "./explore.ts";

/** A way through the graph: the programs in order and the seconds that their steps add up to. */
export interface Way {
  readonly programs: readonly number[];
  readonly seconds: number;
}

/** How to choose among ways of the same time and number of procedures. */
export interface Preference {
  /** Program -> its rank: of two ways that are equal otherwise, the one whose ranks come first. */
  readonly ranks: readonly number[];
  /** What is least first, the weightier first, for a way from `from`; asked only where there are several ways. */
  readonly costs: (programs: readonly number[]) => readonly number[];
}

/** Ways of the same time that are compared before the best so far is taken: those whose ranks come first. */
export const MOST_WAYS = 500;

interface Entry {
  readonly node: number;
  /** Whole milliseconds, so that the same times in another order add up to the same. */
  readonly time: number;
  readonly hops: number;
  /** Every last step of a way of this length: a program and the entry that it starts from. */
  readonly before: { readonly program: number; readonly entry: Entry }[];
}

/**
 * The least-time way from one node to each of the targets; a target that cannot be reached is missing from the result.
 * Every procedure takes zero seconds or more, so a node is final when it is taken from the queue (Dijkstra 1959): the
 * bound of zero for what is left is admissible whatever the graph. Of ways that take the same time the one with fewer
 * procedures wins, then the one of least `costs`, then the one whose programs come first by their `ranks`. Without a
 * preference programs rank in the order of `graph.programs`. Of more than `MOST_WAYS` the costs of the first are asked.
 */
export function findWays(
  graph: StateGraph,
  from: number,
  targets: ReadonlySet<number>,
  prefer?: Preference,
): Map<number, Way> {
  const ways = new Map<number, Way>();
  const start: Entry = { node: from, time: 0, hops: 0, before: [] };
  const best = new Map([[from, start]]);
  const queue = new TinyQueue<Entry>([start], compare);
  for (let entry = queue.pop(); entry; entry = queue.pop()) {
    // A better way to this node was taken from the queue before.
    if (best.get(entry.node) !== entry) continue;
    if (targets.has(entry.node)) ways.set(entry.node, chooseWay(graph, start, entry, prefer));
    if (ways.size === targets.size) break;
    for (const { program, to } of graph.from(entry.node)) {
      const next: Entry = {
        node: to,
        time: entry.time + Math.round(graph.programs[program]!.seconds * 1000),
        hops: entry.hops + 1,
        before: [{ program, entry }],
      };
      const known = best.get(to);
      const order = known ? compare(known, next) : 1;
      if (order === 0) known!.before.push(next.before[0]!);
      if (order <= 0) continue;
      best.set(to, next);
      queue.push(next);
    }
  }
  return ways;
}

function compare(a: Entry, b: Entry): number {
  return a.time - b.time || a.hops - b.hops;
}

function chooseWay(graph: StateGraph, start: Entry, end: Entry, prefer: Preference | undefined): Way {
  const programs = choose(waysBetween(start, end, prefer?.ranks), prefer?.costs);
  return { programs, seconds: programs.reduce((sum, program) => sum + graph.programs[program]!.seconds, 0) };
}

/** The first of the least costs. */
function choose(ways: Iterable<readonly number[]>, costs?: Preference["costs"]): readonly number[] {
  let best: readonly number[] | undefined, least: readonly number[] | undefined;
  let seen = 0;
  for (const way of ways) {
    if (!best) best = way;
    else {
      if (!costs || seen >= MOST_WAYS) break;
      least ??= costs(best);
      const own = costs(way);
      const differs = own.findIndex((cost, at) => Math.abs(cost - least![at]!) > 1e-6);
      if (differs >= 0 && own[differs]! < least[differs]!) [best, least] = [way, own];
    }
    seen++;
  }
  return best!;
}

/** Every way of least time and fewest procedures, those whose ranks come first first. */
function* waysBetween(start: Entry, end: Entry, ranks?: readonly number[]): Generator<number[]> {
  const onward = new Map<Entry, { program: number; to: Entry }[]>();
  const seen = new Set([end]);
  for (const to of seen)
    for (const { program, entry } of to.before) {
      (onward.get(entry) ?? onward.set(entry, []).get(entry)!).push({ program, to });
      seen.add(entry);
    }
  const rankOf = (program: number) => ranks?.[program] ?? program;
  for (const list of onward.values()) list.sort((a, b) => rankOf(a.program) - rankOf(b.program));
  function* follow(at: Entry, way: readonly number[]): Generator<number[]> {
    if (at === end) yield [...way];
    else for (const { program, to } of onward.get(at) ?? []) yield* follow(to, [...way, program]);
  }
  yield* follow(start, []);
}
