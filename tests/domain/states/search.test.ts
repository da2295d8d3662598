/** The least-time search on small graphs of numbers, against trying every way. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { StateGraph } from "../../../src/domain/states/explore.ts";
import { findWays } from "../../../src/domain/states/search.ts";

interface Arrow {
  readonly from: number;
  readonly to: number;
  readonly program: number;
}

/**
 * Six nodes; each program leads from a node to at most one other. Few different durations, some of them zero, so that
 * many ways tie.
 */
const graphs = fc.record({
  seconds: fc.array(fc.constantFrom(0, 1, 1, 2, 5), { minLength: 4, maxLength: 4 }),
  arrows: fc
    .uniqueArray(fc.record({ from: fc.nat(5), to: fc.nat(5), program: fc.nat(3) }), {
      maxLength: 14,
      selector: ({ from, program }) => `${from} ${program}`,
    })
    .map((arrows) => arrows.filter(({ from, to }) => from !== to)),
});

/** As much of a state graph as a search asks for, and how often each node was asked. */
function graphOf(seconds: readonly number[], arrows: readonly Arrow[]) {
  const asked: number[] = [];
  const from = (node: number) => {
    asked.push(node);
    return arrows.filter((arrow) => arrow.from === node).sort((a, b) => a.program - b.program);
  };
  return { asked, graph: { programs: seconds.map((each) => ({ seconds: each })), from } as unknown as StateGraph };
}

/** Every way from a node that comes to no node twice, to each node. */
function* waysFrom(
  arrows: readonly Arrow[],
  node: number,
  been: readonly number[] = [],
  programs: readonly number[] = [],
): Generator<{ readonly to: number; readonly programs: readonly number[] }> {
  yield { to: node, programs };
  for (const { to, program } of arrows.filter(({ from }) => from === node))
    if (to !== node && !been.includes(to)) yield* waysFrom(arrows, to, [...been, node], [...programs, program]);
}

/** The best way to each node: least seconds, then fewest programs, then the one whose programs come first. */
function bestWays(seconds: readonly number[], arrows: readonly Arrow[], from: number) {
  const total = (programs: readonly number[]) => programs.reduce((sum, program) => sum + seconds[program]!, 0);
  const rank = (programs: readonly number[]) =>
    [total(programs), programs.length, ...programs].map((each) => String(each).padStart(4, "0")).join(" ");
  const best = new Map<number, { programs: readonly number[]; seconds: number }>();
  for (const { to, programs } of waysFrom(arrows, from))
    if (!best.has(to) || rank(programs) < rank(best.get(to)!.programs))
      best.set(to, { programs, seconds: total(programs) });
  return best;
}

describe("ways of least time", () => {
  it("are those of trying every way: fewest procedures of equal ones, then the procedures that come first", () => {
    fc.assert(
      fc.property(graphs, fc.uniqueArray(fc.nat(5), { minLength: 1 }), ({ seconds, arrows }, targets) => {
        const best = bestWays(seconds, arrows, 0);
        const expected = [...best].filter(([node]) => targets.includes(node)).sort(([a], [b]) => a - b);
        expect([...findWays(graphOf(seconds, arrows).graph, 0, new Set(targets))].sort(([a], [b]) => a - b)).toEqual(
          expected,
        );
      }),
      { numRuns: 1000 },
    );
  });

  it("are found looking at each node once at most, and at none that is farther than the farthest target", () => {
    fc.assert(
      fc.property(graphs, fc.nat(5), ({ seconds, arrows }, target) => {
        const { graph, asked } = graphOf(seconds, arrows),
          best = bestWays(seconds, arrows, 0),
          way = best.get(target);
        findWays(graph, 0, new Set([target]));
        expect(new Set(asked).size).toBe(asked.length);
        expect(asked.every((node) => best.get(node)!.seconds <= (way?.seconds ?? Infinity))).toBe(true);
        expect(asked).not.toContain(target);
      }),
      { numRuns: 500 },
    );
  });

  it("prefer the first procedure in the order of the graph where ways part early, late or both (invented case)", () => {
    // 0 to 3 by 1 and then 0, or by 0 and then 1; to 4 by one more of either.
    const arrows = [
      { from: 0, to: 1, program: 1 },
      { from: 1, to: 3, program: 0 },
      { from: 0, to: 2, program: 0 },
      { from: 2, to: 3, program: 1 },
      { from: 3, to: 4, program: 1 },
    ];
    expect(findWays(graphOf([1, 1], arrows).graph, 0, new Set([3, 4]))).toEqual(
      new Map([
        [3, { programs: [0, 1], seconds: 2 }],
        [4, { programs: [0, 1, 1], seconds: 3 }],
      ]),
    );
    // Also where the quicker procedure first makes the other way the one that is found first.
    expect(findWays(graphOf([2, 1], arrows).graph, 0, new Set([3, 4]))).toEqual(
      new Map([
        [3, { programs: [0, 1], seconds: 3 }],
        [4, { programs: [0, 1, 1], seconds: 4 }],
      ]),
    );
  });
});
