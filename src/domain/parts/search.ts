/** Least-time search over a state graph: Dijkstra's algorithm, with ties broken the same way every time. */
import TinyQueue from "tinyqueue";
import type { StateGraph } from "./explore.ts";

/** A way through the graph: the programs in order and the seconds that their steps add up to. */
interface Way {
  readonly programs: readonly number[];
  readonly seconds: number;
}

interface Entry {
  readonly node: number;
  readonly seconds: number;
  readonly hops: number;
  readonly program: number;
  readonly before: Entry | undefined;
}

/**
 * The least-time way from one node to each of the targets; a target that cannot be reached is missing from the result.
 * Every procedure takes zero seconds or more, so a node is final when it is taken from the queue (Dijkstra 1959): the
 * bound of zero for what is
 * left is admissible whatever the graph. Of ways that take the same time the one with fewer procedures wins, then the
 * one whose
 * procedures come first in the order of `graph.programs`.
 */
export function findWays(graph: StateGraph, from: number, targets: ReadonlySet<number>): Map<number, Way> {
  const ways = new Map<number, Way>();
  const start: Entry = { node: from, seconds: 0, hops: 0, program: -1, before: undefined };
  const best = new Map([[from, start]]);
  const queue = new TinyQueue<Entry>([start], compare);
  for (let entry = queue.pop(); entry; entry = queue.pop()) {
    // A better way to this node was taken from the queue before.
    if (best.get(entry.node) !== entry) continue;
    if (targets.has(entry.node)) ways.set(entry.node, { programs: programsOf(entry), seconds: entry.seconds });
    if (ways.size === targets.size) break;
    for (const { program, to } of graph.from(entry.node)) {
      const next: Entry = {
        node: to,
        seconds: entry.seconds + graph.programs[program]!.seconds,
        hops: entry.hops + 1,
        program,
        before: entry,
      };
      const known = best.get(to);
      if (known && compare(known, next) <= 0) continue;
      best.set(to, next);
      queue.push(next);
    }
  }
  return ways;
}

function compare(a: Entry, b: Entry): number {
  return a.seconds - b.seconds || a.hops - b.hops || comparePrograms(a, b);
}

/** Compares two ways of the same length by their first differing program. */
function comparePrograms(a: Entry, b: Entry): number {
  let difference = 0;
  let [left, right]: [Entry | undefined, Entry | undefined] = [a, b];
  while (left && right && left !== right) {
    if (left.program !== right.program) difference = left.program - right.program;
    [left, right] = [left.before, right.before];
  }
  return difference;
}

function programsOf(entry: Entry): number[] {
  const programs: number[] = [];
  for (let at: Entry | undefined = entry; at && at.program >= 0; at = at.before) programs.push(at.program);
  return programs.reverse();
}
