/**
 * What to have ready, held to a count of pieces: with the listed parts the moves never run out, with one fewer they do.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findTouches, partsToHaveReady } from "../../../src/domain/parts/handling.ts";
import { makeFastening, makePlatform, makeProcedure, makeStep, move, turn } from "./make.ts";

const moves = fc.array(
  fc
    .tuple(
      fc.constantFrom("pin", "strap"),
      fc.constantFrom("tray", "seat", "aside", "store"),
      fc.constantFrom("tray", "seat", "aside", "store"),
      fc.integer({ min: 1, max: 4 }),
    )
    .filter(([, from, to]) => from !== to),
  { maxLength: 12 },
);

/** Whether every move finds its pieces, beginning with those of `start`. */
function runs(
  list: readonly (readonly [string, string, string, number])[],
  start: ReadonlyMap<string, number>,
): boolean {
  const there = new Map(start);
  for (const [item, from, to, count] of list) {
    const have = there.get(`${item} ${from}`) ?? 0;
    if (have < count) return false;
    there.set(`${item} ${from}`, have - count);
    there.set(`${item} ${to}`, (there.get(`${item} ${to}`) ?? 0) + count);
  }
  return true;
}

describe("partsToHaveReady", () => {
  it("lists exactly what the moves need from where it stood at the start", () => {
    fc.assert(
      fc.property(moves, (list) => {
        const procedure = makeProcedure(
          "any",
          list.map(([item, from, to, count]) => makeStep({ operations: [move(item, from, to, count)] })),
        );
        const ready = new Map(partsToHaveReady(procedure).map(({ item, place, count }) => [`${item} ${place}`, count]));
        expect(runs(list, ready)).toBe(true);
        for (const [key, count] of ready) expect(runs(list, new Map([...ready, [key, count - 1]]))).toBe(false);
      }),
    );
  });
  it("asks once for a part that is put aside and picked up again", () => {
    const procedure = makeProcedure("swap", [
      makeStep({ operations: [move("pin", "tray", "aside", 4)] }),
      makeStep({ operations: [move("pin", "aside", "seat", 4)] }),
    ]);
    expect(partsToHaveReady(procedure)).toEqual([{ item: "pin", place: "tray", count: 4 }]);
  });
  it("keeps apart what only some patients need", () => {
    const weight = { text: "under 2.5 kg" };
    const procedure = makeProcedure("rolls", [
      makeStep({ operations: [move("roll", "pouch", "bed", 1)] }),
      makeStep({ ownWeight: weight, operations: [move("roll", "pouch", "bed", 1)] }),
    ]);
    expect(partsToHaveReady(procedure)).toEqual([
      { item: "roll", place: "pouch", count: 1 },
      { item: "roll", place: "pouch", count: 1, only: { weight } },
    ]);
  });
});

describe("findTouches", () => {
  it("counts the places that a turned fastening holds, and each step once", () => {
    const procedure = makeProcedure("pin-it", [
      makeStep({ operations: [move("pin", "tray", "seat", 4), turn("pins", "in")] }),
    ]);
    const touches = findTouches(
      makePlatform({ procedures: [procedure], fastenings: [makeFastening("pins", ["seat"])] }),
    );
    expect(touches.items.get("pin")?.map(({ step }) => step.number)).toEqual([1]);
    expect(touches.places.get("seat")).toHaveLength(1);
    expect(touches.fastenings.get("pins")).toHaveLength(1);
    expect(touches.items.get("strap")).toBeUndefined();
  });
});
