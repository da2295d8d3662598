/** Danger weights: worked examples, and agreement with trying every weight. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Range } from "../../../src/schema/collection.ts";
import { MASS_PER_KG, MASS_PER_LB } from "../../../src/schema/units.ts";
import { compare, fraction, type Rational } from "../../../src/domain/numbers/rational.ts";
import {
  type BandRow,
  exchangedDigits,
  findDangers,
  isWithin,
  otherReadings,
  type Danger,
  type SlipKind,
  type ToldWeight,
} from "../../../src/domain/bands/slips.ts";

const grams = (value: number): bigint => (BigInt(value) * MASS_PER_KG) / 1000n;
const range = (from: number | undefined, to: number | undefined): Range => ({
  ...(from === undefined ? {} : { from: { value: grams(from), owned: true, text: `${from / 1000} kg` } }),
  ...(to === undefined ? {} : { to: { value: grams(to), owned: false, text: `${to / 1000} kg` } }),
  text: "a band",
});
/** Pod under 6 kg, child restraint from 6 kg to under 45 kg, harness from 45 kg. */
const table = [
  { id: "pod", weight: range(undefined, 6000) },
  { id: "restraint", weight: range(6000, 45000) },
  { id: "harness", weight: range(45000, undefined) },
];
const kg = ({ value: { n, d } }: Danger["from"]): number => Number((n * 10000n) / (d * MASS_PER_KG)) / 10000;
const stretches = (slip: SlipKind) =>
  findDangers(table)
    .filter((danger) => danger.slip === slip)
    .map((danger) => [kg(danger.from), kg(danger.to), danger.right[0], danger.taken[0]]);

// Figures for a 6/45 kg table: calculated for this project from 1 lb = 0.45359237 kg exactly (NIST SP 811, appendix
// B.8).
describe("danger weights of a table with ends at 6 and 45 kg (worked examples, calculated for this project)", () => {
  it(
    "takes 2.72 to under 6 kg and 20.4 to under 45 kg to a heavier arrangement when pounds are read as " + "kilograms",
    () => {
      expect(stretches("pounds-as-kilograms")).toEqual([
        [2.7215, 6, "pod", "restraint"],
        [20.4116, 45, "restraint", "harness"],
      ]);
    },
  );
  it("takes 6 to 13.2 kg and 45 to 99.2 kg to a lighter one when kilograms are read as pounds", () => {
    expect(stretches("kilograms-as-pounds")).toEqual([
      [6, 13.2277, "restraint", "pod"],
      [45, 99.208, "harness", "restraint"],
    ]);
  });
  it(
    "takes every weight from 0.6 kg up to under 45 kg elsewhere when read as ten times, and every one from 6 to " +
      "under 450 kg as a tenth",
    () => {
      expect(stretches("ten-times")).toEqual([
        [0.6, 4.5, "pod", "restraint"],
        [4.5, 6, "pod", "harness"],
        [6, 45, "restraint", "harness"],
      ]);
      expect(stretches("a-tenth")).toEqual([
        [6, 45, "restraint", "pod"],
        [45, 60, "harness", "pod"],
        [60, 450, "harness", "restraint"],
      ]);
    },
  );
  it("cannot tell 5.45 to 6.67 kg and 40.9 to 50.0 kg apart by an estimate within a tenth", () => {
    expect(stretches("estimate")).toEqual([
      [5.4545, 6, "pod", "restraint"],
      [6, 6.6666, "restraint", "pod"],
      [40.909, 45, "restraint", "harness"],
      [45, 50, "harness", "restraint"],
    ]);
  });
  it("rounds 5.5 to under 6 kg and 44.5 to under 45 kg up into the next band", () => {
    expect(stretches("rounded")).toEqual([
      [5.5, 6, "pod", "restraint"],
      [44.5, 45, "restraint", "harness"],
    ]);
  });
});

