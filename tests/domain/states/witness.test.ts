/**
 * Going straight for a state against the exhaustive search: what is found is true, and without a bound all that is true
 * is found. Eighteen independent procedures, whose states are too many to see, are proved all the same.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { graphFor } from "../../../src/domain/states/changeover.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { provePlan } from "../../../src/domain/states/prove-plan.ts";
import { findsWay } from "../../../src/domain/states/witness.ts";
import {
  anyone,
  configuration,
  item,
  move,
  option,
  place,
  platform,
  nowhere,
  procedure,
} from "../../arbitraries/platform.ts";

/** Any graph: nodes with states of three numbers, and edges between them. */
const someGraph = fc
  .integer({ min: 2, max: 12 })
  .chain((count) =>
    fc.record({
      states: fc.array(fc.array(fc.nat(3), { minLength: 3, maxLength: 3 }), { minLength: count, maxLength: count }),
      edges: fc.array(fc.tuple(fc.nat(count - 1), fc.nat(count - 1)), { maxLength: 3 * count }),
    }),
  )
  .map(({ states, edges }) => ({
    states: states.map((state) => Uint16Array.from(state)),
    from: (node: number) => edges.filter(([from]) => from === node).map(([, to], program) => ({ program, to })),
  }));

/** All nodes that lead from one another, by going through all of them. */
function reachedFrom(graph: { from: (node: number) => readonly { to: number }[] }, start: number): Set<number> {
  const reached = new Set([start]);
  for (const node of reached) for (const { to } of graph.from(node)) reached.add(to);
  return reached;
}

describe("a way that is found by going straight for it", () => {
  it("is one that the exhaustive search finds; without a bound it finds every one", () => {
    let found = 0,
      missed = 0;
    fc.assert(
      fc.property(someGraph, fc.integer({ min: 1, max: 4 }), (graph, few) => {
        for (const from of graph.states.keys()) {
          const reached = reachedFrom(graph, from);
          for (const to of graph.states.keys()) {
            expect(findsWay(graph, from, to, Infinity)).toBe(reached.has(to));
            const isFound = findsWay(graph, from, to, few);
            if (isFound) expect(reached.has(to)).toBe(true);
            if (isFound && from !== to) found += 1;
            if (!isFound && reached.has(to)) missed += 1;
          }
        }
      }),
      { numRuns: 300, seed: 7 },
    );
    expect(found).toBeGreaterThan(1000);
    expect(missed).toBeGreaterThan(100);
  });
});

/** A base with so many options, each fitted and removed by a procedure of its own. */
function independent(count: number, without?: string) {
  const each = Array.from({ length: count }, (_, at) => at);
  return platform({
    places: [place("deck"), place("store", { kind: "store" }), ...each.map((at) => place(`mount-${at}`, { room: 1 }))],
    items: [item("seat", "store"), ...each.map((at) => item(`thing-${at}`, "store"))],
    configurations: [
      configuration(
        "base",
        { deck: { seat: 1 } },
        { standing: true, options: each.map((at) => ({ id: `option-${at}`, where: nowhere })) },
      ),
    ],
    options: each.map((at) => option(`option-${at}`, { [`mount-${at}`]: { [`thing-${at}`]: 1 } })),
    procedures: each
      .flatMap((at) => [
        procedure(`fit-${at}`, [move(`thing-${at}`, "store", `mount-${at}`)]),
        procedure(`remove-${at}`, [move(`thing-${at}`, `mount-${at}`, "store")]),
      ])
      .filter(({ id }) => id !== without),
  });
}

describe("independent procedures of eighteen options (invented)", () => {
  it("are proved to lead everywhere, though there are 262,144 states and 1,000 may be seen", () => {
    const model = buildModel(independent(18));
    expect(model.states.length).toBeGreaterThan(150);
    expect(provePlan(model, anyone, [], [], 1000)).toEqual([]);
  });

  it("agree with the exhaustive search where it can see all: seven, whole and with one missing", () => {
    for (const without of [undefined, "fit-3", "remove-5"]) {
      const model = buildModel(independent(7, without)),
        graph = graphFor(model, {}),
        nodes = model.states.map((state) => graph.add(state));
      for (const from of nodes) {
        const reached = new Set(graph.reach([from]).nodes);
        expect(nodes.map((to) => findsWay(graph, from, to))).toEqual(nodes.map((to) => reached.has(to)));
      }
      const rules = provePlan(model, anyone, []).map(({ rule }) => rule);
      expect(rules.length > 0).toBe(without !== undefined);
    }
  });
});
