/** Masses as people read them: rounded, and never into another band. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MASS_PER_KG, MASS_PER_LB } from "../../../src/schema/units.ts";
import { endsOf, sayNear } from "../../../src/domain/bands/say-mass.ts";

const grams = (value: number) => (BigInt(value) * MASS_PER_KG) / 1000n;

describe("a weight rounded for reading", () => {
  it("has two decimals where no end is near (1 lb = 0.45359237 kg exactly, NIST SP 811, appendix B.8)", () => {
    expect(sayNear(11n * MASS_PER_LB, [grams(5000)])).toBe("4.99 kg");
    expect(sayNear(170n * MASS_PER_LB, [])).toBe("77.11 kg");
    expect(sayNear(grams(7200), [grams(5000)])).toBe("7.2 kg");
  });
  it("says an end as it is, and what is a milligram off with as many decimals as tell them apart", () => {
    expect(sayNear(grams(5000), [grams(5000)])).toBe("5 kg");
    expect(sayNear(grams(5000) - MASS_PER_KG / 1_000_000n, [grams(5000)])).toBe("4.999999 kg");
    expect(sayNear(grams(5000) + MASS_PER_KG / 1_000_000n, [grams(5000)])).toBe("5.000001 kg");
  });
  it("stays on its side of every end, read back as a number", () => {
    const mass = fc.bigInt({ min: 1n, max: 150n * MASS_PER_KG });
    fc.assert(
      fc.property(
        mass,
        fc.array(fc.oneof(mass, fc.integer({ min: 1, max: 150_000 }).map(grams)), { maxLength: 4 }),
        fc.integer({ min: -3, max: 3 }),
        (free, ends, off) => {
          for (const value of [free, ...ends.map((end) => end + BigInt(off))].filter((each) => each > 0n)) {
            const [, whole, part = ""] = /^(\d+)(?:\.(\d+))? kg$/.exec(sayNear(value, ends))!;
            const read = BigInt(whole! + part.padEnd(20, "0"));
            for (const end of ends) expect([read < end, read > end]).toEqual([value < end, value > end]);
          }
        },
      ),
    );
  });
  it("finds the ends of ranges, and none where they are open", () => {
    expect(
      endsOf([
        { text: "any weight" },
        { from: { value: 3n, owned: true, text: "" }, to: { value: 7n, owned: false, text: "" }, text: "" },
      ]),
    ).toEqual([3n, 7n]);
  });
});
