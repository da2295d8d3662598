/** Plan, balance rail and limit bars as numbers. The platforms are invented. */
import { describe, expect, it } from "vitest";
import { listArrangements } from "../../src/domain/parts/arrangements.ts";
import { findLoadEnds, layoutBars, layoutRail } from "../../src/drawing/drawing-load.ts";
import { LARGE_NUMBER_RADIUS, layoutPlan, niceStep, NUMBER_RADIUS } from "../../src/drawing/drawing-plan.ts";
import {
  bandOf,
  makeConfiguration,
  makeFastening,
  makeItem,
  makePlace,
  makePlatform,
  WHERE,
} from "../domain/parts/make.ts";

const fit = (item: string, place: string, count = 1) => ({ item, place, count, where: WHERE });
const trolley = makePlatform({
  own: { massKg: 58, xMm: 900 },
  patient: { xMm: 820 },
  limits: { massKg: 120, balance: { fromMm: 700, toMm: 1000 } },
  places: [
    makePlace("deck", { xMm: 900, yMm: 0 }),
    makePlace("bay", { xMm: 620 }),
    makePlace("rail", { xMm: 1640, yMm: 130 }),
    makePlace("hook", {}),
    makePlace("slots", { on: "cradle", dxMm: -10 }),
    makePlace("store", { kind: "store" }),
  ],
  items: [
    makeItem("cradle", { massKg: 11.4, places: ["slots"], restrains: bandOf(5, 40).weight }),
    makeItem("strap", { massKg: 0.2, count: 4, restrains: bandOf(5, 40).weight }),
    makeItem("bag", { massKg: 7.5 }),
    makeItem("vent", { massKg: 6.5, home: "rail" }),
    makeItem("flag", { home: "hook" }),
  ],
  fastenings: [
    makeFastening("lever", ["deck"], { ratedN: 12_000 }),
    makeFastening("clamp", ["rail"], { ratedN: 1000 }),
    makeFastening("string", ["hook"]),
  ],
  factors: { source: "14 CFR 29.561(b)(3)", forward: 16, rearward: 1.5 },
  configurations: [
    makeConfiguration("cradle", {
      band: bandOf(5, 40),
      fitted: [fit("cradle", "deck"), fit("strap", "slots", 4), fit("bag", "bay")],
    }),
  ],
});
const arrangement = listArrangements(trolley)[0]!;
const service = bandOf(1, 130);

describe("layoutPlan", () => {
  const plan = layoutPlan(trolley, arrangement)!;

  it("numbers what is on the platform from the datum onwards, and last what nothing says the place of", () => {
    expect(plan.entries.map(({ number, item, count, xMm, fitted }) => [number, item, count, xMm, fitted])).toEqual([
      [1, "bag", 1, 620, true],
      [2, "strap", 4, 890, true],
      [3, "cradle", 1, 900, true],
      [4, "vent", 1, 1640, false],
      [5, "flag", 1, undefined, false],
    ]);
    expect(plan.boxes.map(({ entry }) => entry.item).sort()).toEqual(["bag", "cradle", "strap", "vent"]);
  });

  it("puts each outline around its own cross, the largest first, and marks what is not on what it covers", () => {
    for (const { entry, x, y, width, height } of plan.boxes) {
      expect(x < entry.xMm! && entry.xMm! < x + width).toBe(true);
      expect(y < (entry.yMm ?? 0) && (entry.yMm ?? 0) < y + height).toBe(true);
    }
    expect(plan.boxes[0]!.entry.item).toBe("cradle");
    expect(plan.boxes.filter(({ apart }) => apart).map(({ entry }) => entry.item)).toEqual(["bag"]);
  });

  it.each([
    ["usual", plan.numbers, NUMBER_RADIUS],
    ["large", plan.largeNumbers, LARGE_NUMBER_RADIUS],
  ] as const)(
    "keeps %s numbers apart from each other, from the crosses and inside the drawing",
    (_, numbers, radius) => {
      expect(numbers.map(({ number }) => number)).toEqual([1, 2, 3, 4]);
      for (const [at, a] of numbers.entries()) {
        for (const b of numbers.slice(at + 1))
          expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(2 * radius * plan.unit);
        for (const cross of plan.crosses)
          expect(Math.hypot(a.x - cross.x, a.y - cross.y)).toBeGreaterThan(radius * plan.unit);
        expect(a.x >= plan.fromMm && a.x <= plan.toMm && Math.abs(a.y) <= plan.halfWidthMm).toBe(true);
      }
    },
  );

  it("reaches from below the lowest to above the highest point in whole ticks, points asked for among them", () => {
    expect([plan.fromMm, plan.toMm, plan.tickMm]).toEqual([-100, 1700, 100]);
    expect(plan.ticks).toHaveLength(19);
    expect(layoutPlan(trolley, arrangement, [2400])!.toMm).toBeGreaterThan(2400);
  });

  it("is made once for platforms of which only texts differ, and anew for each thing that is drawn (no source)", () => {
    const { items, places } = trolley;
    const other = { contents: [...arrangement.contents] };
    expect(layoutPlan({ ...trolley, name: "Another", procedures: [] }, other)).toBe(plan);
    expect(layoutPlan({ ...trolley, items: [...items], places: [...places] }, arrangement)).toEqual(plan);
    const heavier = items.map((item) => (item.id === "vent" ? { ...item, massKg: 40 } : item)),
      further = places.map((place) => (place.xMm === undefined ? place : { ...place, xMm: place.xMm + 10 }));
    for (const other of [
      layoutPlan({ ...trolley, items: heavier }, arrangement),
      layoutPlan({ ...trolley, places: further }, arrangement),
      layoutPlan({ ...trolley, patient: { ...trolley.patient!, xMm: trolley.patient!.xMm + 10 } }, arrangement),
      layoutPlan(trolley, { ...arrangement, contents: arrangement.contents.slice(1) }),
      layoutPlan(trolley, arrangement, [2400]),
    ])
      expect(other).not.toEqual(plan);
  });

  it("is not drawn when no place has an x", () => {
    expect(layoutPlan(makePlatform({ places: [makePlace("hook")] }), arrangement)).toBeUndefined();
  });
});

