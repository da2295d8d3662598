/** Danger weights: worked examples, and agreement with trying every weight. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Range } from "../../src/schema/collection.ts";
import { MASS_PER_KG, MASS_PER_LB } from "../../src/schema/units.ts";
import { holds } from "../../src/domain/bands.ts";
import { compareFractions, fraction } from "../../src/domain/fractions.ts";
import { findDangers, isWithin, otherReadings, type Danger, type SlipKind, type ToldWeight } from "../../src/domain/slips.ts";

const grams = (value: number): bigint => (BigInt(value) * MASS_PER_KG) / 1000n;
const range = (from: number | undefined, to: number | undefined): Range => ({
  ...(from === undefined ? {} : { from: { value: grams(from), owned: true, text: `${from / 1000} kg` } }),
  ...(to === undefined ? {} : { to: { value: grams(to), owned: false, text: `${to / 1000} kg` } }),
  text: "a band",
});
/** Pod under 6 kg, child restraint from 6 kg to under 45 kg, harness from 45 kg. */
const table = [{ id: "pod", weight: range(undefined, 6000) }, { id: "restraint", weight: range(6000, 45000) }, { id: "harness", weight: range(45000, undefined) }];
const kg = ({ value: { n, d } }: Danger["from"]): number => Number((n * 10000n) / (d * MASS_PER_KG)) / 10000;
const stretches = (slip: SlipKind) => findDangers(table).filter((danger) => danger.slip === slip).map((danger) => [kg(danger.from), kg(danger.to), danger.right[0], danger.taken[0]]);

// Figures for a 6/45 kg table: calculated for this project from 1 lb = 0.45359237 kg exactly (NIST SP 811, appendix B.8).
describe("danger weights of a table with ends at 6 and 45 kg (worked examples, calculated for this project)", () => {
  it("takes 2.72 to under 6 kg and 20.4 to under 45 kg to a heavier arrangement when pounds are read as kilograms", () => {
    expect(stretches("pounds-as-kilograms")).toEqual([[2.7215, 6, "pod", "restraint"], [20.4116, 45, "restraint", "harness"]]);
  });
  it("takes 6 to 13.2 kg and 45 to 99.2 kg to a lighter one when kilograms are read as pounds", () => {
    expect(stretches("kilograms-as-pounds")).toEqual([[6, 13.2277, "restraint", "pod"], [45, 99.208, "harness", "restraint"]]);
  });
  it("takes every weight from 0.6 kg up to under 45 kg elsewhere when read as ten times, and every one from 6 to under 450 kg as a tenth", () => {
    expect(stretches("ten-times")).toEqual([[0.6, 4.5, "pod", "restraint"], [4.5, 6, "pod", "harness"], [6, 45, "restraint", "harness"]]);
    expect(stretches("a-tenth")).toEqual([[6, 45, "restraint", "pod"], [45, 60, "harness", "pod"], [60, 450, "harness", "restraint"]]);
  });
  it("cannot tell 5.45 to 6.67 kg and 40.9 to 50.0 kg apart by an estimate within a tenth", () => {
    expect(stretches("estimate")).toEqual([[5.4545, 6, "pod", "restraint"], [6, 6.6666, "restraint", "pod"], [40.909, 45, "restraint", "harness"], [45, 50, "harness", "restraint"]]);
  });
  it("rounds 5.5 to under 6 kg and 44.5 to under 45 kg up into the next band", () => {
    expect(stretches("rounded")).toEqual([[5.5, 6, "pod", "restraint"], [44.5, 45, "restraint", "harness"]]);
  });
});

describe("danger weights of any table", () => {
  const tables = fc.uniqueArray(fc.integer({ min: 300, max: 150_000 }), { minLength: 1, maxLength: 5 }).map((ends) => {
    const sorted = [undefined, ...ends.sort((a, b) => a - b), undefined];
    return sorted.slice(1).map((to, at) => ({ id: `row-${at}`, weight: range(sorted[at], to) }));
  });
  const read: Partial<Record<SlipKind, (mass: bigint) => [bigint, bigint]>> = {
    "pounds-as-kilograms": (mass) => [mass * 100_000_000n, 45_359_237n], "kilograms-as-pounds": (mass) => [mass * 45_359_237n, 100_000_000n],
    "ten-times": (mass) => [mass * 10n, 1n], "a-tenth": (mass) => [mass, 10n],
    rounded: (mass) => [((mass + MASS_PER_KG / 2n) / MASS_PER_KG) * MASS_PER_KG, 1n],
  };
  /** Which row holds n/d, asked of each row by itself: ends multiplied by d instead of the value divided. */
  const rowOf = (rows: typeof table, n: bigint, d: bigint) => rows.find(({ weight: { from, to } }) => (!from || n >= from.value * d) && (!to || n < to.value * d))!.id;

  it("are those weights, and only those, that the slip puts into another row", () => {
    fc.assert(fc.property(tables, fc.integer({ min: 1, max: 200_000 }), (rows, weight) => {
      const mass = grams(weight), dangers = findDangers(rows), truth = rows.find((row) => holds(row.weight, mass))!.id;
      for (const [slip, reading] of Object.entries(read)) {
        const taken = rowOf(rows, ...reading(mass));
        const listed = dangers.filter((danger) => danger.slip === slip && isWithin(fraction(mass), danger.from, danger.to)).map((danger) => danger.taken[0]);
        expect(listed).toEqual(taken === truth ? [] : [taken]);
      }
    }));
  });
});

describe("other readings of a told weight", () => {
  const told = (digits: number, decimals: number, unit: ToldWeight["unit"]): ToldWeight => ({ digits: BigInt(digits), decimals, unit });
  it("takes 7.2 kg for 3.27 kg (pounds) and for 72 kg (a tenth)", () => {
    expect(otherReadings(table, told(72, 1, "kg")).map(({ slip, ids }) => [slip, ids[0]])).toEqual([["pounds-as-kilograms", "pod"], ["ten-times", "pod"], ["a-tenth", "harness"]]);
  });
  it("asks about rounding at 6 kg but not at 6.2 kg", () => {
    expect(otherReadings(table, told(6, 0, "kg")).some(({ slip }) => slip === "rounded")).toBe(true);
    expect(otherReadings(table, told(62, 1, "kg")).some(({ slip }) => slip === "rounded")).toBe(false);
  });
  it("has the pound exactly (NIST SP 811, appendix B.8)", () => {
    const [pounds] = otherReadings(table, told(10, 0, "kg"));
    expect(pounds!.slip).toBe("pounds-as-kilograms");
    expect(compareFractions(pounds!.from, fraction(10n * MASS_PER_LB))).toBe(0);
  });
  it("asks about an estimate only when it is one", () => {
    expect(otherReadings(table, told(64, 1, "kg"), true).some(({ slip }) => slip === "estimate")).toBe(true);
    expect(otherReadings(table, told(64, 1, "kg")).some(({ slip }) => slip === "estimate")).toBe(false);
    expect(otherReadings(table, told(68, 1, "kg"), true).some(({ slip }) => slip === "estimate")).toBe(false);
  });
});
