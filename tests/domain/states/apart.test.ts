/**
 * What is independent: against runs in every state of two platforms put side by side, and against the search through
 * all of their states together.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { partPrograms } from "../../../src/domain/states/apart.ts";
import { findWay, graphFor, planAll } from "../../../src/domain/states/changeover.ts";
import { StateGraph } from "../../../src/domain/states/explore.ts";
import { buildModel, programOf, type State } from "../../../src/domain/states/model.ts";
import { proveParts } from "../../../src/domain/states/prove-parts.ts";
import { provePlan } from "../../../src/domain/states/prove-plan.ts";
import { assume, isSettled, run } from "../../../src/domain/states/run.ts";
import { type ChooseWay, findWays, onwardOf } from "../../../src/domain/states/search.ts";
import type { Platform } from "../../../src/schema/collection.ts";
import {
  anyone,
  configuration,
  item,
  move,
  place,
  platform,
  procedure,
  somePlatform,
  turn,
} from "../../arbitraries/platform.ts";

/** The same platform with every id marked; `aside` is everybody's. */
function marked(built: Platform, mark: string): Platform {
  const own = (id: string) => (id === "aside" ? id : mark + id);
  const fit = ({ fitted, ...each }: Platform["configurations"][number]) => ({
    ...each,
    fitted: fitted.map((entry) => ({ ...entry, place: own(entry.place), item: own(entry.item) })),
    fastenings: each.fastenings.map((entry) => ({ ...entry, fastening: own(entry.fastening) })),
  });
  return {
    ...built,
    places: built.places.map((each) => ({ ...each, id: own(each.id), ...(each.on ? { on: own(each.on) } : {}) })),
    items: built.items.map((each) => ({
      ...each,
      id: own(each.id),
      home: own(each.home),
      places: each.places.map(own),
    })),
    fastenings: built.fastenings.map((each) => ({ ...each, id: own(each.id), holds: each.holds.map(own) })),
    configurations: built.configurations.map(fit),
    procedures: built.procedures.map((each) => ({
      ...each,
      id: own(each.id),
      steps: each.steps.map((step) => ({
        ...step,
        procedure: own(step.procedure),
        operations: step.operations.map((operation) =>
          operation.kind === "turn"
            ? { ...operation, fastening: own(operation.fastening) }
            : { ...operation, item: own(operation.item), from: own(operation.from), to: own(operation.to) },
        ),
      })),
    })),
  };
}

/** Two platforms as one: each arrangement of the first with each of the second. */
function beside(first: Platform, second: Platform): Platform {
  const [a, b] = [marked(first, "a-"), marked(second, "b-")];
  return {
    ...a,
    places: [...a.places, ...b.places],
    items: [...a.items, ...b.items],
    fastenings: [...a.fastenings, ...b.fastenings],
    configurations: a.configurations.flatMap((one) =>
      b.configurations.map((other) => ({
        ...one,
        id: `${one.id}-${other.id}`,
        standing: one.id === "bare" && other.id === "bare",
        fitted: [...one.fitted, ...other.fitted],
        fastenings: [...one.fastenings, ...other.fastenings],
      })),
    ),
    procedures: [...a.procedures, ...b.procedures].sort((one, other) => (one.id.slice(2) < other.id.slice(2) ? -1 : 1)),
  };
}

/** Procedures that run, among random ones of which few do. */
const RUNNING = [
  procedure("q0", [move("box", "shelf", "rail")]),
  procedure("q1", [move("box", "rail", "shelf")]),
  procedure("q2", [move("pin", "tray", "rail", 2)]),
  procedure("q3", [move("pin", "rail", "tray", 2)]),
  procedure("q4", [turn("lever", "out"), move("base", "shelf", "deck"), turn("lever", "in")]),
  procedure("q5", [turn("lever", "out"), move("base", "deck", "shelf"), turn("lever", "in")]),
  procedure("q6", [move("pin", "rail", "slot", 2)]),
  procedure("q7", [turn("latch", "out"), move("box", "rail", "seat"), turn("latch", "in")]),
];

