/** Mass, moment and balance point against handbook examples; band ends and crossings exactly. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addUp, listRows, placeLocator } from "../../../src/domain/load/load-rows.ts";
import { bandEnds, brokenLimits, findCrossings, massOf, reportLoad, totalLoad } from "../../../src/domain/load/load.ts";
import { exactly, fraction, sum, toNumber, toText } from "../../../src/domain/numbers/rational.ts";
import { bandOf, makeItem, makePlace, makePlatform } from "../parts/make.ts";

/** Rows of weight and arm. The handbooks use pounds and inches; the arithmetic does not know units. */
const rowsOf = (...rows: readonly (readonly [weight: number, arm: number])[]) =>
  rows.map(([weight, arm]) => ({ massKg: exactly(weight), xMm: exactly(arm) }));
const sumsOf = (...rows: readonly (readonly [weight: number, arm: number])[]) => {
  const { massKg, momentKgm, balanceMm } = addUp(rowsOf(...rows));
  return { weight: toNumber(massKg), moment: toNumber(momentKgm) * 1000, balance: toNumber(balanceMm!) };
};

describe("addUp", () => {
  // FAA-H-8083-25, computational method. Weights, total, balance point and limits confirmed
  // (flightlearnings.com/2011/03/17);
  // arms and empty weight from memory, recomputed.
  it("adds up the itemised loading of the FAA handbook: 3,320 lb, 281,430 lb·in, 84.8 in", () => {
    const sums = sumsOf([2100, 78.3], [340, 85], [350, 121], [450, 75], [80, 150]);
    expect(sums).toMatchObject({ weight: 3320, moment: 281_430 });
    expect(sums.balance.toFixed(1)).toBe("84.8");
  });

  // FAA-H-8083-1B chapter 2, from memory; arithmetic recomputed.
  it("balances three weights on a board at 106 in, and at +6 in from its middle", () => {
    expect(sumsOf([100, 50], [200, 90], [200, 150])).toEqual({ weight: 500, moment: 53_000, balance: 106 });
    expect(sumsOf([100, -50], [200, -10], [200, 50])).toEqual({ weight: 500, moment: 3000, balance: 6 });
    expect(sumsOf([100, 50], [200, 75], [200, 150]).balance).toBe(100);
  });

  it.each([
    [
      "a: 100 lb shifted from 30 to 150 in (flightlearnings.com/2011/03/21, confirmed)",
      [
        [7900, (616_000 - 3000) / 7900],
        [100, 150],
      ],
      78.5,
      1,
    ],
    [
      "b: 65 lb shifted from 150 to 30 in (PHAK, quoted at jetcareers.com, confirmed)",
      [
        [7800, 81.5],
        [-65, 150],
        [65, 30],
      ],
      80.5,
      6,
    ],
    [
      "c: 140 lb added at 150 in (PHAK, quoted at askacfi.com/4875, confirmed)",
      [
        [6860, 80],
        [140, 150],
      ],
      81.4,
      6,
    ],
    [
      "d: 100 lb removed from 150 in (from memory, recomputed; the handbook rounds first and prints 78.8)",
      [
        [6100, 80],
        [-100, 150],
      ],
      78.83,
      2,
    ],
    [
      "e: 228 kg moved 2.9 m aft (atplquestions.com mass-balance/12, confirmed; 227.7 exactly)",
      [
        [6603, 2800],
        [-228, 0],
        [228, 2900],
      ],
      2900,
      0,
    ],
    [
      "f: 136 kg of ballast at 8.73 m (atplquestions.com mass-balance/2, confirmed)",
      [
        [2222, 6130],
        [136, 8730.7],
      ],
      6280,
      0,
    ],
    [
      "g: 90 lb shifted from 145 to 45 in (gauthmath.com/solution/1813763143235589, answer confirmed, its " +
        "working is wrong)",
      [
        [4800, 98],
        [-90, 145],
        [90, 45],
      ],
      96.125,
      6,
    ],
    [
      "not the 94.77 that a page prints by treating a shift as an addition: 80 lb from 142 to 44 in (recomputed)",
      [
        [4700, 97],
        [-80, 142],
        [80, 44],
      ],
      95.33,
      2,
    ],
    [
      "j: 340 lb on the nose wheel, 78 in ahead of the main wheels (flight-study.com, confirmed)",
      [
        [340, -78],
        [2006 - 340, 0],
      ],
      -13.2,
      1,
    ],
    [
      "j with the datum 128 in ahead of the main wheels (from memory, recomputed)",
      [
        [340, 50],
        [2006 - 340, 128],
      ],
      114.8,
      1,
    ],
  ] as const)("moves the balance point: %s", (_, rows, balance, decimals) => {
    expect(sumsOf(...rows).balance.toFixed(decimals)).toBe(balance.toFixed(decimals));
  });

  it("moves the balance point by exactly as much as the datum moves", () => {
    const row = fc.record({ g: fc.integer({ min: 1, max: 200_000 }), x: fc.integer({ min: -3000, max: 3000 }) });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1 }), fc.integer({ min: -5000, max: 5000 }), (rows, offset) => {
        const at = (by: number) =>
          addUp(rows.map(({ g, x }) => ({ massKg: fraction(BigInt(g), 1000n), xMm: exactly(x + by) }))).balanceMm!;
        expect(at(offset)).toEqual(sum(at(0), exactly(offset)));
      }),
    );
  });

  it("has no balance point without mass", () => {
    expect(addUp([]).balanceMm).toBeUndefined();
  });
});

