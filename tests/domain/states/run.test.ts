/** The simulation of procedures: conserves every piece, and agrees with a naive second implementation. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildModel, type Model, NONE, programOf, type State } from "../../../src/domain/states/model.ts";
import { assume, run, type Run } from "../../../src/domain/states/run.ts";
import type { Platform, Procedure } from "../../../src/schema/collection.ts";
import {
  configuration,
  fastening,
  item,
  move,
  place,
  platform,
  procedure,
  somePlatform,
  turn,
} from "../../arbitraries/platform.ts";
import { naiveRun, naiveStart, type NaiveState } from "./naive-run.ts";

function plain(model: Model, state: State): Record<string, string | number> {
  const counts = model.slots.flatMap(({ item: what, place: where }, at) =>
    state[at] ? [[`${model.items[what]!.id} in ${model.places[where]!.id}`, state[at]!] as const] : [],
  );
  const fastenings = model.fastenings.flatMap(({ id, states }, at) => {
    const now = state[model.slots.length + at]!;
    return now === NONE ? [] : [[id, states[now]!] as const];
  });
  return Object.fromEntries([...counts, ...fastenings].sort());
}

function plainNaive(state: NaiveState): Record<string, string | number> {
  const counts = new Map<string, number>();
  for (const [piece, where] of state.pieces)
    counts.set(`${piece.split("#")[0]} in ${where}`, (counts.get(`${piece.split("#")[0]} in ${where}`) ?? 0) + 1);
  return Object.fromEntries([...counts, ...state.fastenings].sort());
}

/**
 * Of the act that stopped a run: how many of the five conditions are met, asked of what is where as text; at the end
 * minus the number of stops.
 */
function conditionsMet(built: Platform, model: Model, { state, stops, done }: Run, { steps }: Procedure): number {
  const stopped = steps.flatMap(({ operations }) => operations)[done];
  if (!stopped || stops.length === 0) return 0 - stops.length;
  if (stopped.kind === "turn") return 0;
  const now = plain(model, state),
    { item: what, from, to, count } = stopped;
  const inside = (where: string) =>
    Object.entries(now)
      .filter(([key]) => key.endsWith(` in ${where}`))
      .reduce((sum, [, pieces]) => sum + Number(pieces), 0);
  const standsIn = (each: string) =>
    Object.keys(now)
      .find((key) => key.startsWith(`${each} in `))!
      .split(" in ")[1]!;
  const under = (where: string): string[] => {
    const on = built.places.find(({ id }) => id === where)?.on;
    return on ? [on, ...under(standsIn(on))] : [];
  };
  const isThere = (where: string): boolean => {
    const record = built.places.find(({ id }) => id === where);
    return record?.on ? isThere(standsIn(record.on)) : record !== undefined && record.kind !== "store";
  };
  const held = built.fastenings.some(
    ({ id, holds, secure }) =>
      (holds.includes(from) || holds.includes(to)) && holds.some(isThere) && now[id] === secure,
  );
  const record = built.items.find(({ id }) => id === what)!;
  const pieces = Number(now[`${what} in ${from}`] ?? 0);
  const free = !under(to).includes(what) && (record.carries || record.places.every((where) => inside(where) === 0));
  return [
    pieces > 0,
    pieces >= count,
    !held,
    free,
    from === to || inside(to) + count <= (built.places.find(({ id }) => id === to)?.room ?? Infinity),
  ].filter(Boolean).length;
}

describe("random procedures one after another", () => {
  it("agree with the naive simulation in every state and every reason to stop", () => {
    let ran = 0;
    fc.assert(
      fc.property(somePlatform(), fc.array(fc.nat(5), { maxLength: 8 }), (built: Platform, order) => {
        const model = buildModel(built);
        const named = model.arrangements.flatMap(({ configuration, contents }) =>
          configuration.fastenings.map(({ fastening: id, state }) => {
            const fitted = contents.filter(({ item: what, place: at }) =>
              configuration.fitted.some((each) => each.item === what && each.place === at),
            );
            return { fastening: id, state, contents: "", fitted };
          }),
        );
        model.arrangements.forEach((arrangement, at) => {
          let state = model.states[at]!;
          let naive = naiveStart(built, arrangement.contents, arrangement.fastenings);
          expect(plain(model, state)).toEqual(plainNaive(naive));
          for (const pick of order) {
            const chosen = built.procedures[pick % built.procedures.length]!;
            const mine = run(model, state, programOf(model, chosen, chosen.steps));
            const other = naiveRun(built, naive, chosen, named);
            expect(mine.stops.map(({ rule }) => rule).sort()).toEqual(Array.isArray(other) ? other.sort() : []);
            expect(mine.met + 0).toBe(conditionsMet(built, model, mine, chosen));
            if (Array.isArray(other)) continue;
            state = mine.state;
            naive = other;
            ran++;
            expect(plain(model, state)).toEqual(plainNaive(naive));
          }
        });
      }),
      { numRuns: 4000, seed: 20261125 },
    );
    expect(ran).toBeGreaterThan(300); // the property says something only if procedures do run
  });
  it("neither lose nor gain a piece, also when they stop half-way", () => {
    fc.assert(
      fc.property(somePlatform(), (built) => {
        const model = buildModel(built);
        for (const start of model.states)
          for (const each of built.procedures) {
            const { state } = run(model, start, programOf(model, each, each.steps));
            model.items.forEach(({ count, slots }) =>
              expect(slots.reduce((sum, slot) => sum + state[slot]!, 0)).toBe(count),
            );
          }
      }),
    );
  });
});

