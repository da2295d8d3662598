/** Inertia loads against the factors of the regulations and worked values. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findHeld, inertiaNewtons } from "../../../src/domain/load/inertia.ts";
import { listRows } from "../../../src/domain/load/load-rows.ts";
import { reportLoad } from "../../../src/domain/load/load.ts";
import { exactly, over, times, toNumber, toText } from "../../../src/domain/numbers/rational.ts";
import { bandOf, makeFastening, makeItem, makePlace, makePlatform } from "../parts/make.ts";

const LB_PER_KG = exactly(0.45359237);
/** 1 lbf in newtons: 0.45359237 · 9.80665, exact (NIST SP 811, from memory; recomputed). */
const NEWTONS_PER_LBF = exactly(4.4482216152605);

describe("inertiaNewtons", () => {
  // F = m · n · 9.80665 m/s²; recomputed. Factors: 14 CFR 29.561(b)(3) 1.5, 4, 8, 16, 20 (confirmed), 25.561(b)(3) 9
  // (confirmed),
  // 29.561(c) 12 (confirmed), EN 1789 10 (second hand).
  it.each([
    [1, [14.71, 39.23, 78.45, 88.26, 98.07, 117.68, 156.91, 196.13]],
    [5, [73.55, 196.13, 392.27, 441.3, 490.33, 588.4, 784.53, 980.66]],
    [10, [147.1, 392.27, 784.53, 882.6, 980.66, 1176.8, 1569.06, 1961.33]],
    [15, [220.65, 588.4, 1176.8, 1323.9, 1471.0, 1765.2, 2353.6, 2941.99]],
  ])("of %i kg under 1.5, 4, 8, 9, 10, 12, 16 and 20 g", (kg, newtons) => {
    // Within half of the last printed decimal: two table values end in an exact 5, which the source rounds to even.
    for (const [at, factor] of [1.5, 4, 8, 9, 10, 12, 16, 20].entries())
      expect(Math.abs(toNumber(inertiaNewtons(exactly(kg), exactly(factor))) - newtons[at]!)).toBeLessThanOrEqual(
        0.005 + 1e-9,
      );
  });

  it(
    "of 170 lb under 16 g is 2,720 lbf = 12,099.16 N, and 3,617.6 lbf = 16,091.89 N with the factor 1.33 (14 " +
      "CFR 29.785(f) and 29.561(b)(3), confirmed; recomputed)",
    () => {
      const occupant = times(exactly(170), LB_PER_KG);
      expect(toText(occupant, 9)).toBe("77.1107029");
      const plain = inertiaNewtons(occupant, exactly(16));
      const quick = inertiaNewtons(occupant, exactly(16), true);
      expect([toText(plain, 2), toText(over(plain, NEWTONS_PER_LBF), 6)]).toEqual(["12099.16", "2720"]);
      expect([toText(quick, 2), toText(over(quick, NEWTONS_PER_LBF), 6)]).toEqual(["16091.89", "3617.6"]);
    },
  );

  it("in newtons is the one in pounds-force times 4.4482216152605, at any weight and factor (recomputed)", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 1, max: 400 }), (ounces, tenths) => {
        const [lb, factor] = [over(exactly(ounces), exactly(16)), over(exactly(tenths), exactly(10))];
        expect(inertiaNewtons(times(lb, LB_PER_KG), factor)).toEqual(times(lb, factor, NEWTONS_PER_LBF));
      }),
    );
  });
});

/** A deck lever that holds a base, pins that hold a capsule on it, a clamp that holds two cylinders. */
const trolley = makePlatform({
  places: [
    makePlace("deck"),
    makePlace("frame"),
    makePlace("rack"),
    makePlace("seat", { on: "base" }),
    makePlace("pouch", { on: "capsule" }),
  ],
  items: [
    makeItem("base", { massKg: 4, places: ["seat"] }),
    makeItem("capsule", { massKg: 8, places: ["pouch"], restrains: bandOf(1, 5).weight }),
    makeItem("mask", { massKg: 0.5 }),
    makeItem("cylinder", { massKg: 10, count: 2 }),
    makeItem("hook"),
  ],
  fastenings: [
    makeFastening("lever", ["deck"], { ratedN: 4000 }),
    makeFastening("pins", ["seat"], { ratedN: 2600 }),
    makeFastening("clamp", ["frame"], { ratedN: 3138.128 }),
    makeFastening("strap", ["rack"]),
    makeFastening("cord", ["pouch"]),
  ],
  factors: { source: "14 CFR 29.561(b)(3)", forward: 16, rearward: 1.5, sideward: 8, downward: 20 },
});
const contents = [
  { item: "mask", place: "pouch", count: 1 },
  { item: "base", place: "deck", count: 1 },
  { item: "capsule", place: "seat", count: 1 },
  { item: "cylinder", place: "frame", count: 1 },
  { item: "hook", place: "frame", count: 1 },
];

