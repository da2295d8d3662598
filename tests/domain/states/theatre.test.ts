/** Answers about the theatre collection, worked out by hand from its files; the sums stand beside them. */
import { resolve } from "node:path";
import { beforeAll, expect, it } from "vitest";
import { arrangementNamed, graphFor, planChangeover } from "../../../src/domain/states/changeover.ts";
import { reportLoad } from "../../../src/domain/load/load.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import type { Model } from "../../../src/domain/states/model.ts";
import { fraction } from "../../../src/domain/numbers/rational.ts";
import { parseMass } from "../../../src/schema/quantities.ts";
import { readCollection } from "../../read-collection.ts";

let carriage: Model;
beforeAll(async () => {
  const { platforms } = await readCollection(resolve(import.meta.dirname, "../../fixtures/collections/theatre"));
  carriage = buildModel(platforms.find(({ id }) => id === "carriage")!);
});

function plan(from: string, to: string, kg: string) {
  const mass = parseMass(kg);
  if (!mass.ok) throw new Error(mass.message);
  return planChangeover(
    carriage,
    graphFor(carriage, { weight: mass.value.value }),
    arrangementNamed(carriage, from)!,
    arrangementNamed(carriage, to)!,
  );
}

it("has six arrangements: the lamp and the plate exclude each other, and each goes with both harnesses", () => {
  expect(carriage.arrangements.map(({ name }) => name).sort()).toEqual([
    "junior",
    "junior+lamp",
    "junior+plate",
    "senior",
    "senior+lamp",
    "senior+plate",
  ]);
});

it.each([
  // Off: 20 + 25 + 20 s. On: 30 + 90 s.
  ["junior", "senior", "60 kg", 65 + 120],
  // From 90 kg on, one more step of 15 s.
  ["junior", "senior", "89.999 kg", 65 + 120],
  ["junior", "senior", "90 kg", 65 + 120 + 15],
  // Lamp off 30 s, plate on 35 s.
  ["junior+lamp", "senior+plate", "60 kg", 65 + 120 + 30 + 35],
  // Off: 20 + 25 + 20 s. On: 10 s and 1 min 30 s.
  ["senior", "junior", "40 kg", 65 + 100],
  // The seat harness is for performers under 55 kg.
  ["senior", "junior", "55 kg", undefined],
])("from %s to %s for %s takes %s s", (from, to, kg, seconds) => {
  expect(plan(from, to, kg)?.seconds).toBe(seconds);
});

it("moves only what has changed its place in the end", () => {
  expect(plan("junior+lamp", "senior+plate", "60 kg")!.parts).toEqual([
    { item: "seat-harness", count: 1, from: "yoke", to: "rack" },
    { item: "full-harness", count: 1, from: "rack", to: "yoke" },
    { item: "constructor", count: 1, from: "rack", to: "side-rail" },
    { item: "prototype", count: 1, from: "side-rail", to: "rack" },
  ]);
});

it("weighs the senior flight with its lamp and a performer of 80 kg", () => {
  const load = reportLoad(carriage.platform, arrangementNamed(carriage, "senior+lamp")!, fraction(80n));
  // Carriage 24 at 480 mm; harness 4.1 and two shackles of 0.5 lb = 0.45359237 at 500 mm; rescue line 0.3 in the pouch,
  // 40 mm from the harness; lamp 0.9 at 900 mm; performer 80 at 500 mm.
  const kg = 24 + 4.1 + 0.453_592_37 + 0.3 + 0.9 + 80,
    kgm = 24 * 0.48 + (4.1 + 0.453_592_37) * 0.5 + 0.3 * 0.54 + 0.9 * 0.9 + 80 * 0.5;
  expect(load.mass.kg).toBeCloseTo(kg, 9);
  expect(load.moment.kgm).toBeCloseTo(kgm, 9);
  expect(load.balance.mm).toBeCloseTo((kgm / kg) * 1000, 6);
});
