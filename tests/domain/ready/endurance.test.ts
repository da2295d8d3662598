/** How long gas and batteries last, against published nominal contents and worked examples. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exactly, times } from "../../../src/domain/numbers/rational.ts";
import { enduranceOfBattery, enduranceOfGas } from "../../../src/domain/ready/endurance.ts";

describe("endurance of gas", () => {
  /**
   * Nominal contents as they are published. M6 164 l, M9 246 l, D 425 l, E 680 l (bassardnath.com, oxygen cylinder size
   * chart); 415 l at 12 l/min (reference.com, standard medical oxygen cylinder sizes, which prints 35 min: 34.6 rounded
   * up, and gas that is not there). CD 460 l, HX 2,300 l of the United Kingdom are from memory. The same letter means
   * other sizes elsewhere (D is 340 l there), which is why no letter is ever read.
   */
  it.each([
    ["M6", 164, 2, 82],
    ["M9", 246, 2, 123],
    ["D", 425, 10, 42],
    ["D", 415, 12, 34],
    ["CD", 460, 10, 46],
    ["CD", 460, 15, 30],
    ["E", 680, 15, 45],
    ["HX", 2300, 15, 153],
  ])(
    "of a full %s of %i l at %i l/min is %i min (nominal contents ÷ flow, rounded down)",
    (_, litres, flow, minutes) => {
      expect(enduranceOfGas(litres, 1, flow).minutes).toBe(minutes);
    },
  );

  /**
   * Worked examples that give gauge, residual and factor: what is left in litres is (gauge - residual) × factor. E,
   * 1,200 psi, residual 200, factor 0.28, 4 l/min: 70 min. D, 2,000 psi, residual 200, factor 0.16, 0.5 l/min: 288 l,
   * 576 min (AAOS text). M, 500 psi, no residual, factor 1.56, 6 l/min: 130 min (pamedic.org/node/6970). E, 2,000 psi,
   * residual 200, 10 l/min: 50.4 min. E, 2,200 psi, factor 0.28, 2 l/min: 308 min; H, 1,100 psi, factor 3, 5 l/min: 660
   * min (ehow.co.uk, how_7166423).
   */
  it.each([
    [1200, 200, 0.28, 4, 70],
    [2000, 200, 0.16, 0.5, 576],
    [500, 0, 1.56, 6, 130],
    [2000, 200, 0.28, 10, 50],
    [2200, 0, 0.28, 2, 308],
    [1100, 0, 3, 5, 660],
  ])("of %i psi, residual %i, factor %f, at %f l/min is %i min", (gauge, residual, factor, flow, minutes) => {
    const litres = ((gauge - residual) * Math.round(factor * 100)) / 100;
    expect(enduranceOfGas(litres, 1, flow).minutes).toBe(minutes);
  });

  it("is halved by a reserve of 2, with its arithmetic (by hand: 860 ÷ 5 = 172, half of it 86)", () => {
    expect(enduranceOfGas(430, 2, 5, 2)).toMatchObject({
      minutes: 86,
      arithmetic: "2 × 430 l = 860 l; 860 l ÷ 5 l/min = 172 min; 172 min ÷ 2 in reserve = 86 min",
    });
  });

  it("is rounded down, and says from what (by hand: 430 ÷ 15 = 28 2/3, half of it 14 1/3)", () => {
    expect(enduranceOfGas(430, 1, 15, 2)).toMatchObject({
      minutes: 14,
      arithmetic: "430 l ÷ 15 l/min = 28 2/3 min; 28 2/3 min ÷ 2 in reserve = 14 1/3 min; rounded down: 14 min",
    });
  });

  it("is exact where floating point is not: 0.3 l at 0.1 l/min is 3 min, not 2", () => {
    expect(0.3 / 0.1).toBeLessThan(3);
    expect(enduranceOfGas(0.3, 1, 0.1).minutes).toBe(3);
  });

  it("never promises more gas than there is, and never a whole minute less", () => {
    const milli = fc.integer({ min: 1, max: 5_000_000 }).map((thousandths) => thousandths / 1000);
    fc.assert(
      fc.property(
        milli,
        fc.integer({ min: 1, max: 9 }),
        milli,
        fc.constantFrom(1, 1.5, 2, 3),
        (litres, n, flow, keep) => {
          const { minutes } = enduranceOfGas(litres, n, flow, keep);
          // In whole thousandths, with big integers: a second way to the same comparison.
          const gas = BigInt(Math.round(litres * 1000)) * BigInt(n) * 10_000n,
            drawn = (whole: number) => BigInt(whole) * BigInt(Math.round(flow * 1000)) * BigInt(keep * 10) * 1000n;
          expect(drawn(minutes) <= gas).toBe(true);
          expect(drawn(minutes + 1) > gas).toBe(true);
        },
      ),
    );
  });
});

describe("endurance of a battery", () => {
  it("is halved by a reserve of 2 (by hand: 4 h = 240 min, half of it 120)", () => {
    expect(enduranceOfBattery(4 * 3600, 2)).toMatchObject({
      minutes: 120,
      arithmetic: "240 min when full; 240 min ÷ 2 in reserve = 120 min",
    });
  });

  it("keeps nothing back without a reserve", () => {
    const { minutes, exact } = enduranceOfBattery(5400);
    expect(minutes).toBe(90);
    expect(times(exact, exactly(60))).toEqual(exactly(5400));
  });
});
