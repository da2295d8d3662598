/**
 * The band that would have to reach further: what it says closes the gap and takes patients from nobody. Compared with
 * asking every patient of a grid; the examples are invented.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findGaps, holdsPatient } from "../../../src/domain/bands/bands.ts";
import { reached, reachFor } from "../../../src/domain/bands/reach.ts";
import { AGE_PER_MONTH } from "../../../src/schema/units.ts";
import { parseRange } from "../../../src/schema/quantities.ts";
import type { Band, Range } from "../../../src/schema/collection.ts";
import { grams } from "../../arbitraries/platform.ts";

const read = (text: string, kind: "weight" | "age"): Range => {
  const parsed = parseRange(text, kind);
  if (!parsed.ok) throw new Error(text);
  return parsed.value;
};
const band = (weight: string, age = "any age"): Band => ({ weight: read(weight, "weight"), age: read(age, "age") });

/** The reaches of every gap. */
function reachesOf(whole: Band, bands: readonly Band[]) {
  return findGaps(whole, bands).map((gap) => reachFor(gap, bands));
}

describe("the band that would have to reach further", () => {
  it("is the one of the same ages, where a band of other ages stands beside the gap", () => {
    const bands = [
      band("from 2 kg to under 9 kg", "from 12 months"),
      band("from 5 kg to under 9 kg", "under 12 months"),
    ];
    expect(reachesOf(band("from 2 kg to under 9 kg"), bands)).toEqual([{ at: 1, key: "weight" }]);
  });

  it("is the one below where the ages of the one above are others, and the one above where both would do", () => {
    const infants = band("from 2 kg up to 5 kg", "under 12 months"),
      others = band("from 2 kg to under 9 kg", "from 12 months");
    expect(reachesOf(band("from 2 kg to under 9 kg"), [infants, others])).toEqual([{ at: 0, key: "weight" }]);
    expect(
      reachesOf(band("from 2 kg to under 9 kg"), [band("from 2 kg to under 4 kg"), band("from 5 kg to under 9 kg")]),
    ).toEqual([{ at: 1, key: "weight" }]);
  });

  it("is an age where the weights are the same, and none where more than one limit would have to move", () => {
    const whole = band("from 2 kg to under 9 kg");
    expect(reachesOf(whole, [band("from 2 kg to under 9 kg", "from 2 years")])).toEqual([{ at: 0, key: "age" }]);
    expect(reachesOf(whole, [band("from 4 kg to under 9 kg", "from 2 years")])).toContain(undefined);
  });

  it("closes the gap, widens nothing else and takes nobody from another band", () => {
    const months = (count: number, owned: boolean) => ({
      value: BigInt(count) * AGE_PER_MONTH,
      owned,
      text: `${count} months`,
    });
    const rangeOf = (end: (count: number, owned: boolean) => ReturnType<typeof grams>, any: string) =>
      fc
        .tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 1, max: 6 }), fc.boolean(), fc.boolean())
        .filter(([low, high]) => low < high)
        .map(([low, high, a, b]): Range => ({ from: end(low, a), to: end(high, b), text: any }));
    const someBand = fc.record({ weight: rangeOf(grams, "some weight"), age: rangeOf(months, "some age") });
    const whole: Band = {
      weight: { from: grams(0, true), to: grams(6, true), text: "all" },
      age: { from: months(0, true), to: months(6, true), text: "all" },
    };
    // Every whole and half step, so that each end and each inside is asked.
    const grid = Array.from({ length: 13 }, (_, at) => at).flatMap((w) =>
      Array.from({ length: 13 }, (_, a) => ({
        weight: (BigInt(w) * grams(1, true).value) / 2n,
        age: (BigInt(a) * AGE_PER_MONTH) / 2n,
      })),
    );
    let closed = 0;
    fc.assert(
      fc.property(fc.array(someBand, { minLength: 1, maxLength: 4 }), (bands) => {
        for (const gap of findGaps(whole, bands)) {
          const reach = reachFor(gap, bands);
          if (!reach) continue;
          closed += 1;
          const wider = reached(bands[reach.at]!, reach, gap);
          for (const patient of grid) {
            const had = holdsPatient(bands[reach.at]!, patient),
              has = holdsPatient(wider, patient);
            if (holdsPatient(gap, patient)) expect(has).toBe(true);
            if (had) expect(has).toBe(true);
            if (has && !had) expect(bands.some((each) => holdsPatient(each, patient))).toBe(false);
          }
        }
      }),
    );
    expect(closed).toBeGreaterThan(10);
  });
});
