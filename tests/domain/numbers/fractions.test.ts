/** Exact fractions: the laws of arithmetic, by multiplying out. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ceilOf,
  compareFractions,
  dividedBy,
  floorOf,
  fraction,
  times,
} from "../../../src/domain/numbers/fractions.ts";

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
        expect(compareFractions(a, b)).toBe(n * e === m * d ? 0 : Math.sign(apart));
        expect(compareFractions(times(a, b), fraction(n * m, d * e))).toBe(0);
        if (m !== 0n) expect(compareFractions(times(dividedBy(a, b), b), a)).toBe(0);
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
