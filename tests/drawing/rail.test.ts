/** The weight rail: a logarithmic scale, and a pin for every end. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Range } from "../../src/schema/collection.ts";
import { MASS_PER_KG } from "../../src/schema/units.ts";
import { layRail, placeOnRail } from "../../src/drawing/rail.ts";

const end = (kg: number, owned: boolean) => ({
  value: (BigInt(Math.round(kg * 1000)) * MASS_PER_KG) / 1000n,
  owned,
  text: `${kg} kg`,
});
const range = (from: [number, boolean] | undefined, to: [number, boolean] | undefined): Range => ({
  ...(from ? { from: end(...from) } : {}),
  ...(to ? { to: end(...to) } : {}),
  text: "",
});
const lay = (...weights: Range[]) => layRail(weights.map((weight, at) => ({ id: `${at}`, weight })));

describe("the weight rail", () => {
  it("places a weight by its logarithm: 10 kg is half way from 1 kg to 100 kg", () => {
    expect(placeOnRail({ fromKg: 1, toKg: 100 }, 10)).toBeCloseTo(50, 10);
    expect(placeOnRail({ fromKg: 1, toKg: 100 }, 0.1)).toBe(0);
    expect(placeOnRail({ fromKg: 1, toKg: 100 }, 500)).toBe(100);
  });
  it("puts one filled pin where one band owns the end, joined to its band", () => {
    expect(
      lay(range([1, true], [5, false]), range([5, true], [40, false])).pins.map(({ owned, joins }) => [owned, joins]),
    ).toEqual([
      [true, "right"],
      [true, "right"],
      [false, undefined],
    ]);
    expect(lay(range([1, true], [5, true]), range([5, false], [40, false])).pins[1]).toMatchObject({
      owned: true,
      joins: "left",
    });
  });
  it(
    "labels an end in grams exactly, and one in pounds as nearly that (1 lb = 0.45359237 kg, NIST SP 811, " +
      "appendix B.8)",
    () => {
      const pounds = {
        from: { value: (45359237n * 90n * MASS_PER_KG) / 100_000_000n, owned: true, text: "90 lb" },
        text: "",
      };
      expect(
        lay(range([0.875, true], [40, false]), pounds).ticks.flatMap(({ label, minor }) =>
          label && !minor ? [label] : [],
        ),
      ).toEqual(["0.875", "40", "≈ 40.82"]);
    },
  );
  it("draws two hollow pins where nobody owns an end, and two filled ones with a bar where two do", () => {
    const gap = lay(range([1, true], [5, false]), range([5, false], [40, false])),
      overlap = lay(range([1, true], [5, true]), range([5, true], [40, false]));
    expect(gap.pins.filter(({ pair }) => pair).map(({ owned }) => owned)).toEqual([false, false]);
    expect(gap.clashes).toEqual([]);
    expect(overlap.pins.filter(({ pair }) => pair).map(({ owned }) => owned)).toEqual([true, true]);
    expect(overlap.clashes).toHaveLength(1);
  });
  it("gives bands that lie over one another lanes of their own", () => {
    expect(lay(range([5, true], [40, false]), range([5, true], [40, false])).segments.map(({ lane }) => lane)).toEqual([
      1, 2,
    ]);
  });
  it("leaves room beyond the last weight where an end is open", () => {
    const { segments, fromKg } = lay(range(undefined, [5, false]), range([5, true], undefined));
    expect(fromKg).toBeLessThan(5);
    expect(segments.every(({ a, b }) => b - a > 5)).toBe(true);
  });
  it("keeps every segment on the rail and in order, whatever the bands", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 400_000 }), { minLength: 2, maxLength: 9 }), (grams) => {
        const ends = grams.sort((a, b) => a - b).map((each) => each / 1000);
        const { segments, ticks } = lay(...ends.slice(1).map((to, at) => range([ends[at]!, true], [to, false])));
        segments.forEach(({ a, b }) => expect(a >= 0 && a <= b && b <= 100).toBe(true));
        expect(ticks.every(({ x }) => x >= 0 && x <= 100)).toBe(true);
      }),
    );
  });
});
