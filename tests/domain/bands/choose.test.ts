/** The chooser: who owns a boundary, what is asked, what is never guessed. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Range } from "../../../src/schema/collection.ts";
import { AGE_PER_DAY, MASS_PER_KG, MASS_PER_LB } from "../../../src/schema/units.ts";
import { choose, type BandTable, type Choice } from "../../../src/domain/bands/choose.ts";
import { readAge, readWeight, type WeightEntry } from "../../../src/domain/bands/entry.ts";

const kg = (value: number, owned: boolean) => ({
  value: (BigInt(Math.round(value * 1000)) * MASS_PER_KG) / 1000n,
  owned,
  text: `${value} kg`,
});
const fromTo = (low: number, high: number): Range => ({
  from: kg(low, true),
  to: kg(high, false),
  text: `from ${low} kg to under ${high} kg`,
});
const anyAge: Range = { text: "any age" };
const table: BandTable = {
  service: { weight: fromTo(1.2, 130), age: anyAge },
  rows: [
    { id: "capsule", title: "Newborn capsule", band: { weight: fromTo(1.2, 5), age: anyAge } },
    { id: "cradle", title: "Child cradle", band: { weight: fromTo(5, 40), age: anyAge } },
    { id: "harness", title: "Deck harness", band: { weight: fromTo(40, 130), age: anyAge } },
  ],
};
const weight = (text: string): WeightEntry => {
  const entry = readWeight(text);
  if (entry.kind !== "value") throw new Error(`not a weight: ${text}`);
  return entry.value;
};
const found = (text: string, of = table) => {
  const choice = choose(of, weight(text));
  if (choice.kind !== "found") throw new Error(`nothing found for ${text}`);
  return choice;
};
const idsOf = (choice: Choice) => (choice.kind === "found" ? choice.rows.map(({ id }) => id) : choice.kind);

describe("choosing by weight", () => {
  // Intervals [a, b[ as in ISO 80000-2: "from" owns its end, "under" does not.
  it.each([
    ["1.199999 kg", "outside"],
    ["1.2 kg", ["capsule"]],
    ["4.999999 kg", ["capsule"]],
    ["5 kg", ["cradle"]],
    ["39.9999 kg", ["cradle"]],
    ["40 kg", ["harness"]],
    ["40.0 kg", ["harness"]],
    ["129.9999 kg", ["harness"]],
    ["130 kg", "outside"],
    ["5000 g", ["cradle"]],
    ["4999 g", ["capsule"]],
  ])("takes %s to %j", (text, ids) => {
    expect(idsOf(choose(table, weight(text)))).toEqual(ids);
  });
  it(
    "is exact about pounds: 11.023 lb is under 5 kg, 11.02312 lb is over it (1 lb = 0.45359237 kg, NIST SP 811, " +
      "appendix B.8)",
    () => {
      expect(weight("1 lb").mass).toBe(MASS_PER_LB);
      expect(idsOf(choose(table, weight("11.023 lb")))).toEqual(["capsule"]);
      expect(idsOf(choose(table, weight("11.02312 lb")))).toEqual(["cradle"]);
    },
  );
  it("says which row owns a weight that is exactly an end, and only then", () => {
    expect(found("5 kg").boundary).toBe(
      "5 kg is exactly where bands meet. Child cradle says “from 5 kg”, so it owns 5 kg; Newborn capsule does not.",
    );
    expect(found("7.2 kg").boundary).toBeUndefined();
  });
  it("gives its reason in the words of the table", () => {
    expect(found("7.2 kg").because).toEqual(["7.2 kg is from 5 kg to under 40 kg. Any age."]);
    expect(found("16 lb").because).toEqual(["16 lb (7.26 kg) is from 5 kg to under 40 kg. Any age."]);
    expect(found("16 lb").exactly).toBe("7.25747792 kg");
    expect(found("7.2 kg").exactly).toBeUndefined();
    // 11.023 lb = 4.99994869451 kg, worked out by hand from 0.45359237: two decimals would say the 5 kg that belong to
    // the next band.
    expect(found("11.023 lb").because).toEqual(["11.023 lb (4.9999 kg) is from 1.2 kg to under 5 kg. Any age."]);
  });
  it("asks to confirm wherever pounds, a tenfold slip or rounding would lead elsewhere", () => {
    expect(found("7.2 kg").confirm.map(({ slip, ids }) => `${slip}: ${ids}`)).toEqual([
      "pounds-as-kilograms: capsule",
      "a-tenth: harness",
    ]);
    expect(found("5 kg").confirm.map(({ slip, ids }) => `${slip}: ${ids}`)).toContain("rounded: capsule");
  });
  it("asks for the age when the age decides", () => {
    const young = {
        text: "under 2 years",
        to: { value: 730n * AGE_PER_DAY + AGE_PER_DAY / 2n, owned: false, text: "2 years" },
      },
      old = { text: "from 2 years", from: { ...young.to, owned: true } };
    const byAge: BandTable = {
      ...table,
      rows: [
        { ...table.rows[1]!, id: "young", band: { weight: fromTo(5, 40), age: young } },
        { ...table.rows[1]!, id: "old", band: { weight: fromTo(5, 40), age: old } },
      ],
    };
    expect(found("12 kg", byAge).needsAge).toBe(true);
    const age = readAge("23", "months");
    if (age.kind !== "value") throw new Error("not an age");
    expect(idsOf(choose(byAge, weight("12 kg"), age.value))).toEqual(["young"]);
    const two = readAge("2 years");
    if (two.kind !== "value") throw new Error("not an age");
    expect(idsOf(choose(byAge, weight("12 kg"), two.value))).toEqual(["old"]);
  });
  it("agrees at every gram with asking each row by itself", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 140_000 }), (grams) => {
        const expected =
          grams < 1200 || grams >= 130_000
            ? "outside"
            : grams < 5000
              ? ["capsule"]
              : grams < 40_000
                ? ["cradle"]
                : ["harness"];
        expect(idsOf(choose(table, weight(`${grams} g`)))).toEqual(expected);
        expect(idsOf(choose(table, weight(`${grams / 1000} kg`)))).toEqual(expected);
      }),
    );
  });
});

describe("reading an entry", () => {
  it.each([["7.2"], ["7"], ["12"]])("never guesses the unit of %s", (text) => {
    expect(readWeight(text)).toMatchObject({ kind: "ask" });
  });
  it("takes the unit chosen beside the field", () => {
    expect(readWeight("7.2", "kg")).toMatchObject({ kind: "value", value: { text: "7.2 kg" } });
  });
  it("asks when field and choice disagree", () => {
    expect(readWeight("16 lb", "kg")).toMatchObject({ kind: "ask" });
  });
  it("reads a decimal comma, and asks where it might part thousands", () => {
    expect(readWeight("7,2 kg")).toMatchObject({ kind: "value", value: { text: "7.2 kg" } });
    expect(readWeight("3,250", "g")).toMatchObject({ kind: "ask" });
  });
  it("asks of a point before three digits too, unless it is what scales show (common practice)", () => {
    expect(readWeight("7.200", "kg")).toEqual({
      kind: "ask",
      question: "Is 7.200 7200 or 7.2? Write it without the point, or as 7.2.",
    });
    expect(readWeight("3.250 g")).toMatchObject({ kind: "ask" });
    expect(readWeight("3.255 g")).toEqual({
      kind: "ask",
      question: "Is 3.255 3255 or 3.255? Write it without the point, or as 3.2550.",
    });
    expect(readWeight("4.999 kg")).toMatchObject({ kind: "value", value: { text: "4.999 kg" } });
    expect(readWeight("3.2550 g")).toMatchObject({ kind: "value" });
    expect(readAge("1.200", "days")).toMatchObject({ kind: "ask" });
  });
  it.each([
    ["<5 kg"],
    ["5-40 kg"],
    ["about 7 kg"],
    ["-7 kg"],
    ["7.2.1 kg"],
    [".5 kg"],
    ["1e3 kg"],
    ["0 kg"],
    ["7 stone"],
  ])("asks about %s", (text) => {
    expect(readWeight(text)).toMatchObject({ kind: "ask" });
  });
  it.each([
    // 1 lb = 0.453 592 37 kg exactly, 1 oz = 1/16 lb (NIST SP 811, appendix B.8): 137/16 lb = 3.883 884 668 125 kg.
    ["8 lb 9 oz", undefined, 3_883_884_668_125n],
    ["8lb 9oz", "lb", 3_883_884_668_125n],
    ["8lb9oz", undefined, 3_883_884_668_125n],
    ["8 pounds and 9 ounces", undefined, 3_883_884_668_125n],
    ["11 lb 0 oz", undefined, 4_989_516_070_000n],
  ] as const)("reads %s as pounds and sixteenths of a pound", (text, unit, nanograms) => {
    const entry = readWeight(text, unit);
    expect(entry).toMatchObject({
      kind: "value",
      value: { mass: (nanograms * MASS_PER_KG) / 10n ** 12n, inOunces: true },
    });
  });
  it.each([
    ["16 lb 16 oz", undefined],
    ["8 lb 9 oz", "kg"],
    ["8 9", "lb"],
    ["8-9", "lb"],
    ["8 lb 9", undefined],
    ["8.5 lb 9 oz", undefined],
    ["0 lb 0 oz", undefined],
  ] as const)("asks about %s with the choice %s", (text, unit) => {
    expect(readWeight(text, unit)).toMatchObject({ kind: "ask" });
  });
  it("is empty when nothing is entered", () => {
    expect(readWeight("  ")).toEqual({ kind: "empty" });
    expect(readAge("")).toEqual({ kind: "empty" });
  });
  it("never guesses the unit of an age", () => {
    expect(readAge("8")).toMatchObject({ kind: "ask" });
  });
});

describe("what a change of one sign in choose.ts would break (invented cases)", () => {
  const days = (count: number, owned: boolean) => ({
    value: BigInt(count) * AGE_PER_DAY,
    owned,
    text: `${count} days`,
  });
  const upTo: Range = { to: days(30, true), text: "up to 30 days" },
    over: Range = { from: days(30, false), text: "over 30 days" };
  const ageOf = (text: string) => {
    const entry = readAge(text);
    if (entry.kind !== "value") throw new Error(`not an age: ${text}`);
    return entry.value;
  };
  const row = (id: string, weight: Range, age: Range = anyAge) => ({ id, title: id, band: { weight, age } });
  it("says that an age is outside the service, not that nothing fits", () => {
    expect(choose({ ...table, service: { ...table.service, age: upTo } }, weight("7 kg"), ageOf("40 days"))).toEqual({
      kind: "outside",
      of: "age",
    });
    expect(choose(table, weight("1 kg"))).toEqual({ kind: "outside", of: "weight" });
  });
  it("says that nothing fits where the table has a hole, of weights or of ages", () => {
    expect(choose({ ...table, rows: [table.rows[0]!] }, weight("7 kg"))).toEqual({ kind: "nothing" });
    expect(choose({ ...table, rows: [row("young", fromTo(5, 40), upTo)] }, weight("7 kg"), ageOf("40 days"))).toEqual({
      kind: "nothing",
    });
  });
  it("has no boundary to tell inside a band, and takes a weight for no estimate by itself", () => {
    expect(found("7.2 kg")).not.toHaveProperty("boundary");
    expect(found("5.3 kg").confirm.some(({ slip }) => slip === "estimate")).toBe(false);
    const estimated = choose(table, weight("5.3 kg"), undefined, { isEstimate: true });
    expect(estimated.kind === "found" && estimated.confirm.some(({ slip }) => slip === "estimate")).toBe(true);
  });
  it("asks for no age when it is known, or when one row fits", () => {
    const two: BandTable = { ...table, rows: [row("cradle", fromTo(5, 40)), row("seat", fromTo(5, 40))] };
    expect(found("7 kg", two).needsAge).toBe(true);
    expect(choose(two, weight("7 kg"), ageOf("40 days"))).toMatchObject({ needsAge: false });
    expect(found("7 kg").needsAge).toBe(false);
  });
  it("says for which ages a row is, whichever end it has", () => {
    const byAge: BandTable = { ...table, rows: [row("young", fromTo(5, 40), upTo), row("old", fromTo(5, 40), over)] };
    expect(found("7 kg", byAge).because).toEqual([
      "7 kg is from 5 kg to under 40 kg. Only up to 30 days.",
      "7 kg is from 5 kg to under 40 kg. Only over 30 days.",
    ]);
    expect(choose(byAge, weight("7 kg"), ageOf("30 days"))).toMatchObject({
      rows: [{ id: "young" }],
      because: ["7 kg is from 5 kg to under 40 kg. 30 days is up to 30 days."],
    });
  });
  it(
    "names the owner of an end that belongs to the lighter row, and as the other only the row that ends there " + "too",
    () => {
      const light: Range = { to: kg(5, true), text: "up to 5 kg" },
        heavy: Range = { from: kg(5, false), text: "over 5 kg" };
      expect(
        found("5 kg", { ...table, rows: [row("far", fromTo(40, 90)), row("light", light), row("heavy", heavy)] })
          .boundary,
      ).toBe("5 kg is exactly where bands meet. light says “up to 5 kg”, so it owns 5 kg; heavy does not.");
      expect(found("5 kg", { ...table, rows: [row("light", light), row("far", fromTo(40, 90))] }).boundary).toBe(
        "5 kg is exactly where bands meet. light says “up to 5 kg”, so it owns 5 kg.",
      );
    },
  );
});