describe("each condition of the design (section 3.2) stops at its own words", () => {
  const base = {
    places: [
      place("deck", { room: 1 }),
      place("rail"),
      place("shelf", { kind: "store" }),
      place("seat", { on: "base", room: 4 }),
    ],
    items: [item("base", "shelf", { places: ["seat"] }), item("box", "shelf"), item("pin", "rail", { count: 4 })],
    fastenings: [
      fastening("lever", ["deck"], { states: ["locked", "released"], secure: "locked", whenEmpty: "locked" }),
    ],
    configurations: [configuration("bare", {})],
  };
  const stopsOf = (...operations: Parameters<typeof procedure>[1]) => {
    const built = platform({ ...base, procedures: [procedure("p", operations)] });
    const model = buildModel(built);
    return run(model, model.states[0]!, programOf(model, built.procedures[0]!, built.procedures[0]!.steps)).stops.map(
      ({ rule }) => rule,
    );
  };
  const open = turn("lever", "released");
  const close = turn("lever", "locked");
  it.each([
    ["an item that is elsewhere", [move("box", "rail", "shelf")], ["parts/not-there"]],
    ["more pieces than there are", [move("pin", "rail", "shelf", 6)], ["parts/not-enough"]],
    ["a place that a secure fastening holds", [move("base", "shelf", "deck")], ["fastening/held"]],
    [
      "a place that is full",
      [open, move("base", "shelf", "deck"), move("box", "shelf", "deck")],
      ["parts/place-in-use"],
    ],
    [
      "something under something else",
      [move("pin", "rail", "seat", 2), open, move("base", "shelf", "deck")],
      ["parts/stands-on"],
    ],
    ["a turn that changes nothing", [close], ["fastening/no-change"]],
    ["a fastening that stays open", [open, move("base", "shelf", "deck")], ["fastening/left-open"]],
    ["a thing that stays aside", [move("box", "shelf", "aside")], ["parts/left-loose"]],
    ["nothing, when all is done", [open, move("base", "shelf", "deck"), close, move("pin", "rail", "seat", 4)], []],
  ])("%s", (_, operations, rules) => expect(stopsOf(...operations)).toEqual(rules));
});

describe("what a procedure that stops is taken to be meant for (invented cases)", () => {
  const records = {
    places: [
      place("deck"),
      place("tray", { kind: "stowage" }),
      place("shelf", { kind: "store" }),
      place("seat", { on: "base" }),
    ],
    items: [item("base", "shelf", { places: ["seat"] }), item("pin", "tray", { count: 3 })],
    fastenings: [fastening("lever", ["deck"], { whenEmpty: "out" })],
    configurations: [configuration("bare", {})],
  };
  const meant = (more: Partial<typeof records>, ...operations: Parameters<typeof procedure>[1]) => {
    const built = platform({ ...records, ...more, procedures: [procedure("p", operations)] });
    const model = buildModel(built);
    const start = model.states[0]!,
      before = [...start];
    const after = plain(
      model,
      assume(model, start, programOf(model, built.procedures[0]!, built.procedures[0]!.steps)),
    );
    expect([...start]).toEqual(before);
    return after;
  };
  it("moves as many pieces as there are, and not one more", () => {
    expect(meant({}, move("pin", "tray", "shelf", 5))).toMatchObject({ "pin in shelf": 3 });
    expect(meant({}, move("pin", "deck", "shelf", 1))).toMatchObject({ "pin in tray": 3 });
  });
  it("puts nothing into itself", () =>
    expect(meant({}, move("base", "shelf", "deck"), move("base", "deck", "seat"))).toMatchObject({
      "base in deck": 1,
    }));
  it("leaves what it touched at rest: secure where something is, as it must be where nothing is", () => {
    expect(meant({}, move("base", "shelf", "deck"))).toMatchObject({ lever: "in" });
    expect(meant({}, turn("lever", "in"))).toMatchObject({ lever: "out" });
  });
  it("leaves a fastening as an arrangement with those contents names it", () => {
    const named = configuration(
      "open",
      { deck: { base: 1 } },
      { fastenings: [{ fastening: "lever", state: "out", where: { file: "test", line: 1, column: 1 } }] },
    );
    expect(
      meant(
        { configurations: [configuration("bare", {}), named] },
        move("base", "shelf", "deck"),
        turn("lever", "out"),
      ),
    ).toMatchObject({ lever: "out" });
  });
});