describe("findHeld", () => {
  const held = findHeld(trolley, listRows(trolley, { contents }), exactly(5));
  const of = (id: string) => held.find(({ fastening }) => fastening.id === id)!;

  it("counts everything in the places and on them, and the patient where something there restrains one", () => {
    expect(held.map(({ fastening, massKg, patient }) => [fastening.id, toNumber(massKg), patient])).toEqual([
      ["lever", 17.5, true],
      ["pins", 13.5, true],
      ["clamp", 10, false],
      ["cord", 0.5, false],
    ]);
  });

  it("checks the strength per direction, and says nothing where there is no factor or no rating", () => {
    expect(
      of("lever").directions.map(({ name, newtons, within }) => [name, newtons && toNumber(newtons), within]),
    ).toEqual([
      ["forward", 2745.862, true],
      ["rearward", 257.4245625, true],
      ["sideward", 1372.931, true],
      ["upward", undefined, undefined],
      ["downward", 3432.3275, true],
    ]);
    expect(
      of("pins")
        .directions.filter(({ within }) => within === false)
        .map(({ name, newtons }) => [name, newtons && toNumber(newtons)]),
    ).toEqual([["downward", 2647.7955]]);
    expect(of("cord").directions.every(({ within }) => within === undefined)).toBe(true);
  });

  it("holds a load that meets the rating exactly, and says which things have no mass", () => {
    const two = findHeld(
      trolley,
      listRows(trolley, {
        contents: [
          { item: "cylinder", place: "frame", count: 2 },
          { item: "hook", place: "frame", count: 1 },
        ],
      }),
      undefined,
    );
    // 20 kg · 16 · 9.80665 = 3138.128 N, exactly the rating.
    expect(two[0]!.directions[0]).toMatchObject({ name: "forward", within: true });
    expect(two[0]!.noMass).toEqual(["hook"]);
  });

  it("leaves the patient out when nobody lies there", () => {
    expect(findHeld(trolley, listRows(trolley, { contents }))[0]).toMatchObject({ patient: false });
  });

  it("is part of the load's report: null means no factor in this rule, never 0", () => {
    const report = reportLoad(trolley, { contents }, exactly(5));
    expect(report.factorSource).toBe("14 CFR 29.561(b)(3)");
    expect(report.fastenings[1]).toMatchObject({
      fastening: "pins",
      kg: 13.5,
      ratedN: 2600,
      within: false,
      loads: { forward: { factor: 16, newtons: 2118.2364, within: true }, upward: null },
    });
    expect(report.fastenings[3]).toMatchObject({
      fastening: "cord",
      ratedN: null,
      within: null,
      loads: { forward: { within: null } },
    });
  });

  it("rates a fastening only in the directions that it holds against (a strap carries nothing downward)", () => {
    // The pins hold 13.5 kg: 2 118.2364 N at 16 g forward are within 2 600 N, 2 647.7955 N at 20 g downward are not.
    const against = {
      ...trolley,
      fastenings: trolley.fastenings.map((each) =>
        each.id === "pins" ? { ...each, against: ["forward", "upward"] as const } : each,
      ),
    };
    const pins = reportLoad(against, { contents }, exactly(5)).fastenings[1]!;
    expect(pins).toMatchObject({ fastening: "pins", within: true, loads: { forward: { within: true }, upward: null } });
    expect(Object.keys(pins.loads)).toEqual(["forward", "upward"]);
    expect(reportLoad(against, { contents }, exactly(5)).fastenings[0]!.loads).toHaveProperty("downward");
  });

  it("judges a platform that has a factor for one direction alone", () => {
    const one = { ...trolley, factors: { forward: 16 } };
    expect(reportLoad(one, { contents }, exactly(5)).fastenings.map(({ within }) => within)).toEqual([
      true,
      true,
      true,
      null,
    ]);
  });
});
