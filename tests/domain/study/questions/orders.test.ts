/** Orders in which the steps of a procedure can be done, against trying every order of them. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { StateGraph } from "../../../../src/domain/states/explore.ts";
import {
  buildModel,
  keyOf,
  type Model,
  type Program,
  programOf,
  type State,
} from "../../../../src/domain/states/model.ts";
import { variantsOf } from "../../../../src/domain/states/prove-parts.ts";
import { findOrders, startsOf } from "../../../../src/domain/study/questions/orders.ts";
import { runs } from "../../../../src/domain/states/run.ts";
import type { Step } from "../../../../src/schema/collection.ts";
import {
  anyone,
  configuration,
  fastening,
  item,
  move,
  nowhere,
  place,
  platform,
  procedure,
  somePlatform,
  step,
  turn,
} from "../../../arbitraries/platform.ts";

/** Every order of so many steps. */
function* permutations(count: number, chosen: readonly number[] = []): Generator<readonly number[]> {
  if (chosen.length === count) yield chosen;
  for (let at = 0; at < count; at++) if (!chosen.includes(at)) yield* permutations(count, [...chosen, at]);
}

/**
 * Whether an order keeps `after` (the last earlier step of that name, of the same file if there is one) and holds (all
 * before them before, all after them after).
 */
function keepsOrder(steps: readonly Step[], order: readonly number[]): boolean {
  const comesFirst = (a: number, b: number) => order.indexOf(a) < order.indexOf(b);
  return steps.every((one, at) => {
    const held = steps.every((other, index) => index >= at || !(one.hold || other.hold) || comesFirst(index, at));
    return (
      held &&
      one.after.every(({ id }) => {
        const named = steps.flatMap((other, index) => (index < at && other.id === id ? [index] : [])),
          own = named.filter((index) => steps[index]!.procedure === one.procedure);
        const meant = (own.length > 0 ? own : named).at(-1);
        return meant === undefined || comesFirst(meant, at);
      })
    );
  });
}

/** The orders that can be done from one of the states. */
const ordersOf = (model: Model, { procedure: own, steps }: Program, starts: readonly State[]) =>
  [...permutations(steps.length)].filter(
    (order) =>
      keepsOrder(steps, order) &&
      starts.some(
        (start) =>
          runs(
            model,
            start,
            programOf(
              model,
              own,
              order.map((at) => steps[at]!),
            ),
          ) !== undefined,
      ),
  );

/**
 * A box with a seat under a strap, a bag and pins that go to a deck under a lever, and talk: steps that can change
 * places with some others only.
 */
const records = {
  places: [
    place("deck", { room: 4 }),
    place("tray", { kind: "stowage" }),
    place("shelf", { kind: "store" }),
    place("seat", { on: "box" }),
  ],
  items: [item("box", "shelf", { places: ["seat"] }), item("bag", "shelf"), item("pin", "tray", { count: 3 })],
  fastenings: [fastening("lever", ["deck"]), fastening("strap", ["seat"], { whenEmpty: "out" })],
  configurations: [
    configuration("bare", {}),
    configuration("boxed", { deck: { box: 1 } }),
    configuration("other", { tray: { bag: 1 } }),
  ],
};
const acts: Step["operations"][number][][] = [
  [move("box", "shelf", "deck")],
  [move("bag", "shelf", "tray")],
  [move("pin", "tray", "deck")],
  [move("pin", "tray", "seat")],
  [move("bag", "shelf", "aside")],
  [move("bag", "aside", "seat")],
  [turn("strap", "in")],
  [turn("strap", "out")],
  [],
];
const someSteps = fc
  .record({
    inside: fc.oneof(
      fc.shuffledSubarray(acts, { minLength: 1, maxLength: 3 }),
      fc.shuffledSubarray(
        acts.filter((each) => each.length === 0 || each.some((act) => act.kind === "turn" || act.to === "seat")),
        { minLength: 2, maxLength: 3 },
      ),
    ),
    names: fc.array(fc.constantFrom("a", "b", undefined), { minLength: 5, maxLength: 5 }),
    after: fc.array(fc.constantFrom("a", "b", undefined, undefined), { minLength: 5, maxLength: 5 }),
    holds: fc.array(
      fc.integer({ min: 0, max: 6 }).map((n) => n === 0),
      { minLength: 5, maxLength: 5 },
    ),
    files: fc.array(fc.constantFrom("p", "p", "part"), { minLength: 5, maxLength: 5 }),
    isOpened: fc.boolean(),
  })
  .map(({ inside, names, after, holds, files, isOpened }) =>
    [...(isOpened ? [[turn("lever", "out")]] : []), ...inside, ...(isOpened ? [[turn("lever", "in")]] : [])].map(
      (operations, at): Step => ({
        ...step(operations, {
          number: at + 1,
          hold: holds[at]!,
          after: after[at] ? [{ id: after[at], where: nowhere }] : [],
        }),
        ...(names[at] ? { id: names[at] } : {}),
        procedure: files[at]!,
      }),
    ),
  );

