/** Bands against published interval notation and against trying every gram. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  covers,
  findGaps,
  formatDecimal,
  formatKg,
  holds,
  holdsPatient,
  isEmptyRange,
  kgOf,
  meet,
  meetBands,
  sayRange,
  valueIn,
  wordRange,
} from "../../../src/domain/bands/bands.ts";
import { elementaryBands } from "../../../src/domain/bands/patients.ts";
import type { Band, Range } from "../../../src/schema/collection.ts";
import { MASS_PER_KG, MASS_PER_LB } from "../../../src/schema/units.ts";
import { anyone, grams, range } from "../../arbitraries/platform.ts";

const kg = (from: number, fromOwned: boolean, to: number, toOwned: boolean): Range =>
  range(grams(from * 1000, fromOwned), grams(to * 1000, toOwned));
const band = (weight: Range): Band => ({ ...anyone, weight });

describe("interval notation of ISO 80000-2:2019 (from memory)", () => {
  it("[a, b] owns both ends, ]a, b[ neither, [a, b[ and ]a, b] one", () => {
    const ends = (each: Range) => [holds(each, grams(2000, true).value), holds(each, grams(5000, true).value)];
    expect(ends(kg(2, true, 5, true))).toEqual([true, true]);
    expect(ends(kg(2, false, 5, false))).toEqual([false, false]);
    expect(ends(kg(2, true, 5, false))).toEqual([true, false]);
    expect(ends(kg(2, false, 5, true))).toEqual([false, true]);
  });
  it("[2, 5[ with [5, 10[ leaves nothing out and owns nothing twice", () => {
    expect(findGaps(band(kg(2, true, 10, false)), [band(kg(2, true, 5, false)), band(kg(5, true, 10, false))])).toEqual(
      [],
    );
    expect(meet(kg(2, true, 5, false), kg(5, true, 10, false))).toBeUndefined();
  });
  it("[2, 5[ with ]5, 10[ leaves out exactly 5", () => {
    const gaps = findGaps(band(kg(2, true, 10, false)), [band(kg(2, true, 5, false)), band(kg(5, false, 10, false))]);
    expect(gaps).toHaveLength(1);
    expect([4999, 5000, 5001].map((gram) => holds(gaps[0]!.weight, grams(gram, true).value))).toEqual([
      false,
      true,
      false,
    ]);
  });
  it("[2, 5] with [5, 10[ owns exactly 5 twice", () => {
    const both = meet(kg(2, true, 5, true), kg(5, true, 10, false))!;
    expect([4999, 5000, 5001].map((gram) => holds(both, grams(gram, true).value))).toEqual([false, true, false]);
  });
  it("[2, 4.9] with [5, 10] leaves out what lies between 4.9 and 5, both not included", () => {
    const gaps = findGaps(band(kg(2, true, 10, true)), [
      band(range(grams(2000, true), grams(4900, true))),
      band(kg(5, true, 10, true)),
    ]);
    expect(gaps).toHaveLength(1);
    expect([4900, 4901, 4999, 5000].map((gram) => holds(gaps[0]!.weight, grams(gram, true).value))).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });
  it("]a, a], [a, a[ and [b, a] with a < b are empty; [a, a] is not", () => {
    expect(
      [kg(5, false, 5, true), kg(5, true, 5, false), kg(6, true, 5, true), kg(5, true, 5, true)].map(isEmptyRange),
    ).toEqual([true, true, true, false]);
  });
});

describe("the exact pound, 0.45359237 kg (NIST SP 811, appendix B.8)", () => {
  it("makes 11 lb 4.98951607 kg and 170 lb 77.1107029 kg, without rounding", () => {
    expect(formatKg(11n * MASS_PER_LB)).toBe("4.98951607 kg");
    expect(formatKg(170n * MASS_PER_LB)).toBe("77.1107029 kg");
  });
  it("puts 11 lb below a band that begins at 5 kg, and 11.0231131 lb too", () => {
    const from5 = range(grams(5000, true), undefined);
    expect(holds(from5, 11n * MASS_PER_LB)).toBe(false);
    expect(holds(from5, (110_231_131n * MASS_PER_LB) / 10_000_000n)).toBe(false);
    expect(holds(from5, (110_231_132n * MASS_PER_LB) / 10_000_000n)).toBe(true);
  });
  it("gives kilograms as the nearest double", () => expect(kgOf((72n * MASS_PER_KG) / 10n)).toBe(7.2));
});

describe("gaps and overlaps agree with asking every gram", () => {
  const end = fc
    .record({ at: fc.integer({ min: 0, max: 60 }), owned: fc.boolean() })
    .map(({ at, owned }) => grams(at, owned));
  const someRange = fc
    .tuple(fc.option(end, { nil: undefined }), fc.option(end, { nil: undefined }))
    .map(([from, to]) => range(from, to));
  // half grams, so that open ends show
  const everyGram = Array.from({ length: 130 }, (_, at) => BigInt(at) * (MASS_PER_KG / 2000n));

  it("over weight", () => {
    fc.assert(
      fc.property(someRange, fc.array(someRange, { maxLength: 5 }), (whole, bands) => {
        const gaps = findGaps(band(whole), bands.map(band));
        for (const value of everyGram) {
          const expected = holds(whole, value) && !bands.some((each) => holds(each, value));
          expect(gaps.filter((gap) => holds(gap.weight, value)).length).toBe(expected ? 1 : 0);
        }
      }),
      { numRuns: 400 },
    );
  });
  it("over weight and age", () => {
    const someBand = fc.record({ weight: someRange, age: someRange });
    const few = everyGram.filter((_, at) => at % 5 === 0);
    fc.assert(
      fc.property(someBand, fc.array(someBand, { maxLength: 4 }), (whole, bands) => {
        const gaps = findGaps(whole, bands);
        for (const weight of few)
          for (const age of few) {
            const inside = (each: Band) => holds(each.weight, weight) && holds(each.age, age);
            expect(gaps.filter(inside).length).toBe(inside(whole) && !bands.some(inside) ? 1 : 0);
          }
      }),
      { numRuns: 150 },
    );
  });
  it("where two bands meet, and where one covers another", () => {
    fc.assert(
      fc.property(someRange, someRange, (a, b) => {
        const both = meet(a, b);
        const values = [...everyGram, ...[a.from, a.to, b.from, b.to].flatMap((each) => (each ? [each.value] : []))];
        for (const value of values) expect(both ? holds(both, value) : false).toBe(holds(a, value) && holds(b, value));
        if (covers(a, b)) for (const value of values) if (holds(b, value)) expect(holds(a, value)).toBe(true);
      }),
    );
  });
  it("elementary bands hold every gram of the whole once, and each band is whole or absent in them", () => {
    fc.assert(
      fc.property(someRange, fc.array(someRange, { maxLength: 4 }), (whole, bands) => {
        const cells = elementaryBands(band(whole), bands.map(band));
        for (const value of everyGram)
          expect(cells.filter((cell) => holds(cell.band.weight, value)).length).toBe(holds(whole, value) ? 1 : 0);
        for (const cell of cells) {
          expect(holds(cell.band.weight, cell.patient.weight!)).toBe(true);
          for (const each of bands)
            expect(meetBands(cell.band, band(each)) !== undefined).toBe(covers(each, cell.band.weight));
        }
      }),
    );
  });
});

describe("what a change of one sign in bands.ts would break (invented cases)", () => {
  const child: Band = { weight: kg(2, true, 5, false), age: kg(1, true, 3, false) };
  const value = (gram: number) => grams(gram, true).value;
  it.each([
    ["both known and both in it", { weight: value(3000), age: value(2000) }, true],
    ["a weight that is not", { weight: value(6000), age: value(2000) }, false],
    ["an age that is not", { weight: value(3000), age: value(4000) }, false],
    ["only a weight, in it", { weight: value(3000) }, true],
    ["only a weight, not in it", { weight: value(6000) }, false],
    ["only an age, in it", { age: value(2000) }, true],
    ["only an age, not in it", { age: value(4000) }, false],
    ["nothing known", {}, true],
  ])("a band and a patient with %s", (_, patient, held) => expect(holdsPatient(child, patient)).toBe(held));
  it("bands that share weights but no ages, or ages but no weights, have nobody in both", () => {
    expect(meetBands(child, { ...child, age: kg(3, true, 9, false) })).toBeUndefined();
    expect(meetBands(child, { ...child, weight: kg(5, true, 9, false) })).toBeUndefined();
  });
  it("what is in a range and in a wider one is that range, in the author's words", () => {
    const inner = kg(3, true, 4, true);
    expect(meet(inner, kg(2, true, 5, true))).toBe(inner);
    expect(meet(kg(2, true, 5, true), inner)).toBe(inner);
  });
  it.each([
    [grams(2, true), grams(5, true), "from 2 g up to 5 g"],
    [grams(2, false), grams(5, false), "over 2 g to under 5 g"],
    [undefined, grams(5, true), "up to 5 g"],
    [undefined, grams(5, false), "under 5 g"],
    [grams(2, true), undefined, "from 2 g"],
    [grams(2, false), undefined, "over 2 g"],
    [undefined, undefined, "any weight"],
  ])("ends are worded as the file format has them, case %#", (from, to, text) =>
    expect(wordRange(from, to, "any weight").text).toBe(text),
  );
  it("the value taken to stand for a range is in it, also when only one is", () => {
    const [low, next] = [grams(2, false), { ...grams(2, true), value: grams(2, true).value + 1n }];
    expect(holds(range(low, next), valueIn(range(low, next)))).toBe(true);
    expect(valueIn(range({ ...low, owned: true }, next))).toBe(low.value);
  });
  it("keeps gaps apart whose ages end at the same value, one with it and one without it", () => {
    const whole: Band = { weight: kg(0, true, 2, false), age: kg(0, true, 9, true) };
    const gaps = findGaps(whole, [
      { weight: kg(0, true, 1, false), age: kg(5, true, 9, true) },
      { weight: kg(1, true, 2, false), age: kg(5, false, 9, true) },
    ]);
    expect(gaps.map(({ age }) => [age.to!.value === value(5000), age.to!.owned])).toEqual([
      [true, false],
      [true, true],
    ]);
  });
  it("joins neighbouring weights with the same missing ages, and ages that touch, into the fewest gaps", () => {
    const whole: Band = { weight: kg(0, true, 3, false), age: kg(0, true, 9, true) };
    const old = (from: number, to: number): Band => ({ weight: kg(from, true, to, false), age: kg(5, true, 9, true) });
    expect(findGaps(whole, [old(0, 1), old(1, 2), old(2, 3)])).toHaveLength(1);
    // Cuts of the ages at 1, 2 and 3 for other weights must not divide what is missing between 2 and 3 kg.
    const cut = (at: number): Band => ({ weight: kg(0, true, 2, false), age: kg(0, true, at, false) });
    expect(
      findGaps(whole, [{ ...cut(9), age: whole.age }, cut(1), cut(2), cut(3)]).map(({ weight, age }) => [
        weight.text,
        age.text,
      ]),
    ).toEqual([["from 2000 g to under 3000 g", "from 0 g up to 9000 g"]]);
    // Two stretches of missing ages, the second cut by a band that owns less of the weights.
    const gaps = findGaps({ ...whole, weight: kg(0, true, 1, false) }, [
      { weight: kg(0, true, 1, false), age: kg(1, true, 2, false) },
      { weight: kg(0, true, 1, false), age: kg(3, true, 4, false) },
    ]);
    expect(gaps.map(({ age }) => age.text)).toEqual([
      "from 0 g to under 1000 g",
      "from 2000 g to under 3000 g",
      "from 4000 g up to 9000 g",
    ]);
  });
  it("says a single value as exactly that one", () => {
    expect(sayRange(kg(5, true, 5, true))).toBe("exactly 5000 g");
    expect(sayRange(kg(5, true, 6, true))).toBe("from 5000 g up to 6000 g");
  });
  it.each([
    [5n, "0.05"],
    [0n, "0"],
    [200n, "2"],
    [210n, "2.1"],
    [-5n, "-0.05"],
    [-200n, "-2"],
  ])("hundredths are written as decimals, case %#", (hundredths, text) =>
    expect(formatDecimal(hundredths, 100n)).toBe(text),
  );
});