/** Random platforms side by side, each with some of those; some procedures take no time, others twice as long. */
const one = fc.tuple(somePlatform(), fc.subarray(RUNNING), fc.nat(2)).map(([built, more, time]): Platform => ({
  ...built,
  procedures: [...built.procedures.slice(0, 3), ...more].map((each, at) => ({
    ...each,
    steps: each.steps.map((step) => ({ ...step, takesSeconds: (at + time) % 3 })),
  })),
}));
const two = fc.tuple(one, one).map(([first, second]) => beside(first, second));

/** Notes every last step of every way of the least time, by the states that it leads from and to. */
function listing({ states }: StateGraph, steps: Set<string>): ChooseWay {
  return (_, end) => {
    for (const [from, next] of onwardOf(end))
      for (const { program, to } of next)
        steps.add([states[from.node]!.join(), program, states[to.node]!.join(), from.time, from.hops].join(" "));
    return [];
  };
}

/** Without a bound. */
const ALL = Infinity;

describe("programs that are independent", () => {
  it("run alike and end alike whatever the others did, and change nothing of theirs; assumed effects too", () => {
    let groups = 0,
      others = 0;
    fc.assert(
      fc.property(two, fc.nat(), (built, draw) => {
        const model = buildModel(built),
          programs = built.procedures.map((each) => programOf(model, each, each.steps)),
          graph = new StateGraph(model, programs);
        graph.reach(
          model.states.map((state) => graph.add(state)),
          300,
        );
        const { groupOf, groupAt } = partPrograms(model, programs);
        groups = Math.max(groups, new Set(groupOf).size);
        programs.forEach((program, at) => {
          const isOwn = (position: number) => groupAt[position] === groupOf[at];
          const own = (state: State) => state.filter((_, position) => isOwn(position)).join();
          for (const [number, state] of graph.states.entries()) {
            const alike = graph.states.filter((each) =>
              each.every((value, position) => groupAt[position]! >= 0 || value === state[position]),
            );
            // What the others did on a way from the same start, beside what this group did on this one.
            const other = alike[(number * 7 + draw) % alike.length]!;
            const mixed = state.map((value, position) =>
              groupAt[position]! >= 0 && !isOwn(position) ? other[position]! : value,
            );
            expect(isSettled(model, mixed)).toBe(true);
            others += Number(mixed.join() !== state.join());
            for (const noVainTurns of [false, true]) {
              const one = run(model, state, program, { noVainTurns }),
                two = run(model, mixed, program, { noVainTurns });
              expect({ ...two, state: own(two.state) }).toEqual({ ...one, state: own(one.state) });
            }
            const assumed = assume(model, mixed, program);
            expect(own(assumed)).toBe(own(assume(model, state, program)));
            const ends = [assumed, run(model, mixed, program).stops.length ? mixed : run(model, mixed, program).state];
            for (const end of ends)
              expect(end.filter((_, position) => !isOwn(position))).toEqual(
                mixed.filter((_, position) => !isOwn(position)),
              );
          }
        });
      }),
      { numRuns: 20, seed: 5 },
    );
    expect(groups).toBeGreaterThan(2);
    expect(others).toBeGreaterThan(500);
  });

  it("cost no plan: the least ways are those of the search through all states together", () => {
    let found = 0,
      narrower = 0,
      isBounded = 0;
    fc.assert(
      fc.property(two, (built) => {
        const model = buildModel(built),
          whole = graphFor(model, {}),
          narrow = graphFor(model, {});
        const starts = model.states.map((state) => whole.add(state)),
          { nodes } = whole.reach(starts, 200);
        for (const from of starts)
          for (const to of nodes.filter((_, at) => at % 3 === 0)) {
            const all = findWays(whole, from, new Set([to])),
              [own, target] = [from, to].map((node) => narrow.add(whole.states[node]!)),
              ways = narrow.between(own!, [target!]),
              some = findWays(ways, own!, new Set([target!]));
            expect(some.get(target!)).toEqual(all.get(to));
            // With the bound from below for what is left, too: every way of the least time, not only the first.
            const [every, bounded] = [new Set<string>(), new Set<string>()];
            findWays(whole, from, new Set([to]), listing(whole, every));
            findWays(ways, own!, new Set([target!]), listing(narrow, bounded), 0);
            expect(bounded).toEqual(every);
            isBounded += Number(ways.leastLeft?.() !== undefined);
            const isThere = narrow
              .apart(own!, target!)
              .every((part) => part.ways.reach([own!]).nodes.includes(part.end));
            expect(isThere).toBe(all.has(to));
            found += Number(from !== to) * all.size;
            narrower += Number(ways.reach([own!]).nodes.length < whole.reach([from]).nodes.length);
          }
      }),
      { numRuns: 100, seed: 5 },
    );
    expect(found).toBeGreaterThan(500);
    expect(narrower).toBeGreaterThan(100);
    expect(isBounded).toBeGreaterThan(100);
  });

  it("are proved as they are all together: what has no way has none in one of its parts", () => {
    let without = 0;
    fc.assert(
      fc.property(two, fc.boolean(), (built, isAssumed) => {
        const model = buildModel(built);
        const broken = isAssumed ? proveParts(model, anyone).broken : [];
        const all = provePlan(model, anyone, broken, [], ALL, ALL),
          apart = provePlan(model, anyone, broken, [], ALL, 0);
        const told = (found: ReturnType<typeof provePlan>) =>
          found.map(({ lacks, ...each }) => ({ ...each, lacks: lacks.length }));
        expect(told(apart)).toEqual(told(all));
        without += all.length;
      }),
      { numRuns: 100, seed: 7 },
    );
    expect(without).toBeGreaterThan(10);
  });

  it("make no combinations: with each two more that go there and back, a few states more (invented case)", () => {
    const seen = [4, 8, 16].map((n) => {
      const ropes = Array.from({ length: n }, (_, at) => `rope-${at}`);
      const built = platform({
        places: [place("deck"), place("hut", { kind: "store" }), ...ropes.map((id) => place(`hook-${id}`))],
        items: [item("box", "hut"), ...ropes.map((id) => item(id, "hut"))],
        configurations: [configuration("bare", {}, { standing: true }), configuration("built", { deck: { box: 1 } })],
        procedures: [
          procedure("fit", [move("box", "hut", "deck")]),
          procedure("remove", [move("box", "deck", "hut")]),
          ...ropes.flatMap((id) => [
            procedure(`hang-${id}`, [move(id, "hut", `hook-${id}`)]),
            procedure(`take-${id}`, [move(id, `hook-${id}`, "hut")]),
          ]),
          // It runs nowhere: all that can be reached has to be seen.
          procedure("broken", [move("box", "deck", "hook-rope-0")]),
          procedure("useless", [move("box", "hook-rope-0", "deck"), move("box", "hook-rope-0", "deck")]),
        ],
      });
      const model = buildModel(built),
        graph = graphFor(model, {});
      const [bare, boxed] = model.arrangements;
      expect(planAll(model, graph, bare!, [bare!, boxed!]).map((plan) => plan?.seconds)).toEqual([0, 1]);
      const { broken, complete } = proveParts(model, anyone);
      expect([broken.map(({ program }) => program.procedure.id), complete]).toEqual([["useless"], true]);
      expect(provePlan(model, anyone, broken)).toEqual([]);
      return graph.states.length;
    });
    expect(seen[2]! / seen[1]!).toBeLessThan(2.5);
  });

  it("are searched as if they were where they only share a place with too little room (invented case)", () => {
    const seen = [6, 12, 24].map((n) => {
      const ropes = Array.from({ length: n }, (_, at) => `rope-${at}`);
      const built = platform({
        places: [place("deck"), place("hut", { kind: "store" }), place("bag", { room: n })],
        items: [item("box", "hut"), item("lid", "bag"), ...ropes.map((id) => item(id, "hut"))],
        configurations: [
          configuration("bare", {}, { standing: true }),
          configuration("built", { deck: { box: 1, lid: 1 } }),
        ],
        procedures: [
          // Long enough that a search by time alone meanwhile packs and unpacks the bag in every way.
          procedure(
            "fit",
            Array.from({ length: 9 }, () => [move("box", "hut", "deck"), move("box", "deck", "hut")])
              .flat()
              .concat(move("box", "hut", "deck")),
          ),
          procedure("cover", [move("lid", "bag", "deck")]),
          procedure("uncover", [move("lid", "deck", "bag")]),
          procedure("remove", [move("box", "deck", "hut")]),
          ...ropes.flatMap((id) => [
            procedure(`pack-${id}`, [move(id, "hut", "bag")]),
            procedure(`unpack-${id}`, [move(id, "bag", "hut")]),
          ]),
        ],
      });
      const model = buildModel(built),
        graph = graphFor(model, {});
      const [bare, boxed] = model.arrangements;
      expect(planAll(model, graph, bare!, [boxed!]).map((plan) => plan?.seconds)).toEqual([20]);
      return graph.states.length;
    });
    expect(seen[2]! / seen[1]!).toBeLessThan(4);
  });

  it("take the least time one by one too, and end where they should (against the search of all together)", () => {
    let onTheirOwn = 0;
    for (const n of [2, 5, 8]) {
      const ropes = Array.from({ length: n }, (_, at) => `rope-${at}`),
        built = platform({
          places: [
            place("deck"),
            place("hut", { kind: "store" }),
            ...ropes.flatMap((id) => [place(`hook-${id}`), place(`bench-${id}`)]),
          ],
          items: [item("box", "hut"), ...ropes.map((id) => item(id, "hut"))],
          configurations: [
            configuration("bare", {}, { standing: true }),
            configuration("built", {
              deck: { box: 1 },
              ...Object.fromEntries(ropes.map((id) => [`hook-${id}`, { [id]: 1 }])),
            }),
          ],
          procedures: [
            procedure("fit", [move("box", "hut", "deck")]),
            procedure("remove", [move("box", "deck", "hut")]),
            ...ropes.flatMap((id, at) => [
              // By the bench it takes two seconds, straight away one or seven.
              procedure(`fetch-${id}`, [move(id, "hut", `bench-${id}`)]),
              procedure(`hang-${id}`, [move(id, `bench-${id}`, `hook-${id}`)]),
              procedure(
                `straight-${id}`,
                Array.from({ length: at % 2 ? 0 : 3 }, () => [move(id, "hut", "aside"), move(id, "aside", "hut")])
                  .flat()
                  .concat(move(id, "hut", `hook-${id}`)),
              ),
              procedure(`take-${id}`, [move(id, `hook-${id}`, "hut")]),
            ]),
          ],
        });
      const model = buildModel(built),
        graph = graphFor(model, {}),
        [bare, full] = model.states.map((state) => graph.add(state)) as [number, number];
      for (const [from, to] of [
        [bare, full],
        [full, bare],
      ] as const) {
        const way = findWay(graph, from, to)!;
        if (graph.countApart(from, to) > 8) onTheirOwn += 1;
        expect(way.seconds).toBe(findWays(graph, from, new Set([to])).get(to)!.seconds);
        const end = way.programs.reduce((node, program) => {
          const edge = graph.from(node).find((each) => each.program === program);
          expect(edge, `${n}: ${program} runs at ${node}`).toBeDefined();
          return edge!.to;
        }, from);
        expect(end).toBe(to);
      }
    }
    expect(onTheirOwn).toBe(2);
  });

  it("are searched one by one where there are very many (invented case)", () => {
    const ropes = Array.from({ length: 40 }, (_, at) => `rope-${at}`),
      built = platform({
        places: [place("hut", { kind: "store" }), ...ropes.map((id) => place(`hook-${id}`))],
        items: ropes.map((id) => item(id, "hut")),
        configurations: [
          configuration("bare", {}, { standing: true }),
          configuration("built", Object.fromEntries(ropes.map((id) => [`hook-${id}`, { [id]: 1 }]))),
        ],
        procedures: ropes.map((id) => procedure(`hang-${id}`, [move(id, "hut", `hook-${id}`)])),
      });
    const model = buildModel(built),
      graph = graphFor(model, {}),
      [bare, full] = model.arrangements;
    expect(planAll(model, graph, bare!, [full!])[0]!.procedures.length).toBe(40);
    // Back there is no way, which is found out without looking at 2^40 states.
    expect(planAll(model, graph, full!, [bare!])[0]).toBeUndefined();
    expect(graph.states.length).toBeLessThan(200);
  });
});
