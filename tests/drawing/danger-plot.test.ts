/**
 * Danger weights over the rail. The bars are held against the rail's own logarithmic scale, worked out here by hand:
 * on a scale from 1 kg to 100 kg a decade is 50 %. 1 lb = 0.45359237 kg (NIST SP 811, B.8).
 */
import { expect, it } from "vitest";
import { findDangers } from "../../src/domain/bands/slips.ts";
import { layDangers } from "../../src/drawing/danger-plot.ts";
import { layRail } from "../../src/drawing/rail.ts";
import { parseRange } from "../../src/schema/quantities.ts";

const weight = (text: string) => {
  const read = parseRange(text, "weight");
  if (!read.ok) throw new Error(text);
  return read.value;
};
const ROWS = [
  { id: "seat", weight: weight("from 1 kg to under 10 kg") },
  { id: "couch", weight: weight("from 10 kg to under 100 kg") },
];
const bars = layDangers(findDangers(ROWS), { ...layRail(ROWS), fromKg: 1, toKg: 100 });
const at = (kg: number) => Math.log10(kg) * 50;

it("lie where their weights are on the rail, towards the heavier or the lighter", () => {
  // 10 kg are 22.05 lb: whoever weighs 4.54 kg to 10 kg is read as 10 and more.
  expect(bars.get("pounds-as-kilograms")).toEqual([
    {
      a: expect.closeTo(at(4.5359237), 6),
      b: expect.closeTo(50, 6),
      isHeavier: true,
      taken: ["couch"],
      room: expect.closeTo(100 - at(4.5359237), 6),
    },
  ]);
  expect(bars.get("kilograms-as-pounds")).toMatchObject([
    { a: expect.closeTo(50, 6), b: expect.closeTo(at(22.0462262), 4), isHeavier: false, taken: ["seat"] },
  ]);
  expect(bars.get("ten-times")).toMatchObject([{ a: expect.closeTo(0, 6), b: expect.closeTo(50, 6), isHeavier: true }]);
});

it("leave a name the room to the next bar on its own side only", () => {
  // An estimate a tenth off: 9.09 kg to 10 kg may be 10, 10 to 11.1 kg may be under it; each has its side to itself.
  const [low, high] = bars.get("estimate")!;
  expect([low!.isHeavier, high!.isHeavier]).toEqual([true, false]);
  expect(low!.b).toBeCloseTo(high!.a, 6);
  expect(low!.room).toBeCloseTo(100 - low!.a, 6);
});
