/**
 * What stands on what is one fact: what is on the platform, where a mass acts, what a fastening holds and what the
 * search says of a state, over the demo and the collections of the tests (invented); and over generated towers, whose
 * order is known from how they were built.
 */
import { join, resolve } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findHeld } from "../../src/domain/load/inertia.ts";
import { listRows, placeLocator } from "../../src/domain/load/load-rows.ts";
import { layoutOf, placesOnPlatform } from "../../src/domain/parts/arrangements.ts";
import { stateOf } from "../../src/domain/states/changeover.ts";
import { toNumber } from "../../src/domain/numbers/rational.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { isOn } from "../../src/domain/states/run.ts";
import { itemsUnder, placesUnder, standingIn } from "../../src/domain/parts/support.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");

describe("what stands on what", () => {
  it.each(COLLECTIONS)("is the same for arrangements, states, loads and fastenings: %s", async (folder) => {
    let stacked = 0;
    for (const platform of (await readCollection(join(root, folder))).platforms) {
      const model = modelOf(platform),
        layout = layoutOf(platform);
      for (const arrangement of model.arrangements) {
        const on = placesOnPlatform(layout, arrangement.contents),
          locate = placeLocator(platform, arrangement.contents),
          state = stateOf(model, arrangement);
        for (const place of platform.places) {
          const index = model.places.findIndex(({ id }) => id === place.id);
          expect([place.id, isOn(model, state, index), locate(place.id) !== undefined]).toEqual([
            place.id,
            on.has(place.id),
            on.has(place.id),
          ]);
          if (place.on !== undefined && on.has(place.id)) stacked += 1;
        }
        // What a fastening holds: by its mass, against what stands over its places, added up from above.
        const rows = listRows(platform, arrangement);
        for (const { fastening, massKg } of findHeld(platform, rows)) {
          const over = (id: string): typeof rows =>
            rows
              .filter(({ place }) => place === id)
              .flatMap((row) => [
                row,
                ...platform.places.filter(({ on: item }) => item === row.item).flatMap((each) => over(each.id)),
              ]);
          const held = new Set(fastening.holds.flatMap(over));
          expect(toNumber(massKg)).toBeCloseTo(
            [...held].reduce((kg, row) => kg + toNumber(row.massKg), 0),
            9,
          );
        }
      }
    }
    if (folder === "procedures") expect(stacked).toBeGreaterThan(20);
  });

  it("is what a tower was built of, from any floor down, whatever else stands beside it (generated)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.nat(20), (floors, beside) => {
        // Place 0 is the platform's own; item n stands in place n, and place n + 1 is on it.
        const places = new Map(
          Array.from({ length: floors + 1 }, (_, at) => [`place-${at}`, at === 0 ? {} : { on: `item-${at - 1}` }]),
        );
        const contents = [
          ...Array.from({ length: beside }, (_, at) => ({ item: `other-${at}`, place: `place-${at % (floors + 1)}` })),
          ...Array.from({ length: floors }, (_, at) => ({ item: `item-${at}`, place: `place-${at}` })),
        ];
        const standsIn = standingIn(contents);
        for (let at = 0; at <= floors; at++) {
          const down = Array.from({ length: at + 1 }, (_, below) => `place-${at - below}`);
          expect(placesUnder(`place-${at}`, places, standsIn)).toEqual(down);
          expect([...itemsUnder(`place-${at}`, places, standsIn)]).toEqual(
            Array.from({ length: at }, (_, below) => `item-${at - 1 - below}`),
          );
        }
      }),
    );
  });

  it("ends where a circle closes, and where an item stands nowhere", () => {
    const places = new Map([
      ["a", { on: "x" }],
      ["b", { on: "y" }],
    ]);
    const circle = standingIn([
      { item: "x", place: "b" },
      { item: "y", place: "a" },
    ]);
    expect(placesUnder("a", places, circle)).toEqual(["a", "b"]);
    expect(placesUnder("a", places, standingIn([{ item: "x", place: "b", count: 0 }]))).toEqual(["a"]);
  });
});
