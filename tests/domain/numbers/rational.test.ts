/** Exact fractions: worked examples, and the laws of arithmetic. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ceilOf,
  compare,
  exactly,
  floorOf,
  fraction,
  isDecimal,
  minus,
  over,
  sum,
  times,
  toNumber,
  toText,
  ZERO,
} from "../../../src/domain/numbers/rational.ts";

const anyFraction = fc
  .record({ n: fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), d: fc.bigInt({ min: 1n, max: 10n ** 9n }) })
  .map(({ n, d }) => fraction(n, d));

describe("fraction", () => {
  it("is in lowest terms with a denominator above 0", () => {
    expect([fraction(6n, 4n), fraction(6n, -4n), fraction(-6n, -4n), fraction(0n, -5n), fraction(7n)]).toEqual([
      { n: 3n, d: 2n },
      { n: -3n, d: 2n },
      { n: 3n, d: 2n },
      ZERO,
      { n: 7n, d: 1n },
    ]);
  });

  it("refuses 0 below the line", () => {
    expect(() => fraction(1n, 0n)).toThrow(RangeError);
    expect(() => over(fraction(1n), ZERO)).toThrow(RangeError);
  });
});

describe("exactly", () => {
  it.each([
    [0, 0n, 1n],
    [-0.05, -1n, 20n],
    [0.1, 1n, 10n],
    [12, 12n, 1n],
    [1e-7, 1n, 10_000_000n],
    [1.5e-10, 3n, 20_000_000_000n],
    [2.5e22, 25n * 10n ** 21n, 1n],
    [0.45359237, 45_359_237n, 100_000_000n],
  ])("reads %d as the decimal it is written as", (value, n, d) => {
    expect(exactly(value)).toEqual({ n, d });
  });

  it.each([NaN, Infinity, -Infinity])("refuses %d", (value) => {
    expect(() => exactly(value)).toThrow(RangeError);
  });

  it("comes back as the same number", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 }), (value) => {
        fc.pre(value === 0 || Math.abs(value) > 1e-9);
        expect(toNumber(exactly(value))).toBe(value === 0 ? 0 : value);
      }),
    );
  });
});

describe("arithmetic", () => {
  it("has 0.1 + 0.2 = 0.3, 1/3 · 3 = 1, 0.3 - 0.1 = 0.2 and 1 / 8 = 0.125", () => {
    expect(sum(exactly(0.1), exactly(0.2))).toEqual(exactly(0.3));
    expect(times(fraction(1n, 3n), fraction(3n))).toEqual(fraction(1n));
    expect(minus(exactly(0.3), exactly(0.1))).toEqual(exactly(0.2));
    expect(over(fraction(1n), fraction(8n))).toEqual(exactly(0.125));
    expect([sum(), times()]).toEqual([ZERO, fraction(1n)]);
  });

  it("keeps the laws of a field and of an order", () => {
    fc.assert(
      fc.property(anyFraction, anyFraction, anyFraction, (a, b, c) => {
        expect(times(a, sum(b, c))).toEqual(sum(times(a, b), times(a, c)));
        expect(minus(sum(a, b), b)).toEqual(a);
        if (b.n !== 0n) expect(over(times(a, b), b)).toEqual(a);
        expect(Math.sign(compare(a, b))).toBe(Math.sign(compare(minus(a, b), ZERO)));
        expect(compare(a, b)).toBe(-compare(b, a) || 0);
        expect(compare(a, a)).toBe(0);
      }),
    );
  });
});

describe("toNumber", () => {
  it.each([
    [1n, 3n, 1 / 3],
    [-2n, 3n, -2 / 3],
    [10n ** 30n, 1n, 1e30],
    [1n, 10n ** 30n, 1e-30],
    [123_456_789n, 1000n, 123_456.789],
    [0n, 1n, 0],
  ])("of %d/%d is the nearest number", (n, d, value) => {
    expect(toNumber(fraction(n, d))).toBe(value);
  });
});

describe("toText", () => {
  it.each([
    [exactly(12.345), 2, "12.35"],
    [exactly(-12.345), 2, "-12.35"],
    [exactly(12.3449), 2, "12.34"],
    [exactly(12), 3, "12"],
    [exactly(0.5), 0, "1"],
    [exactly(0.49), 0, "0"],
    [exactly(-0.001), 2, "0"],
    [exactly(1.05), 1, "1.1"],
    [fraction(2n, 3n), 4, "0.6667"],
    [exactly(10.07), 2, "10.07"],
    [exactly(100), 0, "100"],
  ])("rounds half away from zero and drops closing zeros (case %#)", (value, places, text) => {
    expect(toText(value, places)).toBe(text);
  });

  it(
    "is the nearest decimal of so many places, the same for a value below 0 but for its sign, and exact where " +
      "the value is such a decimal",
    () => {
      const written = (text: string, places: number) =>
        fraction(
          BigInt(text.replace(".", "")) * 10n ** BigInt(places - (text.split(".")[1]?.length ?? 0)),
          10n ** BigInt(places),
        );
      fc.assert(
        fc.property(
          fc.bigInt({ min: -300n, max: 300n }),
          fc.bigInt({ min: 1n, max: 2000n }),
          fc.integer({ min: 0, max: 4 }),
          (n, d, places) => {
            const value = fraction(n, d),
              text = toText(value, places);
            expect(text).toMatch(/^-?\d+(\.\d*[1-9])?$/);
            const off = minus(written(text, places), value);
            expect(
              compare(fraction(off.n < 0n ? -off.n : off.n, off.d), fraction(1n, 2n * 10n ** BigInt(places))),
            ).toBeLessThanOrEqual(0);
            expect(compare(written(text, places), value) === 0).toBe(isDecimal(value, places));
            expect(toText(fraction(-n, d), places)).toBe(text === "0" ? "0" : n < 0n ? text.slice(1) : `-${text}`);
          },
        ),
      );
    },
  );
});

describe("isDecimal", () => {
  it.each([
    [exactly(0.125), 3, true],
    [exactly(0.125), 2, false],
    [fraction(1n, 3n), 20, false],
    [fraction(5n), 0, true],
  ])("tells whether the text is exact (case %#)", (value, places, is) => {
    expect(isDecimal(value, places)).toBe(is);
  });
});

const whole = fc.bigInt({ min: -40n, max: 40n }),
  part = whole.filter((d) => d !== 0n);

describe("fractions of whole numbers", () => {
  it("have a denominator above 0 and the value that was asked for", () => {
    fc.assert(
      fc.property(whole, part, (n, d) => {
        const made = fraction(n, d);
        expect([made.d > 0n, made.n * d === n * made.d, fraction(n).d]).toEqual([true, true, 1n]);
      }),
    );
  });
  it("compare, multiply and divide as their numbers do", () => {
    fc.assert(
      fc.property(whole, part, whole, part, (n, d, m, e) => {
        const a = fraction(n, d),
          b = fraction(m, e),
          apart = Number(n) / Number(d) - Number(m) / Number(e);
        expect(compare(a, b)).toBe(n * e === m * d ? 0 : Math.sign(apart));
        expect(compare(times(a, b), fraction(n * m, d * e))).toBe(0);
        if (m !== 0n) expect(compare(times(over(a, b), b), a)).toBe(0);
      }),
    );
  });
  it("lie between the whole numbers below and above them, less than 1 away", () => {
    fc.assert(
      fc.property(whole, part, (n, d) => {
        const made = fraction(n, d),
          low = floorOf(made),
          high = ceilOf(made);
        expect([
          low * made.d <= made.n,
          (low + 1n) * made.d > made.n,
          high * made.d >= made.n,
          (high - 1n) * made.d < made.n,
        ]).toEqual([true, true, true, true]);
      }),
    );
  });
});
