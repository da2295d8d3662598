/**
 * What a changeover may use and what it says: procedures by status and patient, net moves, things done and undone, what
 * is missing.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  arrangementNamed,
  graphFor,
  netMoves,
  planAll,
  planChangeover,
  stateOf,
  whatIsMissing,
} from "../../../src/domain/states/changeover.ts";
import { buildModel, type State } from "../../../src/domain/states/model.ts";
import type { Configuration, Procedure } from "../../../src/schema/collection.ts";
import {
  anyone,
  configuration,
  fastening,
  grams,
  item,
  move,
  option,
  place,
  platform,
  procedure,
  range,
  somePlatform,
  step,
  turn,
} from "../../arbitraries/platform.ts";

const under5 = { ...anyone, weight: range(undefined, grams(5000, false)) };

describe("the procedures of a plan", () => {
  const go = (id: string, more: Partial<Procedure> = {}) => procedure(id, [move("box", "shelf", "deck")], more);
  const model = buildModel(
    platform({
      places: [place("deck"), place("shelf", { kind: "store" })],
      items: [item("box", "shelf")],
      configurations: [configuration("bare", {})],
      procedures: [
        go("e"),
        go("b", { status: "draft" }),
        go("d", { status: "in review" }),
        go("c", { status: "withdrawn" }),
        go("a", { band: under5 }),
        procedure("f", [step([])]),
        procedure("g", [move("ghost", "shelf", "deck")]),
        procedure("h", [step([move("box", "shelf", "deck")], { band: under5 })]),
      ],
    }),
  );
  const ids = (...given: Parameters<typeof graphFor> extends [unknown, ...infer Rest] ? Rest : never) =>
    graphFor(model, ...given).programs.map(({ procedure: { id } }) => id);
  it(
    "are the approved ones that move or turn something, in the order of their ids; no drafts, none in review, " +
      "none withdrawn",
    () => expect(ids({})).toEqual(["a", "e", "h"]),
  );
  it("are for the patient, and so are their steps", () => {
    expect(ids({ weight: grams(4999, true).value })).toEqual(["a", "e", "h"]);
    expect(ids({ weight: grams(5000, true).value })).toEqual(["e"]);
  });
});

describe("arrangements of a model", () => {
  const model = buildModel(
    platform({
      places: [place("deck"), place("shelf", { kind: "store" })],
      items: [item("box", "shelf")],
      configurations: [
        configuration("bare", {}, { options: [{ id: "boxed", where: { file: "test", line: 1, column: 1 } }] }),
      ],
      options: [option("boxed", { deck: { box: 1 } })],
      procedures: [],
    }),
  );
  it("have a state each; another platform's have none", () => {
    expect(model.arrangements.map((each) => stateOf(model, each))).toEqual(model.states);
    expect(() => stateOf(model, { ...model.arrangements[0]!, name: "other" })).toThrow(
      "not an arrangement of this platform: other",
    );
    expect(arrangementNamed(model, "bare + boxed")).toBe(model.arrangements[1]);
  });
  it("need nothing to become themselves, and have no way where no procedure leads", () => {
    const [bare, boxed] = model.arrangements,
      graph = graphFor(model, {});
    expect(planAll(model, graph, bare!, [bare!, boxed!])).toEqual([
      { from: "bare", to: "bare", procedures: [], steps: [], seconds: 0, parts: [], undone: [] },
      undefined,
    ]);
  });
});

describe("net moves", () => {
  it(
    "match what is gone from places with what has come to places, both piece by piece in the order of the " + "places",
    () => {
      fc.assert(
        fc.property(somePlatform(), fc.array(fc.nat(5), { minLength: 6, maxLength: 6 }), (built, seed) => {
          const model = buildModel(built);
          const shuffled = (by: number): State => {
            const state = model.states[0]!.slice();
            model.items.forEach(({ slots, count }, at) => {
              for (const slot of slots) state[slot] = 0;
              for (let piece = 0; piece < count; piece++)
                state[slots[(seed[(at + piece) % 6]! * by + piece) % slots.length]!]! += 1;
            });
            return state;
          };
          const before = shuffled(1),
            after = shuffled(2);
          const pieces = (what: number, more: State, less: State) =>
            model.places.flatMap(({ id }, place) => {
              const slot = model.slots.findIndex((each) => each.item === what && each.place === place);
              return slot < 0 ? [] : Array.from({ length: Math.max(0, more[slot]! - less[slot]!) }, () => id);
            });
          const expected = model.items.flatMap(({ id }, what) => {
            const gone = pieces(what, before, after),
              come = pieces(what, after, before);
            const moves = gone.map((from, at) => ({ item: id, from, to: come[at]! }));
            return moves
              .filter((each, at) => at === 0 || each.from !== moves[at - 1]!.from || each.to !== moves[at - 1]!.to)
              .map((each) => ({
                ...each,
                count: moves.filter(({ from, to }) => from === each.from && to === each.to).length,
              }));
          });
          expect(netMoves(model, before, after)).toEqual(expected);
          expect(netMoves(model, before, before)).toEqual([]);
        }),
      );
    },
  );
});

describe("work done and undone (invented case: pins must be out while the base is moved)", () => {
  const undoneWith = (
    pins: number,
    back: number,
    clear = [move("pin", "seat", "aside", 2), move("pin", "aside", "tray", 2)],
  ) => {
    const model = buildModel(
      platform({
        places: [
          place("rail", { room: 1 }),
          place("deck", { room: 1 }),
          place("tray", { kind: "stowage" }),
          place("shelf", { kind: "store" }),
          place("seat", { on: "base" }),
        ],
        items: [item("base", "shelf", { places: ["seat"] }), item("pin", "tray", { count: 4 })],
        configurations: [
          configuration("before", { rail: { base: 1 }, seat: { pin: 2 } }),
          configuration("after", { deck: { base: 1 }, seat: { pin: pins } }),
        ],
        procedures: [
          procedure("clear", clear),
          procedure("shift", [move("base", "rail", "deck")]),
          procedure("zfill", [move("pin", "tray", "seat", back)]),
        ],
      }),
    );
    const [before, after] = model.arrangements,
      changeover = planChangeover(model, graphFor(model, {}), before!, after!)!;
    expect(changeover.procedures.map(({ id }) => id)).toEqual(["clear", "shift", "zfill"]);
    expect(changeover.steps.map(({ procedure: { id }, step: { number } }) => `${id} ${number}`)).toEqual([
      ...clear.map((_, at) => `clear ${at + 1}`),
      "shift 1",
      "zfill 1",
    ]);
    expect(changeover.seconds).toBe(clear.length + 2);
    return {
      parts: changeover.parts.map(({ item: what, count, from, to }) => `${count} ${what} ${from} ${to}`),
      undone: changeover.undone.map(({ item: what, count, from, to }) => `${count} ${what} ${from} ${to}`),
    };
  };
  it("is what comes back to the place it was taken from; passing through a tray or aside is not", () => {
    expect(undoneWith(2, 2)).toEqual({ parts: ["1 base rail deck"], undone: ["2 pin seat seat"] });
  });
  it("is only as much as comes back", () =>
    expect(undoneWith(1, 1)).toEqual({ parts: ["1 base rail deck", "1 pin seat tray"], undone: ["1 pin seat seat"] }));
  it("is nothing where more comes in than was there: that is a part that goes in", () =>
    expect(undoneWith(3, 3)).toEqual({ parts: ["1 base rail deck", "1 pin tray seat"], undone: [] }));
  it("counts what comes back bit by bit, and never what is aside", () => {
    const bits = [
      move("pin", "seat", "tray", 2),
      move("pin", "tray", "aside", 1),
      move("pin", "aside", "tray", 1),
      move("pin", "tray", "aside", 1),
      move("pin", "aside", "tray", 1),
    ];
    expect(undoneWith(2, 2, bits)).toEqual({
      parts: ["1 base rail deck"],
      undone: ["2 pin seat seat", "2 pin tray tray"],
    });
  });
});

describe("what is missing", () => {
  const named = (
    id: string,
    fitted: Record<string, Record<string, number>>,
    states: Record<string, string>,
  ): Configuration =>
    configuration(id, fitted, {
      fastenings: Object.entries(states).map(([key, state]) => ({
        fastening: key,
        state,
        where: { file: "test", line: 1, column: 1 },
      })),
    });
  const model = buildModel(
    platform({
      places: [
        place("deck"),
        place("tray", { kind: "stowage" }),
        place("shelf", { kind: "store" }),
        place("seat", { on: "base" }),
      ],
      items: [item("base", "shelf", { places: ["seat"] }), item("pin", "tray", { count: 3 })],
      fastenings: [fastening("lever", ["deck"]), fastening("strap", ["seat"])],
      procedures: [procedure("p", [turn("lever", "out")])],
      configurations: [
        named("bare", {}, {}),
        named("built", { deck: { base: 1, pin: 2 } }, { lever: "out" }),
        named("one", { deck: { base: 1, pin: 1 } }, {}),
      ],
    }),
  );
  const [bare, built, one] = model.states;
  it("says what stands elsewhere and what is turned otherwise, in the singular and the plural", () => {
    expect(whatIsMissing(model, bare!, built!)).toEqual([
      { id: "base", count: 1, places: ["shelf", "deck"], text: "`base` is in `shelf`, not in `deck`" },
      { id: "pin", count: 2, places: ["tray", "deck"], text: "2 `pin` are in `tray`, not in `deck`" },
      { id: "lever", places: [], text: "`lever` is `in`, not `out`" },
    ]);
    expect(whatIsMissing(model, built!, one!).map(({ text }) => text)).toEqual([
      "`pin` is in `deck`, not in `tray`",
      "`lever` is `out`, not `in`",
    ]);
  });
  it(
    "says nothing of a fastening whose place is not on the platform, before or after, and nothing where nothing " +
      "is missing",
    () => {
      expect(whatIsMissing(model, one!, bare!).map(({ id }) => id)).toEqual(["base", "pin"]);
      expect(whatIsMissing(model, built!, built!)).toEqual([]);
    },
  );
});