/** Grams in fives and tens, so that what a slip makes of them is exact more often. */
const tenGrams = fc.integer({ min: 60, max: 12_000 }).map((n) => n * 5);
/**
 * Rows with ends of either kind that may overlap, leave gaps, hold a single weight, or have no end; several rows may
 * share a weight, as those of different ages do.
 */
const anyRows = fc
  .array(
    fc.record({
      a: fc.option(fc.oneof(fc.integer({ min: 300, max: 150_000 }), tenGrams), { nil: undefined }),
      width: fc.option(fc.oneof(fc.integer({ min: 0, max: 2000 }), fc.integer({ min: 0, max: 90_000 }), tenGrams), {
        nil: undefined,
      }),
      owned: fc.tuple(fc.boolean(), fc.boolean()),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map((rows) =>
    rows.map(({ a, width, owned }, at): BandRow => ({
      id: `row-${at}`,
      weight: {
        text: "a band",
        ...(a === undefined ? {} : { from: { value: grams(a), owned: owned[0] || width === 0, text: "an end" } }),
        ...(width === undefined
          ? {}
          : {
              to: {
                value: grams((a ?? 0) + width + (a === undefined ? 1 : 0)),
                owned: owned[1] || width === 0,
                text: "an end",
              },
            }),
      },
    })),
  );
/** Rows whose ends are ten times those of others, so that a slip takes ends exactly on to ends. */
const tenfoldRows = fc
  .array(
    fc.record({
      from: fc.constantFrom(undefined, 300, 400, 3000, 4000, 30_000),
      to: fc.constantFrom(undefined, 400, 3000, 4000, 30_000, 40_000),
      owned: fc.tuple(fc.boolean(), fc.boolean()),
    }),
    { minLength: 2, maxLength: 5 },
  )
  .map((rows) =>
    rows
      .filter(({ from = 0, to = Infinity }) => from < to)
      .map(({ from, to, owned }, at): BandRow => ({
        id: `row-${at}`,
        weight: {
          text: "a band",
          ...(from === undefined ? {} : { from: { value: grams(from), owned: owned[0], text: "an end" } }),
          ...(to === undefined ? {} : { to: { value: grams(to), owned: owned[1], text: "an end" } }),
        },
      })),
  );
/** A table without gaps, each row from one end to under the next. */
const tables = fc.uniqueArray(fc.integer({ min: 300, max: 150_000 }), { minLength: 1, maxLength: 5 }).map((ends) => {
  const sorted = [undefined, ...ends.sort((a, b) => a - b), undefined];
  return sorted.slice(1).map((to, at): BandRow => ({ id: `row-${at}`, weight: range(sorted[at], to) }));
});
/**
 * What is right at n/d, asked of each row by itself: ends multiplied by d instead of the value divided. Nothing weighs
 * less than nothing.
 */
const idsAt = (rows: readonly BandRow[], n: bigint, d = 1n): string[] =>
  n < 0n
    ? []
    : rows
        .filter(
          ({ weight: { from, to } }) =>
            (!from || n > from.value * d || (from.owned && n === from.value * d)) &&
            (!to || n < to.value * d || (to.owned && n === to.value * d)),
        )
        .map(({ id }) => id);
const endsOf = (rows: readonly BandRow[]): bigint[] =>
  rows.flatMap(({ weight: { from, to } }) => [from, to].flatMap((end) => (end ? [end.value] : [])));
/**
 * Which other arrangements are right somewhere from one weight to another (n/d each), asked at every end between and
 * just beside it.
 */
function otherIds(
  rows: readonly BandRow[],
  from: [bigint, bigint],
  to: [bigint, bigint],
  isOwned: boolean,
  now: readonly string[],
): string[] {
  const beside = endsOf(rows).flatMap(
    (end) =>
      [
        [end * 2n - 1n, 2n],
        [end, 1n],
        [end * 2n + 1n, 2n],
      ] as [bigint, bigint][],
  );
  const asked = [
    from,
    ...(isOwned ? [to] : []),
    ...beside.filter(([n, d]) => n * from[1] >= from[0] * d && n * to[1] < to[0] * d),
  ];
  return [
    ...new Set(
      asked
        .map(([n, d]) => idsAt(rows, n, d))
        .filter((ids) => ids.length > 0 && !ids.some((id) => now.includes(id)))
        .map((ids) => ids.join("+")),
    ),
  ].sort();
}
/** A weight at, beside or far from an end, or where a slip takes one to an end or to a half kilogram. */
const someWeight = (rows: readonly BandRow[]) => {
  const kilograms = endsOf(rows).flatMap((end) => [0n, 1n].map((n) => (end / MASS_PER_KG + n) * MASS_PER_KG));
  const near = [
    ...endsOf(rows).flatMap((end) =>
      [
        [1n, 1n],
        [10n, 1n],
        [1n, 10n],
        [45_359_237n, 100_000_000n],
        [100_000_000n, 45_359_237n],
        [10n, 11n],
        [10n, 9n],
        [11n, 10n],
        [9n, 10n],
      ].map(([n, d]) => (end * n!) / d!),
    ),
    ...kilograms.flatMap((whole) => [whole, whole - MASS_PER_KG / 2n, whole + MASS_PER_KG / 2n]),
  ];
  return fc.oneof(
    fc.integer({ min: 1, max: 200_000 }).map(grams),
    ...(near.length > 0
      ? [
          {
            weight: 5,
            arbitrary: fc
              .tuple(fc.constantFrom(...near), fc.constantFrom(-1n, 0n, 1n))
              .map(([weight, by]) => (weight + by > 0n ? weight + by : 1n)),
          },
        ]
      : []),
  );
};

describe("danger weights of any table", () => {
  const read: Partial<Record<SlipKind, (mass: bigint) => [bigint, bigint]>> = {
    "pounds-as-kilograms": (mass) => [mass * 100_000_000n, 45_359_237n],
    "kilograms-as-pounds": (mass) => [mass * 45_359_237n, 100_000_000n],
    "ten-times": (mass) => [mass * 10n, 1n],
    "a-tenth": (mass) => [mass, 10n],
    rounded: (mass) => [((mass + MASS_PER_KG / 2n) / MASS_PER_KG) * MASS_PER_KG, 1n],
  };
  it.each([
    ["a table without gaps", tables],
    ["rows that overlap, leave gaps and own either end", anyRows],
    ["rows with ends ten times those of others", tenfoldRows],
  ])("are those weights, and only those, that the slip puts into another row: %s", (_, rows) => {
    const ends = [300, 400, 3000, 4000, 30_000, 40_000].map(grams);
    fc.assert(
      fc.property(
        rows.chain((made) =>
          fc.tuple(
            fc.constant(made),
            someWeight(made).chain((one) => fc.constantFrom(one, ...(rows === tenfoldRows ? ends : []))),
          ),
        ),
        ([made, mass]) => {
          const truth = idsAt(made, mass),
            dangers = findDangers(made);
          const listed = (slip: string) =>
            dangers
              .filter((danger) => danger.slip === slip && isWithin(fraction(mass), danger.from, danger.to))
              .map(({ right, taken }) => [right.join("+"), taken.join("+")]);
          for (const [slip, reading] of Object.entries(read)) {
            const taken = idsAt(made, ...reading(mass));
            expect([slip, listed(slip)]).toEqual([
              slip,
              truth.length > 0 && taken.length > 0 && !taken.some((id) => truth.includes(id))
                ? [[truth.join("+"), taken.join("+")]]
                : [],
            ]);
          }
          const others = truth.length > 0 ? otherIds(made, [mass * 9n, 10n], [mass * 11n, 10n], true, truth) : [];
          expect([...new Set(listed("estimate").map(([, taken]) => taken))].sort()).toEqual(others);
          expect(listed("estimate").every(([right]) => right === truth.join("+"))).toBe(true);
          const lengths = dangers.map(
            ({ from, to }) => compare(from.value, to.value) || (from.owned && to.owned ? -1 : 1),
          );
          expect(lengths.every((sign) => sign < 0)).toBe(true);
        },
      ),
      { numRuns: 600 },
    );
  });
});

describe("other readings of any told weight", () => {
  const per: Record<ToldWeight["unit"], bigint> = {
    kg: MASS_PER_KG,
    g: MASS_PER_KG / 1000n,
    lb: (MASS_PER_KG * 45_359_237n) / 100_000_000n,
  };
  const anyTold = fc.record({
    digits: fc.bigInt({ min: 0n, max: 1500n }),
    decimals: fc.integer({ min: 0, max: 2 }),
    unit: fc.constantFrom("kg" as const, "lb" as const, "g" as const),
  });
  /** Also weights whose rounding or estimate ends exactly where a row does. */
  const toldFor = (rows: readonly BandRow[]): fc.Arbitrary<ToldWeight> => {
    const ends = endsOf(rows).map((end) => (end * 1000n) / MASS_PER_KG);
    const exact = ends.flatMap((g): ToldWeight[] => [
      ...[g - 5n, g, g + 5n]
        .filter((each) => each >= 0n && each % 10n === 0n)
        .map((each) => ({ digits: each / 10n, decimals: 2, unit: "kg" as const })),
      ...[g * 9n, g * 11n]
        .filter((each) => each % 10n === 0n)
        .map((each) => ({ digits: each / 10n, decimals: 0, unit: "g" as const })),
    ]);
    return exact.length > 0 ? fc.oneof(anyTold, { weight: 3, arbitrary: fc.constantFrom(...exact) }) : anyTold;
  };
  it(
    "are what is right for the weight that the slip hides, where that shares nothing with what is right for the " +
      "told one",
    () => {
      fc.assert(
        fc.property(
          fc.oneof(tables, anyRows, tenfoldRows).chain((rows) => fc.tuple(fc.constant(rows), toldFor(rows))),
          fc.boolean(),
          ([rows, weight], isEstimate) => {
            const n = weight.digits * per[weight.unit],
              d = 10n ** BigInt(weight.decimals),
              now = idsAt(rows, n, d);
            const readings = otherReadings(rows, weight, isEstimate);
            const points: [SlipKind, bigint, bigint][] = [
              ...(weight.unit === "kg"
                ? [["pounds-as-kilograms", weight.digits * per.lb, d] as [SlipKind, bigint, bigint]]
                : []),
              ...(weight.unit === "lb"
                ? [["kilograms-as-pounds", weight.digits * per.kg, d] as [SlipKind, bigint, bigint]]
                : []),
              ["ten-times", n, d * 10n],
              ["a-tenth", n * 10n, d],
            ];
            for (const slip of ["pounds-as-kilograms", "kilograms-as-pounds", "ten-times", "a-tenth"]) {
              const [point] = points.filter(([kind]) => kind === slip),
                ids = point ? idsAt(rows, point[1], point[2]) : [];
              const found = readings.filter((reading) => reading.slip === slip);
              expect([slip, found.map((reading) => reading.ids)]).toEqual([
                slip,
                ids.length > 0 && !ids.some((id) => now.includes(id)) ? [ids] : [],
              ]);
              for (const { from, to } of found)
                expect([compare(from, fraction(point![1], point![2])), compare(from, to)]).toEqual([0, 0]);
            }
            const half = per[weight.unit];
            const spreads: [SlipKind, [bigint, bigint], [bigint, bigint], boolean][] = [
              ["rounded", [n * 2n - half, d * 2n], [n * 2n + half, d * 2n], false],
              ["estimate", [n * 10n, d * 11n], [n * 10n, d * 9n], true],
            ];
            for (const [slip, from, to, isOwned] of spreads) {
              const found = readings.filter((reading) => reading.slip === slip);
              expect([slip, [...new Set(found.map(({ ids }) => ids.join("+")))].sort()]).toEqual([
                slip,
                slip === "estimate" && !isEstimate ? [] : otherIds(rows, from, to, isOwned, now),
              ]);
              for (const reading of found) {
                // Its stretch begins and ends where the spread does or at an end of a row, and between these the
                // arrangements are its own.
                const isEnd = (value: Rational, spread: [bigint, bigint]) =>
                  [fraction(...spread), fraction(0n), ...endsOf(rows).map((end) => fraction(end))].some(
                    (end) => compare(end, value) === 0,
                  );
                expect(isEnd(reading.from, from) && isEnd(reading.to, to)).toBe(true);
                expect(
                  idsAt(
                    rows,
                    reading.from.n * reading.to.d + reading.to.n * reading.from.d,
                    2n * reading.from.d * reading.to.d,
                  ),
                ).toEqual(reading.ids);
              }
            }
          },
        ),
        { numRuns: 1200 },
      );
    },
  );
});

describe("other readings of a told weight", () => {
  const told = (digits: number, decimals: number, unit: ToldWeight["unit"]): ToldWeight => ({
    digits: BigInt(digits),
    decimals,
    unit,
  });
  it("takes 7.2 kg for 3.27 kg (pounds) and for 72 kg (a tenth)", () => {
    expect(otherReadings(table, told(72, 1, "kg")).map(({ slip, ids }) => [slip, ids[0]])).toEqual([
      ["pounds-as-kilograms", "pod"],
      ["ten-times", "pod"],
      ["a-tenth", "harness"],
    ]);
  });
  it("has two neighbours change places, on one side of the point (Verhoeff 1969, from memory)", () => {
    const exchanged = (digits: number, decimals: number) => exchangedDigits(told(digits, decimals, "kg")).map(Number);
    expect(exchanged(412, 1)).toEqual([142]);
    expect(exchanged(33, 0)).toEqual([]);
    // Nobody says 04 for 4.
    expect(exchanged(40, 0)).toEqual([]);
    expect(exchanged(4, 1)).toEqual([]);
    expect(exchanged(10025, 3)).toEqual([10205, 10052]);
  });
  it("asks of 14.2 kg whether it was 41.2 kg only where that is another arrangement", () => {
    const rows = [
      { id: "light", weight: range(undefined, 20000) },
      { id: "heavy", weight: range(20000, undefined) },
    ];
    const heavy = fraction(412n * MASS_PER_KG, 10n);
    const found = otherReadings(rows, told(142, 1, "kg")).filter(({ slip }) => slip === "digits-exchanged");
    expect(found.map(({ ids }) => ids)).toEqual([["heavy"]]);
    expect(compare(found[0]!.from, heavy)).toBe(0);
    const same = otherReadings(rows, told(112, 1, "kg")).filter(({ slip }) => slip === "digits-exchanged");
    expect(same).toEqual([]);
  });
  it("asks about rounding at 6 kg but not at 6.2 kg", () => {
    expect(otherReadings(table, told(6, 0, "kg")).some(({ slip }) => slip === "rounded")).toBe(true);
    expect(otherReadings(table, told(62, 1, "kg")).some(({ slip }) => slip === "rounded")).toBe(false);
  });
  it("has the pound exactly (NIST SP 811, appendix B.8)", () => {
    const [pounds] = otherReadings(table, told(10, 0, "kg"));
    expect(pounds!.slip).toBe("pounds-as-kilograms");
    expect(compare(pounds!.from, fraction(10n * MASS_PER_LB))).toBe(0);
  });
  it("asks about an estimate only when it is one", () => {
    expect(otherReadings(table, told(64, 1, "kg"), true).some(({ slip }) => slip === "estimate")).toBe(true);
    expect(otherReadings(table, told(64, 1, "kg")).some(({ slip }) => slip === "estimate")).toBe(false);
    expect(otherReadings(table, told(68, 1, "kg"), true).some(({ slip }) => slip === "estimate")).toBe(false);
  });
});