describe("niceStep", () => {
  it.each([
    [1, 1],
    [1.2, 2],
    [3, 5],
    [7, 10],
    [100, 100],
    [101, 200],
    [0.03, 0.05],
  ])("of at least %d is %d", (least, step) => {
    expect(niceStep(least)).toBeCloseTo(step, 12);
  });
});

describe("findLoadEnds and layoutRail", () => {
  it("give mass and balance point at both ends, filled where the band owns its end", () => {
    const ends = findLoadEnds(trolley, arrangement, arrangement.band, service);
    expect(
      ends.map(({ side, owned, text, patientKg, massKg, within }) => [side, owned, text, patientKg, massKg, within]),
    ).toEqual([
      ["light", true, "at 5 kg", 5, 89.2, true],
      ["heavy", false, "under 40 kg", 40, 124.2, false],
    ]);
    // (58 · 900 + 11.4 · 900 + 0.8 · 890 + 7.5 · 620 + 6.5 · 1640 + 5 · 820) / 89.2
    expect(ends[0]!.balanceMm).toBeCloseTo(82_582 / 89.2, 9);
    const rail = layoutRail(trolley, ends)!;
    expect([rail.fromMm, rail.toMm]).toEqual([700, 1000]);
    expect(rail.pins.map(({ end, label }) => [end.side, label])).toEqual([
      ["light", "after"],
      ["heavy", "before"],
    ]);
  });

  it("take an open end from the service, and leave it out when the service has none", () => {
    expect(findLoadEnds(trolley, arrangement, bandOf(5), service).map(({ text }) => text)).toEqual([
      "at 5 kg",
      "under 130 kg",
    ]);
    expect(findLoadEnds(trolley, arrangement, bandOf(5), bandOf()).map(({ text }) => text)).toEqual(["at 5 kg"]);
    expect(findLoadEnds(trolley, arrangement, bandOf(), bandOf()).map(({ text }) => text)).toEqual(["at 0 kg"]);
  });

  it("have no rail without any mass", () => {
    const bare = makePlatform();
    expect(layoutRail(bare, findLoadEnds(bare, { contents: [] }, bandOf(), bandOf()))).toBeUndefined();
  });
});

describe("layoutBars", () => {
  it("show mass and rated fastenings in their worst direction, past the limit too, and what is unchecked", () => {
    const bars = layoutBars(trolley, arrangement, 40);
    expect(
      bars.map(({ kind, fastening, direction, factor, allowed }) => [kind, fastening, direction, factor, allowed]),
    ).toEqual([
      ["mass", undefined, undefined, undefined, 120],
      ["fastening", "lever", "forward", 16, 12_000],
      ["fastening", "clamp", "forward", 16, 1000],
    ]);
    // (11.4 + 0.8 + 40) kg · 16 · 9.80665 and 6.5 kg · 16 · 9.80665
    expect(bars[1]!.used).toBeCloseTo(8190.51408, 6);
    expect(bars[2]!.share).toBeCloseTo(1.0198916, 7);
    expect(bars[1]!.unchecked).toEqual(["sideward", "upward", "downward"]);
    expect(bars[0]!.noMass).toEqual(["flag"]);
  });

  it("say nothing is known where the platform has no factors", () => {
    const { factors: _, ...plain } = trolley;
    expect(layoutBars(plain, arrangement, 40)[1]).toMatchObject({
      used: undefined,
      share: undefined,
      direction: undefined,
    });
  });
});