/** A sled: a box on the deck with a tray in it, pins in the tray, a spare in the store. */
const sled = makePlatform({
  own: { massKg: 58, xMm: 910 },
  patient: { xMm: 820 },
  limits: { massKg: 100, balance: { fromMm: 700, toMm: 1000 } },
  places: [
    makePlace("deck", { xMm: 900 }),
    makePlace("rail", { xMm: 1650 }),
    makePlace("locker", { kind: "stowage", xMm: 200 }),
    makePlace("store", { kind: "store" }),
    makePlace("shelf", { on: "box", kind: "stowage", dxMm: 120 }),
    makePlace("cup", { on: "tray", kind: "stowage", dxMm: -20 }),
    makePlace("slot", { on: "spare", dxMm: 5 }),
  ],
  items: [
    makeItem("box", { massKg: 8.2, carries: true, places: ["shelf"] }),
    makeItem("tray", { massKg: 0.3, carries: true, places: ["cup"] }),
    makeItem("pin", { massKg: 0.05, count: 6 }),
    makeItem("spare", { massKg: 9, places: ["slot"] }),
    makeItem("flag"),
  ],
});
const contents = [
  { item: "box", place: "deck", count: 1 },
  { item: "tray", place: "shelf", count: 1 },
  { item: "pin", place: "cup", count: 4 },
  { item: "pin", place: "slot", count: 2 },
  { item: "spare", place: "store", count: 1 },
  { item: "flag", place: "rail", count: 1 },
];

describe("listRows", () => {
  it(
    "lists what is on the platform, where it stands through places on items, and leaves out the store and what " +
      "stands on things there",
    () => {
      expect(
        listRows(sled, { contents }).map(({ item, count, massKg, xMm }) => [
          item,
          count,
          toNumber(massKg),
          xMm && toNumber(xMm),
        ]),
      ).toEqual([
        ["box", 1, 8.2, 900],
        ["tray", 1, 0.3, 1020],
        ["pin", 4, 0.2, 1000],
        ["flag", 1, 0, 1650],
      ]);
    },
  );

  it("leaves out what is aside, and does not go round in a circle", () => {
    const round = makePlatform({
      places: [makePlace("in-a", { on: "a" }), makePlace("in-b", { on: "b" })],
      items: [makeItem("a", { massKg: 1 }), makeItem("b", { massKg: 1 }), makeItem("c", { massKg: 1 })],
    });
    expect(
      listRows(round, {
        contents: [
          { item: "a", place: "in-b", count: 1 },
          { item: "b", place: "in-a", count: 1 },
          { item: "c", place: "aside", count: 1 },
        ],
      }),
    ).toEqual([]);
  });
});

describe("totalLoad", () => {
  it("adds platform, things and patient", () => {
    const { massKg, momentKgm, balanceMm } = totalLoad(sled, { contents }, exactly(20));
    expect(toText(massKg, 6)).toBe("86.7");
    // 58 · 0.91 + 8.2 · 0.9 + 0.3 · 1.02 + 0.2 · 1 + 20 · 0.82, worked by hand
    expect(toText(momentKgm, 6)).toBe("77.066");
    expect(toNumber(balanceMm!)).toBeCloseTo(888.881, 3);
  });

  it("reads 11 lb as 4.98951607 kg (1 lb = 0.45359237 kg exactly, NIST SP 811, second hand)", () => {
    expect(toText(massOf(11n * 45_359_237n * 10n ** 12n), 12)).toBe("4.98951607");
  });
});

