/** Finds a way between two states by going where it looks nearest, without seeing all states. */
import TinyQueue from "tinyqueue";
import type { Ways } from "./explore.ts";
import type { State } from "./model.ts";

/** States whose ways on are looked at before giving up: a plan of some hundred procedures is found well before. */
export const MOST_LOOKED_AT = 400;

/**
 * Whether a way from one node to another was found; false says nothing: there may be one all the same.
 *
 * Sound: true is only given when the target was met among the nodes that lead from one another, from the start, by
 * edges of the graph, and each edge is a procedure that was run in that very state (`StateGraph.from`). So the target
 * is in the set of nodes that `StateGraph.reach` would give without a bound (by induction over the edges of the way);
 * what is true here is true of the exhaustive search. The order in which nodes are looked at (fewest pieces and
 * fastenings that differ from the target first) decides only how soon. Of procedures that are independent of each
 * other, each brings the state nearer by its own pieces, so that a way through n of them is found after n looks, where
 * all states are 2 to the power of n.
 */
export function findsWay(
  graph: Pick<Ways, "states" | "from">,
  from: number,
  to: number,
  most = MOST_LOOKED_AT,
): boolean {
  if (from === to) return true;
  const target = graph.states[to]!;
  const seen = new Set([from]);
  const queue = new TinyQueue([{ node: from, far: farFrom(graph.states[from]!, target) }], (a, b) => a.far - b.far);
  for (let looked = 0; looked < most; looked++) {
    const next = queue.pop();
    if (!next) return false;
    for (const { to: node } of graph.from(next.node)) {
      if (node === to) return true;
      if (seen.has(node)) continue;
      seen.add(node);
      queue.push({ node, far: farFrom(graph.states[node]!, target) });
    }
  }
  return false;
}

/** In how many slots and fastenings two states differ. */
function farFrom(state: State, target: State): number {
  let far = 0;
  for (let at = 0; at < target.length; at++) if (state[at] !== target[at]) far += 1;
  return far;
}
