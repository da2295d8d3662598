/**
 * The changeover search against puzzles with published optimal lengths, encoded as platforms, and against a
 * general-purpose graph library.
 */
import fc from "fast-check";
import { DirectedGraph } from "graphology";
import { dijkstra } from "graphology-shortest-path";
import { describe, expect, it } from "vitest";
import { graphFor, planChangeover } from "../../../src/domain/states/changeover.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { findWays } from "../../../src/domain/states/search.ts";
import {
  configuration,
  item,
  move,
  place,
  platform,
  procedure,
  somePlatform,
  step,
} from "../../arbitraries/platform.ts";

/** Seconds of the least-time way between two configurations; undefined if there is none. */
function seconds(built: ReturnType<typeof platform>, from: string, to: string): number | undefined {
  const model = buildModel(built);
  const find = (name: string) => model.arrangements.find((each) => each.name === name)!;
  return planChangeover(model, graphFor(model, {}), find(from), find(to))?.seconds;
}

/** Discs are items with a place on each; only a smaller one may stand on it. A procedure for each disc, from and to. */
function tower(discs: number): ReturnType<typeof platform> {
  const pegs = ["peg-a", "peg-b", "peg-c"];
  const names = Array.from({ length: discs }, (_, at) => `disc-${at + 1}`);
  const under = (at: number) => [...pegs, ...names.slice(at + 1).map((larger) => `on-${larger}`)];
  const stack = (peg: string) =>
    Object.fromEntries(names.map((name, at) => [at + 1 < discs ? `on-disc-${at + 2}` : peg, { [name]: 1 }]));
  return platform({
    places: [
      ...pegs.map((id) => place(id, { room: 1 })),
      ...names.map((name) => place(`on-${name}`, { on: name, room: 1 })),
      place("box", { kind: "store" }),
    ],
    items: names.map((name) => item(name, "box", { places: [`on-${name}`] })),
    configurations: [configuration("left", stack("peg-a")), configuration("right", stack("peg-c"))],
    procedures: names.flatMap((name, at) =>
      under(at).flatMap((from) =>
        under(at)
          .filter((to) => to !== from)
          .map((to) => procedure(`${name}-${from}-${to}`, [move(name, from, to)])),
      ),
    ),
  });
}

describe("the tower of Hanoi takes 2^n - 1 moves (ASP competition 2011, problem HanoiTower)", () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])("with %i discs", (discs) =>
    expect(seconds(tower(discs), "left", "right")).toBe(2 ** discs - 1),
  );
});

/** Blocks are items with one place on each; any block may stand on any other or on the table. */
function blocks(count: number, from: readonly string[][], to: readonly string[][]): ReturnType<typeof platform> {
  const names = ["a", "b", "c", "d", "e"].slice(0, count);
  const places = ["table", ...names.map((name) => `on-${name}`)];
  const fitted = (towers: readonly string[][]) => {
    const entries: Record<string, Record<string, number>> = {};
    for (const each of towers)
      each.forEach((name, at) =>
        Object.assign((entries[at === 0 ? "table" : `on-${each[at - 1]}`] ??= {}), { [name]: 1 }),
      );
    return entries;
  };
  return platform({
    places: [
      place("table"),
      ...names.map((name) => place(`on-${name}`, { on: name, room: 1 })),
      place("box", { kind: "store" }),
    ],
    items: names.map((name) => item(name, "box", { places: [`on-${name}`] })),
    configurations: [configuration("from", fitted(from)), configuration("to", fitted(to))],
    procedures: names.flatMap((name) =>
      places
        .filter((each) => each !== `on-${name}`)
        .flatMap((a) =>
          places
            .filter((b) => b !== a && b !== `on-${name}`)
            .map((b) => procedure(`${name}-${a}-${b}`, [move(name, a, b)])),
        ),
    ),
  });
}

describe("blocks world", () => {
  it(
    "Sussman's anomaly takes 3 block moves, not one goal after the other (Sussman 1975; from memory, recomputed " +
      "by breadth-first search)",
    () => {
      expect(seconds(blocks(3, [["a", "c"], ["b"]], [["c", "b", "a"]]), "from", "to")).toBe(3);
    },
  );
  it("reversing a tower of 3 takes 3 moves, of 4 takes 4 (recomputed by breadth-first search)", () => {
    expect(seconds(blocks(3, [["a", "b", "c"]], [["c", "b", "a"]]), "from", "to")).toBe(3);
    expect(seconds(blocks(4, [["a", "b", "c", "d"]], [["d", "c", "b", "a"]]), "from", "to")).toBe(4);
  });
  it.each([
    [3, 13, 4],
    [4, 73, 6],
    [5, 501, 8],
  ])(
    "%i blocks stand in as many ways as OEIS A000262 says (from memory): %i; the farthest from one tower is %i moves",
    (count, states, diameter) => {
      const tall = [["a", "b", "c", "d", "e"].slice(0, count)];
      const model = buildModel(blocks(count, tall, tall));
      const graph = graphFor(model, {});
      const start = graph.add(model.states[0]!);
      const { nodes, complete } = graph.reach([start]);
      expect([nodes.length, complete]).toEqual([states, true]);
      expect(Math.max(...[...findWays(graph, start, new Set(nodes)).values()].map((way) => way.seconds))).toBe(
        diameter,
      );
    },
  );
});