describe("orders of the steps of a procedure", () => {
  it("say what can follow the first steps and what must come before what, as trying every order does", () => {
    let ran = 0,
      forced = 0,
      free = 0;
    fc.assert(
      fc.property(someSteps, (steps) => {
        const own = procedure("p", []),
          model = buildModel(platform({ ...records, procedures: [{ ...own, steps }, procedure("part", [])] }));
        const program = programOf(model, { ...own, steps }, steps),
          starts = model.states.filter((state) => runs(model, state, program) !== undefined);
        const orders = findOrders(model, program, starts),
          naive = ordersOf(model, program, starts);
        expect(orders === undefined).toBe(starts.length === 0);
        if (starts.length === 0) return;
        ran++;
        for (const [a] of steps.entries())
          for (const [b] of steps.entries()) {
            expect([a, b, orders!.canFollow(a, b)]).toEqual([
              a,
              b,
              naive.some((order) => order.slice(0, a).every((at) => at < a) && order[a] === b),
            ]);
            if (a === b) continue;
            const isForced = naive.every((order) => order.indexOf(a) < order.indexOf(b));
            expect([a, b, orders!.isForced(a, b)]).toEqual([a, b, isForced]);
            if (isForced) forced++;
            else free++;
          }
        expect(orders!.canFollow(steps.length, 0)).toBe(false);
      }),
      { numRuns: 500, seed: 2 },
    );
    expect([ran > 60, forced > 100, free > 100]).toEqual([true, true, true]);
  });

  it("are those of every start together: what one start allows, another does not take away (invented case)", () => {
    // The rail has room for two; where the box is on it too, the bag must go before the pin comes.
    const built = platform({
      places: [place("rail", { room: 2 }), place("tray", { kind: "stowage" }), place("shelf", { kind: "store" })],
      items: [item("box", "shelf"), item("bag", "shelf"), item("pin", "tray")],
      configurations: [
        configuration("roomy", { rail: { bag: 1 } }),
        configuration("full", { rail: { bag: 1, box: 1 } }),
      ],
      procedures: [procedure("p", [move("bag", "rail", "shelf"), move("pin", "tray", "rail")])],
    });
    const model = buildModel(built),
      program = programOf(model, built.procedures[0]!, built.procedures[0]!.steps),
      [roomy, full] = model.states;
    for (const starts of [
      [roomy!, full!],
      [full!, roomy!],
    ]) {
      const orders = findOrders(model, program, starts)!;
      expect([orders.canFollow(0, 0), orders.canFollow(0, 1), orders.isForced(0, 1)]).toEqual([true, true, false]);
    }
    expect(findOrders(model, program, [full!])!.isForced(0, 1)).toBe(true);
  });

  it("gives up on more steps than a number has bits for, and on more sets of done steps than can be looked at", () => {
    const many = (count: number, free = 0) => {
      const built = platform({
          places: [place("tray", { kind: "stowage" }), place("rail")],
          items: [item("pin", "tray", { count: 30 })],
          configurations: [configuration("bare", {})],
          procedures: [
            procedure("p", [
              ...Array.from({ length: count }, () => move("pin", "tray", "rail")),
              ...Array.from({ length: free }, () => step([])),
            ]),
          ],
        }),
        model = buildModel(built);
      return findOrders(
        model,
        programOf(model, built.procedures[0]!, built.procedures[0]!.steps),
        model.states.slice(0, 1),
      );
    };
    expect([many(0, 25), many(16), many(8, 8), many(12, 13)]).toEqual([undefined, undefined, undefined, undefined]);
    expect(many(0, 24)!.canFollow(0, 23)).toBe(true);
    const orders = many(8, 4)!;
    expect([orders.canFollow(5, 11), orders.canFollow(0, 11), orders.isForced(0, 11)]).toEqual([true, true, false]);
    const chain = platform({
        ...records,
        procedures: [
          procedure(
            "p",
            Array.from({ length: 24 }, () => step([], { hold: true })),
          ),
        ],
      }),
      model = buildModel(chain);
    const forced = findOrders(
      model,
      programOf(model, chain.procedures[0]!, chain.procedures[0]!.steps),
      model.states.slice(0, 1),
    )!;
    expect([
      forced.canFollow(23, 23),
      forced.canFollow(22, 23),
      forced.isForced(0, 23),
      forced.isForced(23, 0),
    ]).toEqual([true, false, true, false]);
  });
});

describe("the states in which a procedure starts", () => {
  it("stand for all in which it runs: those left out say nothing else about its order", () => {
    let more = 0,
      ran = 0;
    fc.assert(
      fc.property(
        fc.oneof(
          somePlatform(),
          someSteps.map((steps) =>
            platform({
              ...records,
              procedures: [
                { ...procedure("p", []), steps },
                procedure("fetch", [move("bag", "shelf", "tray")]),
                procedure("back", [move("bag", "tray", "shelf")]),
                procedure("part", []),
              ],
            }),
          ),
        ),
        (built) => {
          const model = buildModel(built),
            programs = built.procedures.flatMap((each) => variantsOf(model, anyone, each)).filter(({ whole }) => whole);
          const graph = new StateGraph(model, programs),
            { nodes } = graph.reach(model.states.map((state) => graph.add(state)));
          for (const [program, starts] of startsOf(model, anyone)) {
            const all = nodes
              .map((node) => graph.states[node]!)
              .filter((state) => runs(model, state, program) !== undefined);
            expect(all.map(keyOf)).toEqual(expect.arrayContaining(starts.map(keyOf)));
            expect(starts.length > 0).toBe(all.length > 0);
            const some = findOrders(model, program, starts),
              whole = findOrders(model, program, all);
            if (all.length > starts.length) more++;
            if (!some || !whole) {
              expect(some).toBe(whole);
              continue;
            }
            ran++;
            for (const [a] of program.steps.entries())
              for (const [b] of program.steps.entries())
                expect([some.canFollow(a, b), some.isForced(a, b)]).toEqual([
                  whole.canFollow(a, b),
                  whole.isForced(a, b),
                ]);
          }
        },
      ),
      { numRuns: 400, seed: 4 },
    );
    expect([ran > 100, more > 20]).toEqual([true, true]);
  });
});
