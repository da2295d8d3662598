/**
 * No changeover of the demo does what it later undoes: nothing is switched on, filled or opened and then switched
 * off, emptied or shut again in the same plan, unless what stands between can't be done without it. All pairs of
 * arrangements, with patients of every band; each such act is left out together with what undoes it, and the rest is
 * run by the naive simulation (common practice, no source: a crew that warms a mattress in order to take it out stops
 * trusting the plan).
 */
import { join } from "node:path";
import { expect, it } from "vitest";
import { modelOf } from "../../../src/domain/states/model.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import type { Operation, Platform } from "../../../src/schema/collection.ts";
import { makeFastening, makeItem, makePlace, makePlatform, move, turn } from "../parts/make.ts";
import { naiveAct, naiveStart, type NaiveState, naiveStates } from "../states/naive-run.ts";
import { readCollection } from "../../read-collection.ts";

/** What is turned on rather than made fast: its secure state is the one that does something. */
const TURNED_ON = ["switch", "valve", "lead"];

/** Whether an act switches on, fills a place on the trolley, or opens. Making fast and putting on a shelf do not. */
function does(platform: Platform, act: Operation): boolean {
  if (act.kind === "move") return platform.places.find(({ id }) => id === act.to)?.kind === "mount";
  const { kind, secure } = platform.fastenings.find(({ id }) => id === act.fastening)!;
  if (kind === "brake") return false;
  return TURNED_ON.includes(kind ?? "") ? act.to === secure : act.to !== secure;
}

/** Whether the acts can all be done, one after the other. */
function canBeDone(platform: Platform, start: NaiveState, acts: readonly Operation[]): boolean {
  const pieces = new Map(start.pieces),
    states = naiveStates(platform, start);
  return acts.every((act) => naiveAct(platform, pieces, states, act, false) === undefined);
}

/** Pairs of acts, by their place in the list, of which the later undoes the earlier and nothing between needs it. */
function undone(platform: Platform, start: NaiveState, acts: readonly Operation[]): (readonly [number, number])[] {
  return acts.flatMap((act, at) => {
    if (!does(platform, act)) return [];
    const later = acts.findIndex((other, index) => {
      if (index <= at || other.kind !== act.kind) return false;
      return other.kind === "move"
        ? act.kind === "move" && other.item === act.item && other.from === act.to
        : act.kind === "turn" && other.fastening === act.fastening;
    });
    if (later < 0) return [];
    // An item that goes on to a third place goes there at once; one that goes back stays where it was.
    const straight = (other: Operation): Operation[] =>
      act.kind === "move" && other.kind === "move" && other.to !== act.from ? [{ ...other, from: act.from }] : [];
    const without = acts.flatMap((other, index) => (index === at ? [] : index === later ? straight(other) : [other]));
    return canBeDone(platform, start, without) ? [[at, later] as const] : [];
  });
}

it("sees a lamp lit in vain and a box set down in vain, and passes a lid opened for the box (invented)", () => {
  const platform = makePlatform({
    places: [makePlace("store", { kind: "store" }), makePlace("chest"), makePlace("rail")],
    items: [makeItem("box")],
    fastenings: [
      makeFastening("lid", ["chest"], { states: ["shut", "open"], secure: "shut", whenEmpty: "shut" }),
      makeFastening("lamp", ["rail"], { kind: "switch", states: ["on", "off"], secure: "on", whenEmpty: "off" }),
    ],
  });
  const start = naiveStart(platform, []);
  const found = (...acts: Operation[]) => undone(platform, start, acts);
  expect(found(turn("lamp", "on"), turn("lamp", "off"))).toEqual([[0, 1]]);
  expect(found(turn("lamp", "on"))).toEqual([]);
  expect(found(turn("lid", "open"), move("box", "store", "chest"), turn("lid", "shut"))).toEqual([]);
  expect(found(turn("lid", "open"), turn("lid", "shut"))).toEqual([[0, 1]]);
  expect(found(move("box", "store", "rail"), move("box", "rail", "store"))).toEqual([[0, 1]]);
  expect(found(move("box", "store", "rail"), turn("lid", "open"), move("box", "rail", "chest"))).toEqual([[0, 2]]);
});

it(
  "nothing of the demo is switched on, filled or opened in vain, in any changeover",
  { timeout: 120_000 },
  async () => {
    const { platforms, service } = await readCollection(join(import.meta.dirname, "../../../procedures"));
    const platform = platforms[0]!,
      model = modelOf(platform);
    const looked = { plans: 0, acts: 0 };
    const wrong = new Set<string>();
    for (const from of model.arrangements) {
      const start = naiveStart(platform, from.contents, from.fastenings);
      for (const to of model.arrangements) {
        if (from === to) continue;
        for (const { changeover } of plansBetween(model, service, from, to)) {
          const acts = (changeover?.steps ?? []).flatMap(({ procedure, step }) =>
            step.operations.map((operation) => ({ operation, where: `${procedure.id}#${step.id ?? step.number}` })),
          );
          const operations = acts.map(({ operation }) => operation);
          if (!canBeDone(platform, start, operations)) throw new Error(`${from.name} to ${to.name} does not run`);
          looked.plans++;
          looked.acts += operations.filter((act) => does(platform, act)).length;
          for (const [at, later] of undone(platform, start, operations))
            wrong.add(`${acts[at]!.where} is undone by ${acts[later]!.where}, as in ${from.name} to ${to.name}`);
        }
      }
    }
    expect([...wrong]).toEqual([]);
    expect([looked.plans >= 36 * 35, looked.acts > 10_000]).toEqual([true, true]);
  },
);