describe("limits", () => {
  it("hold when they are met exactly", () => {
    const bare = makePlatform({
      own: { massKg: 0.1, xMm: 1000 },
      patient: { xMm: 1000 },
      limits: { massKg: 0.3, balance: { fromMm: 1000, toMm: 1000 } },
    });
    // 0.1 + 0.2 is more than 0.3 in binary fractions.
    expect(brokenLimits(bare, totalLoad(bare, { contents: [] }, exactly(0.2)))).toEqual([]);
    expect(brokenLimits(bare, totalLoad(bare, { contents: [] }, exactly(0.2000001)))).toEqual(["mass"]);
  });

  it("are broken from a patient weight that is found exactly", () => {
    expect(
      findCrossings(sled, { contents }).map(({ limit, broken, atKg }) => [limit, broken, atKg && toText(atKg, 6)]),
    ).toEqual([
      ["mass", "over", "33.3"],
      ["balance-from", "never", undefined],
      ["balance-to", "never", undefined],
    ]);
  });

  it(
    "are broken over the 140 lb that bring a 6,860 lb load from 80.0 to 81.4 in (PHAK, quoted at " +
      "askacfi.com/4875, confirmed)",
    () => {
      const loaded = makePlatform({
        own: { massKg: 6860, xMm: 80 },
        patient: { xMm: 150 },
        limits: { balance: { fromMm: 0, toMm: 81.4 } },
      });
      expect(findCrossings(loaded, { contents: [] }).find(({ limit }) => limit === "balance-to")).toMatchObject({
        broken: "over",
        atKg: exactly(140),
      });
    },
  );

  it("are broken under a weight where the patient brings the balance point back", () => {
    const headHeavy = makePlatform({
      own: { massKg: 50, xMm: 600 },
      patient: { xMm: 800 },
      limits: { balance: { fromMm: 700, toMm: 1000 } },
    });
    expect(findCrossings(headHeavy, { contents: [] })[0]).toMatchObject({
      limit: "balance-from",
      broken: "under",
      atKg: exactly(50),
    });
  });

  it("are always or never broken by balance where the patient's mass acts at the limit itself", () => {
    const broken = (own: number) =>
      findCrossings(
        makePlatform({
          own: { massKg: 50, xMm: own },
          patient: { xMm: 1000 },
          limits: { balance: { fromMm: 0, toMm: 1000 } },
        }),
        { contents: [] },
      )[1]!.broken;
    expect([1100, 1000, 900].map(broken)).toEqual(["always", "never", "never"]);
  });

  it(
    "are always broken when the bare platform breaks them for good, and only by somebody when it just meets " + "them",
    () => {
      const mass = (limit: number) =>
        findCrossings(makePlatform({ own: { massKg: 50, xMm: 0 }, limits: { massKg: limit } }), { contents: [] })[0]!;
      expect([mass(49), mass(50)]).toEqual([
        { limit: "mass", limitValue: exactly(49), broken: "always" },
        { limit: "mass", limitValue: exactly(50), broken: "over", atKg: exactly(0) },
      ]);
      const balance = (own: number) =>
        findCrossings(
          makePlatform({
            own: { massKg: 50, xMm: own },
            patient: { xMm: 800 },
            limits: { balance: { fromMm: 700, toMm: 1000 } },
          }),
          { contents: [] },
        )[0]!.broken;
      expect([690, 700, 710].map(balance)).toEqual(["under", "never", "never"]);
    },
  );

  it("take a patient whose place nothing tells to act at the datum, as `load/no-mass` warns", () => {
    const unknown = makePlatform({ own: { massKg: 50, xMm: 900 }, limits: { balance: { fromMm: 600, toMm: 1000 } } });
    expect(findCrossings(unknown, { contents: [] })[0]).toMatchObject({ broken: "over", atKg: exactly(25) });
    expect(totalLoad(unknown, { contents: [] }, exactly(25)).balanceMm).toEqual(exactly(600));
  });

  it("agree with their crossings at any patient weight", () => {
    const numbers = fc.record({
      mass: fc.integer({ min: 1, max: 200 }),
      x: fc.integer({ min: 0, max: 1500 }),
      patient: fc.integer({ min: 0, max: 1500 }),
      most: fc.integer({ min: 1, max: 300 }),
      from: fc.integer({ min: 0, max: 900 }),
      wide: fc.integer({ min: 0, max: 400 }),
      w: fc.integer({ min: 0, max: 2000 }),
    });
    fc.assert(
      fc.property(numbers, ({ mass, x, patient, most, from, wide, w }) => {
        const any = makePlatform({
          own: { massKg: mass, xMm: x },
          patient: { xMm: patient },
          limits: { massKg: most, balance: { fromMm: from, toMm: from + wide } },
        });
        const patientKg = fraction(BigInt(w), 10n);
        const said = findCrossings(any, { contents: [] }).filter(({ broken, atKg }) => {
          const difference = atKg ? toNumber(patientKg) - toNumber(atKg) : 0;
          return (
            broken === "always" ||
            (broken === "over" && difference > 1e-12) ||
            (broken === "under" && difference < -1e-12)
          );
        });
        expect(said.map(({ limit }) => limit)).toEqual(brokenLimits(any, totalLoad(any, { contents: [] }, patientKg)));
      }),
      { numRuns: 500 },
    );
  });

  it("take a band's end as its value whether or not the band owns it; no lower end is 0, no upper end is none", () => {
    const { fromKg, toKg } = bandEnds(bandOf(5, 40));
    expect([toNumber(fromKg), toNumber(toKg!)]).toEqual([5, 40]);
    expect(bandEnds(bandOf())).toEqual({ fromKg: { n: 0n, d: 1n }, toKg: undefined });
  });
});