/** Tiles in squares that take one; a procedure moves a tile to a neighbouring square, which must be empty. */
function sliding(from: readonly number[], to: readonly number[]): ReturnType<typeof platform> {
  const squares = Array.from({ length: 9 }, (_, at) => `square-${at}`);
  const fitted = (board: readonly number[]) =>
    Object.fromEntries(board.flatMap((tile, at) => (tile ? [[squares[at]!, { [`tile-${tile}`]: 1 }]] : [])));
  const beside = (a: number, b: number) =>
    Math.abs((a % 3) - (b % 3)) + Math.abs(Math.floor(a / 3) - Math.floor(b / 3)) === 1;
  const tiles = [1, 2, 3, 4, 5, 6, 7, 8];
  return platform({
    places: [...squares.map((id) => place(id, { room: 1 })), place("box", { kind: "store" })],
    items: tiles.map((tile) => item(`tile-${tile}`, "box")),
    configurations: [configuration("from", fitted(from)), configuration("to", fitted(to))],
    procedures: tiles.flatMap((tile) =>
      squares.flatMap((a, i) =>
        squares.flatMap((b, j) =>
          beside(i, j) ? [procedure(`tile-${tile}-${i}-${j}`, [move(`tile-${tile}`, a, b)])] : [],
        ),
      ),
    ),
  });
}

describe("the 8-puzzle (Reinefeld, IJCAI 1993; from memory, recomputed by breadth-first search)", () => {
  const goal = [0, 1, 2, 3, 4, 5, 6, 7, 8];
  it("takes 31 moves from 8 0 6 / 5 4 7 / 2 3 1, one of the two hardest", { timeout: 120_000 }, () => {
    expect(seconds(sliding([8, 0, 6, 5, 4, 7, 2, 3, 1], goal), "from", "to")).toBe(31);
  });
  it("says that an odd permutation has no way, after 181,440 states", { timeout: 120_000 }, () => {
    const model = buildModel(sliding([0, 2, 1, 3, 4, 5, 6, 7, 8], goal));
    const graph = graphFor(model, {});
    const [from, to] = model.arrangements;
    expect(planChangeover(model, graph, from!, to!)).toBeUndefined();
    // The goal itself was added as a node, and is in the other half.
    expect(graph.states.length).toBe(181_440 + 1);
  });
});

describe("random platforms with random durations", () => {
  it("take as long as Dijkstra's algorithm of a graph library says, for every state that can be reached", () => {
    let ways = 0;
    fc.assert(
      fc.property(
        somePlatform(),
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 6, maxLength: 6 }),
        (built, times) => {
          const timed = {
            ...built,
            procedures: built.procedures.map((each, at) => ({
              ...each,
              steps: each.steps.map((one) => step([...one.operations], { ...one, takesSeconds: times[at]! })),
            })),
          };
          const model = buildModel(timed);
          const graph = graphFor(model, {});
          const starts = model.states.map((state) => graph.add(state));
          const { nodes } = graph.reach(starts);
          const other = new DirectedGraph();
          for (const node of nodes) other.addNode(String(node));
          for (const node of nodes)
            for (const { program, to } of graph.from(node)) {
              const weight = Math.min(
                graph.programs[program]!.seconds,
                other.hasEdge(String(node), String(to))
                  ? (other.getEdgeAttribute(String(node), String(to), "weight") as number)
                  : Infinity,
              );
              other.mergeEdge(String(node), String(to), { weight });
            }
          for (const start of starts) {
            const found = findWays(graph, start, new Set(nodes));
            for (const node of nodes) {
              const path = dijkstra.bidirectional(other, String(start), String(node), "weight");
              const expected = path
                ?.slice(1)
                .reduce(
                  (sum, each, index) => sum + (other.getEdgeAttribute(path[index]!, each, "weight") as number),
                  0,
                );
              expect(found.get(node)?.seconds).toBe(expected);
              if (found.get(node)?.programs.length) ways++;
            }
          }
        },
      ),
      { numRuns: 4000, seed: 7 },
    );
    expect(ways).toBeGreaterThan(100);
  });
});
