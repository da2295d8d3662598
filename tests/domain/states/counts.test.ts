/**
 * Counting: what goes out, in and elsewhere is every net part once, and what is fetched is what the stores lose for a
 * while or for good.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countParts, listFetches } from "../../../src/domain/states/counts.ts";
import { makeItem, makePlace, makeProcedure, makeStep, move, turn } from "../parts/make.ts";

const places = [
  makePlace("deck"),
  makePlace("tray", { kind: "stowage" }),
  makePlace("rail"),
  makePlace("shed", { kind: "store" }),
  makePlace("store", { kind: "store" }),
];
const items = [
  makeItem("base", { home: "store" }),
  makeItem("pin", { home: "tray", count: 4 }),
  makeItem("bag", { home: "shed" }),
];
const platform = { places, items };
const steps = (...operations: (ReturnType<typeof move> | ReturnType<typeof turn>)[]) => {
  const procedure = makeProcedure(
    "p",
    operations.map((operation) => makeStep({ operations: [operation] })),
  );
  return procedure.steps.map((step) => ({ procedure, step }));
};

describe("countParts", () => {
  it("counts out what goes home, in what leaves home, and moved what does neither", () => {
    const { out, into, moved, total } = countParts(
      {
        parts: [
          { item: "pin", count: 4, from: "deck", to: "tray" },
          { item: "base", count: 1, from: "store", to: "deck" },
          { item: "bag", count: 1, from: "deck", to: "rail" },
        ],
      },
      platform,
    );
    expect([out, into, moved].map((rows) => rows.map(({ item }) => item))).toEqual([["pin"], ["base"], ["bag"]]);
    expect(total).toEqual({ out: 4, into: 1, moved: 1 });
  });
  it("says what must be back in its tray before the platform rolls: what goes home to a place that travels", () => {
    const { out } = countParts(
      {
        parts: [
          { item: "pin", count: 4, from: "deck", to: "tray" },
          { item: "base", count: 1, from: "deck", to: "store" },
        ],
      },
      platform,
    );
    expect(out.map(({ stowed }) => stowed)).toEqual([true, false]);
  });
  it("puts every net part into exactly one list", () => {
    const place = fc.constantFrom(...places.map(({ id }) => id));
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            item: fc.constantFrom("base", "pin", "bag"),
            count: fc.integer({ min: 1, max: 4 }),
            from: place,
            to: place,
          }),
        ),
        (all) => {
          const parts = all.filter(({ from, to }) => from !== to);
          const { out, into, moved, total } = countParts({ parts }, platform);
          expect(out.length + into.length + moved.length).toBe(parts.length);
          expect(total.out + total.into + total.moved).toBe(parts.reduce((sum, { count }) => sum + count, 0));
        },
      ),
    );
  });
});

describe("listFetches", () => {
  it("goes store by store in the order of the collection, and names the first step that takes a piece", () => {
    expect(
      listFetches(
        steps(move("base", "store", "deck"), move("pin", "tray", "deck", 4), move("bag", "shed", "rail")),
        platform,
      ),
    ).toEqual([
      { item: "bag", place: "shed", count: 1, before: 2 },
      { item: "base", place: "store", count: 1, before: 0 },
    ]);
  });
  it("goes item by item in the order of the equipment within a store, and adds up what several steps take", () => {
    const fetched = listFetches(
      steps(
        move("pin", "store", "deck", 1),
        move("base", "store", "deck"),
        turn("lever", "out"),
        move("pin", "store", "rail", 2),
        move("bag", "store", "rail"),
      ),
      platform,
    );
    expect(fetched).toEqual([
      { item: "base", place: "store", count: 1, before: 1 },
      { item: "pin", place: "store", count: 3, before: 0 },
      { item: "bag", place: "store", count: 1, before: 4 },
    ]);
  });
  it("lists what is brought back too, and not what the steps themselves put into the store", () => {
    expect(
      listFetches(
        steps(move("base", "store", "aside"), move("base", "aside", "store"), move("base", "store", "deck")),
        platform,
      ),
    ).toEqual([{ item: "base", place: "store", count: 1, before: 0 }]);
    expect(listFetches(steps(move("base", "deck", "store"), move("base", "store", "deck")), platform)).toEqual([]);
  });
  it("fetches, of every item, what the stores have lost at their worst moment", () => {
    // An independent count: replay the moves and keep the lowest stock of each item in each store.
    const at = fc.constantFrom("deck", "tray", "shed", "store");
    fc.assert(
      fc.property(
        fc.array(fc.record({ from: at, to: at, count: fc.integer({ min: 1, max: 3 }) }), { maxLength: 8 }),
        (moves) => {
          const stock = new Map<string, number>(),
            lowest = new Map<string, number>();
          for (const { from, to, count } of moves) {
            stock.set(from, (stock.get(from) ?? 0) - count);
            lowest.set(from, Math.min(lowest.get(from) ?? 0, stock.get(from)!));
            stock.set(to, (stock.get(to) ?? 0) + count);
          }
          const found = listFetches(
            steps(...moves.map(({ from, to, count }) => move("pin", from, to, count))),
            platform,
          );
          for (const store of ["shed", "store"])
            expect(found.find(({ place }) => place === store)?.count ?? 0).toBe(Math.abs(lowest.get(store) ?? 0));
        },
      ),
    );
  });
});
