/** Least-time search over a state graph: Dijkstra's algorithm, and every way that takes the same time. */
import TinyQueue from "tinyqueue";
import type { Ways } from "./explore.ts";

/** A way through the graph: the programs in order and the seconds that their steps add up to. */
export interface Way {
  readonly programs: readonly number[];
  readonly seconds: number;
}

/** A node on ways of least time, with every last step of such a way: a program and the point that it starts from. */
export interface WayPoint {
  readonly node: number;
  /** Whole milliseconds, so that the same times in another order add up to the same. */
  readonly time: number;
  /** The same with what a way to the end takes at least from here. */
  readonly far: number;
  /** Programs of the ways with the fewest. */
  readonly hops: number;
  /** Empty at the start. Going back leads to the start, without a circle. */
  readonly before: { readonly program: number; readonly from: WayPoint }[];
}

/** Chooses among the ways of least time that lead from a start to an end; the programs in order. */
export type ChooseWay = (start: WayPoint, end: WayPoint) => readonly number[];

/**
 * The least-time way from one node to each of the targets; a target that cannot be reached is missing from the result.
 * Every procedure takes zero seconds or more, so a node is final when it is taken from the queue (Dijkstra 1959): the
 * bound of zero for what is left is admissible whatever the graph. `choose` is asked among the ways of the same time;
 * left out, the first of those with the fewest procedures is taken, in the order of `graph.programs`.
 *
 * Where the end is far, the graph's bound from below for what is left takes the place of zero (A*, Hart, Nilsson and
 * Raphael 1968). It is consistent, so a node is still final when it is taken; and of nodes that promise the same those
 * that took less come first, so that all ways of the same time to a node are there when it is taken, as without it.
 */
export function findWays(
  graph: Ways,
  from: number,
  targets: ReadonlySet<number>,
  choose: ChooseWay = chooseFirst,
  near = NEAR,
): Map<number, Way> {
  const short = graph.leastLeft ? search(graph, from, targets, choose, near) : undefined;
  return short ?? search(graph, from, targets, choose, Infinity, graph.leastLeft?.())!;
}

/** Points of a search that is over before a bound is worked out. */
const NEAR = 30;

/** `undefined`: more than `most` points were looked at. */
function search(
  graph: Ways,
  from: number,
  targets: ReadonlySet<number>,
  choose: ChooseWay,
  most: number,
  leastLeft: (node: number) => number = () => 0,
): Map<number, Way> | undefined {
  const ways = new Map<number, Way>();
  const start: WayPoint = { node: from, time: 0, far: leastLeft(from), hops: 0, before: [] };
  const best = new Map([[from, start]]);
  const queue = new TinyQueue<WayPoint>([start], compare);
  let looked = 0;
  for (let point = queue.pop(); point; point = queue.pop()) {
    // A better way to this node was taken from the queue before.
    if (best.get(point.node) !== point) continue;
    if (targets.has(point.node)) {
      const programs = choose(start, point);
      const seconds = programs.reduce((sum, program) => sum + graph.programs[program]!.seconds, 0);
      ways.set(point.node, { programs, seconds });
    }
    if (ways.size === targets.size) break;
    if (++looked > most) return undefined;
    for (const { program, to } of graph.from(point.node)) {
      const takes = Math.round(graph.programs[program]!.seconds * 1000),
        [time, hops] = [point.time + takes, point.hops + 1],
        known = best.get(to);
      // What takes no time could go round in a circle: only with the fewest procedures is it part of a way.
      if (known && (known.time < time || (known.time === time && known.hops < hops && takes === 0))) continue;
      const far = time + leastLeft(to);
      // From there nothing leads to the end.
      if (far === Infinity) continue;
      const last = { program, from: point };
      if (known?.time === time && known.hops <= hops) known.before.push(last);
      else {
        const kept = known?.time === time ? known.before.filter((each) => each.from.time < time) : [];
        const next: WayPoint = { node: to, time, far, hops, before: [...kept, last] };
        best.set(to, next);
        queue.push(next);
      }
    }
  }
  return ways;
}

function compare(a: WayPoint, b: WayPoint): number {
  return a.far - b.far || a.time - b.time || a.hops - b.hops;
}

/** The way with the fewest programs, of several the one whose programs come first. */
const chooseFirst: ChooseWay = (start, end) => {
  const onward = onwardOf(end, ({ hops }, from) => from.hops + 1 === hops);
  const programs: number[] = [];
  for (let at = start; at !== end;) {
    const first = onward.get(at)!.reduce((a, b) => (b.program < a.program ? b : a));
    programs.push(first.program);
    at = first.to;
  }
  return programs;
};

/** What leads on from each point towards the end; only by steps that `allowed` says, if it is given. */
export function onwardOf(
  end: WayPoint,
  allowed: (to: WayPoint, from: WayPoint) => boolean = () => true,
): Map<WayPoint, { readonly program: number; readonly to: WayPoint }[]> {
  const onward = new Map<WayPoint, { program: number; to: WayPoint }[]>();
  const seen = new Set([end]);
  for (const to of seen)
    for (const { program, from } of to.before) {
      if (!allowed(to, from)) continue;
      onward.set(from, [...(onward.get(from) ?? []), { program, to }]);
      seen.add(from);
    }
  return onward;
}
