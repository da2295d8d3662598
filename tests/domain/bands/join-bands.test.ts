/** Joined bands hold the same patients, in fewer words. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { holdsPatient, sayBand } from "../../../src/domain/bands/bands.ts";
import { joinBands } from "../../../src/domain/bands/join-bands.ts";
import { elementaryBands } from "../../../src/domain/bands/patients.ts";
import { parseRange } from "../../../src/schema/quantities.ts";
import type { Band, Range } from "../../../src/schema/collection.ts";
import { anyone, grams, range } from "../../arbitraries/platform.ts";

const read = (text: string, kind: "weight" | "age"): Range => {
  const parsed = parseRange(text, kind);
  if (!parsed.ok) throw new Error(text);
  return parsed.value;
};
const band = (weight: string, age = "any age"): Band => ({ weight: read(weight, "weight"), age: read(age, "age") });

describe("joinBands", () => {
  it("joins ages, then weights, and says them as the author would", () => {
    const whole = band("from 5 kg to under 40 kg"),
      cells = elementaryBands(whole, [
        band("from 5 kg to under 12 kg", "under 28 days"),
        band("any weight", "from 28 days to under 6 years"),
      ]);
    expect(cells.length).toBe(6);
    expect(joinBands(cells.map((cell) => cell.band)).map(sayBand)).toEqual(["from 5 kg to under 40 kg"]);
  });
  it("leaves apart what does not touch: an end that nobody owns is not bridged", () => {
    expect(joinBands([band("from 5 kg to under 12 kg"), band("over 12 kg to under 20 kg")])).toHaveLength(2);
    expect(joinBands([band("from 5 kg up to 12 kg"), band("over 12 kg to under 20 kg")]).map(sayBand)).toEqual([
      "from 5 kg to under 20 kg",
    ]);
  });
  it("says all weights and all ages by their own words, and joins nothing that shares one end only", () => {
    expect(
      joinBands([band("under 5 kg"), band("from 5 kg")]).map(({ weight, age }) => [weight.text, age.text]),
    ).toEqual([["any weight", "any age"]]);
    expect(
      joinBands([band("under 5 kg", "under 1 year"), band("under 5 kg", "from 1 year")]).map(({ weight, age }) => [
        weight.text,
        age.text,
      ]),
    ).toEqual([["under 5 kg", "any age"]]);
    expect(joinBands([band("under 5 kg", "under 1 year"), band("from 5 kg", "under 2 years")])).toHaveLength(2);
    expect(
      joinBands([band("under 5 kg", "from 1 year"), band("from 5 kg", "from 1 year to under 2 years")]),
    ).toHaveLength(2);
  });
  it("holds exactly the patients that the bands held", () => {
    const end = fc
      .record({ g: fc.integer({ min: 1, max: 9 }), owned: fc.boolean() })
      .map(({ g, owned }) => grams(g, owned));
    const some = fc.array(
      fc.tuple(end, end).map(([from, to]): Band => ({ weight: range(from, to), age: anyone.age })),
      { maxLength: 4 },
    );
    fc.assert(
      fc.property(some, fc.array(fc.boolean(), { minLength: 40, maxLength: 40 }), (cutting, kept) => {
        const cells = elementaryBands({ weight: range(grams(0, true), grams(10, false)), age: anyone.age }, cutting)
          .map((cell) => cell.band)
          .filter((_, at) => kept[at]);
        const joined = joinBands(cells);
        expect(joined.length).toBeLessThanOrEqual(cells.length);
        for (let half = 0; half <= 20; half++) {
          const weight = (grams(1, true).value * BigInt(half)) / 2n;
          expect(joined.some((each) => holdsPatient(each, { weight }))).toBe(
            cells.some((each) => holdsPatient(each, { weight })),
          );
        }
      }),
    );
  });
});