describe("reportLoad", () => {
  it("has the shape of `rerig load --json`, with numbers that are not rounded", () => {
    const report = reportLoad(sled, { contents }, exactly(20));
    expect(report).toMatchObject({
      mass: { kg: 86.7, limit: 100 },
      moment: { kgm: 77.066 },
      balance: { from: 700, to: 1000 },
      within: true,
      broken: [],
      noMass: ["flag"],
      own: { kg: 58, mm: 910, kgm: 52.78 },
      patient: { kg: 20, mm: 820, kgm: 16.4 },
      items: [
        { item: "box", place: "deck", count: 1, kg: 8.2, mm: 900, kgm: 7.38 },
        { item: "tray", place: "shelf", count: 1, kg: 0.3, mm: 1020, kgm: 0.306 },
        { item: "pin", place: "cup", count: 4, kg: 0.2, mm: 1000, kgm: 0.2 },
        { item: "flag", place: "rail", count: 1, kg: 0, mm: 1650, kgm: 0 },
      ],
      crossings: [
        { limit: "mass", broken: "over", kg: 33.3 },
        { limit: "balance-from", broken: "never", kg: null },
        { limit: "balance-to", broken: "never", kg: null },
      ],
    });
    expect(report.balance.mm).toBeCloseTo(77_066 / 86.7, 9);
    expect(report.items.reduce((total, { kg }) => total + kg, report.own.kg + report.patient!.kg)).toBeCloseTo(
      report.mass.kg,
      9,
    );
  });

  it("has null for the balance point of nothing", () => {
    expect(reportLoad(makePlatform(), { contents: [] })).toMatchObject({
      mass: { kg: 0, limit: null },
      moment: { kgm: 0 },
      balance: { mm: null, from: null, to: null },
      within: true,
      items: [],
      fastenings: [],
      factorSource: null,
    });
  });

  it("counts a thing whose place has no x at the datum, and shows null for where it is", () => {
    const bare = makePlatform({
      places: [makePlace("hook")],
      items: [makeItem("bag", { massKg: 2 })],
      own: { massKg: 2, xMm: 100 },
    });
    const report = reportLoad(bare, { contents: [{ item: "bag", place: "hook", count: 1 }] });
    expect(report).toMatchObject({ items: [{ mm: null, kg: 2, kgm: 0 }], balance: { mm: 50 }, patient: null });
  });
});

describe("where things are (invented cases)", () => {
  const built = makePlatform({
    places: [
      makePlace("deck", { xMm: 500, yMm: 40 }),
      makePlace("seat", { on: "base" }),
      makePlace("shelf", { on: "base", dxMm: 30, dyMm: -5 }),
    ],
    items: [makeItem("base", { massKg: 2, places: ["seat", "shelf"] }), makeItem("box", { massKg: 1 })],
  });
  const on = (place: string, count = 1) => [
    { place: "deck", item: "base", count: 1 },
    { place, item: "box", count },
  ];
  it.each([
    ["seat", 500, 40],
    ["shelf", 530, 35],
  ])("a thing in %s is at %i mm and %i mm", (place, x, y) => {
    const at = placeLocator(built, on(place))(place)!;
    expect([toNumber(at.xMm!), toNumber(at.yMm!)]).toEqual([x, y]);
  });
  it("what is there no times has no row", () =>
    expect(listRows(built, { contents: on("seat", 0) }).map(({ item }) => item)).toEqual(["base"]));
});
