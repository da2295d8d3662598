/** Usual weights by age against the published lines. */
import { describe, expect, it } from "vitest";
import { isUnusual, lineOf, usualWeights } from "../../../src/domain/bands/growth.ts";
import { parseAge, parseMass } from "../../../src/schema/quantities.ts";

const read = (parsed: ReturnType<typeof parseMass>) => {
  if (!parsed.ok) throw new Error(parsed.message);
  return parsed.value.value;
};
const age = (text: string) => read(parseAge(text)),
  mass = (text: string) => read(parseMass(text));

describe("the lines of the tables (WHO Child Growth Standards 2006, printed -3 and +3 SD weight-for-age, kg)", () => {
  it.each([
    ["boys at birth", [0.3487, 3.3464, 0.14602], 2.1, 5.0],
    ["girls at birth", [0.3809, 3.2322, 0.14171], 2.0, 4.8],
    ["boys at 12 months", [0.0645, 9.646, 0.10925], 6.9, 13.3],
    ["girls at 60 months", [-0.3518, 18.2179, 0.14821], 12.1, 29.5],
  ] as const)("%s", (_, lms, least, most) => {
    expect(lineOf(lms, -3)).toBeCloseTo(least, 1);
    expect(lineOf(lms, 3)).toBeCloseTo(most, 1);
  });
  it("are taken for boys and girls together: at one year 6.3 (girls) to 13.3 kg (boys), at ten 59.2 (girls)", () => {
    const { fromKg, toKg } = usualWeights(age("365 days"))!;
    expect([fromKg.toFixed(1), toKg.toFixed(1)]).toEqual(["6.3", "13.3"]);
    expect(usualWeights(age("10 years"))!.toKg.toFixed(1)).toBe("59.2");
  });
});

describe("an age and a weight", () => {
  it.each([
    ["2 years", "3.9 kg", true],
    ["5 days", "12 kg", true],
    ["2 years", "12 kg", false],
    ["8 months", "7.2 kg", false],
    // Born early: no line of a table of children born at term.
    ["5 days", "1.3 kg", false],
    ["8 months", "2 kg", true],
    ["40 years", "4 kg", false],
  ])("of %s and %s are asked back: %s", (years, kg, asked) => {
    expect(isUnusual(mass(kg), age(years))).toBe(asked);
  });
});
