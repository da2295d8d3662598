/**
 * Options that some patients need: which arrangements there are for whom. Invented platforms; what is expected is asked
 * of the author's own words for every patient (design, section 7).
 */
import { resolve } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isFor, optionsMissing, validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { holdsPatient } from "../../../src/domain/bands/bands.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import { parseRange } from "../../../src/schema/quantities.ts";
import { AGE_PER_DAY, MASS_PER_KG } from "../../../src/schema/units.ts";
import type { Range } from "../../../src/schema/collection.ts";
import { configuration, nowhere, option, place, platform } from "../../arbitraries/platform.ts";
import { runHere } from "../../commands/run-here.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");
const TODAY = "2026-11-28";
const read = (text: string, kind: "weight" | "age"): Range => {
  const range = parseRange(text, kind);
  if (!range.ok) throw new Error(text);
  return range.value;
};
const band = (weight: string, age = "any age") => ({ weight: read(weight, "weight"), age: read(age, "age") });
const kg = (value: number) => (BigInt(Math.round(value * 1000)) * MASS_PER_KG) / 1000n;

/** A seat for 1 to 10 kg with rolls and a mask. */
function built(requires: { option: string; band: ReturnType<typeof band> }[]) {
  return platform({
    places: [place("deck")],
    items: [],
    configurations: [
      configuration(
        "seat",
        {},
        {
          band: band("from 1 kg to under 10 kg"),
          standing: true,
          options: [
            { id: "rolls", where: nowhere },
            { id: "mask", where: nowhere },
          ],
          requires: requires.map((each) => ({ ...each, where: nowhere })),
        },
      ),
    ],
    options: [option("rolls", {}, { band: band("under 5 kg") }), option("mask", {})],
    procedures: [],
  });
}

describe("an option that some patients need", () => {
  it("narrows the arrangements without it, and no other", () => {
    const bands = validArrangements(built([{ option: "rolls", band: band("under 2.5 kg") }])).map((each) => [
      each.name,
      each.band.weight.text,
      each.without.length,
    ]);
    expect(bands).toEqual([
      ["seat", "from 2.5 kg to under 10 kg", 0],
      ["seat+rolls", "from 1 kg to under 5 kg", 0],
      ["seat+mask", "from 2.5 kg to under 10 kg", 0],
      ["seat+rolls+mask", "from 1 kg to under 5 kg", 0],
    ]);
  });
  it("leaves an arrangement without it out only where everybody needs it, and never the one that waits", () => {
    const names = validArrangements(built([{ option: "rolls", band: band("under 12 kg") }])).map(({ name }) => name);
    expect(names).toEqual(["seat", "seat+rolls", "seat+rolls+mask"]);
  });
  it("holds for exactly the patients that its author names, by weight and age, known or not", () => {
    const ends = fc.constantFrom("under 2 kg", "from 3 kg to under 4 kg", "from 8 kg", "any weight"),
      ages = fc.constantFrom("any age", "under 28 days", "from 1 year");
    fc.assert(
      fc.property(
        fc.array(fc.record({ option: fc.constantFrom("rolls", "mask"), weight: ends, age: ages }), { maxLength: 3 }),
        fc.constantFrom(1, 1.99, 2, 3, 3.99, 4, 6, 8, 9.99),
        fc.constantFrom(undefined, 1, 27, 28, 200, 366, 4000),
        (needs, weight, days) => {
          const requires = needs.map((each) => ({ option: each.option, band: band(each.weight, each.age) }));
          const patient = { weight: kg(weight), age: days === undefined ? undefined : BigInt(days) * AGE_PER_DAY };
          for (const each of validArrangements(built(requires))) {
            const lacking = requires.filter(
              (need) =>
                !each.options.some(({ id }) => id === need.option) &&
                holdsPatient(need.band, patient) &&
                (days !== undefined || (!need.band.age.from && !need.band.age.to)),
            );
            const inBands = [each.configuration, ...each.options].every((record) => holdsPatient(record.band, patient));
            expect(optionsMissing(each, patient)).toEqual(lacking.map((need) => need.option));
            expect([each.name, isFor(each, patient)]).toEqual([each.name, inBands && lacking.length === 0]);
          }
        },
      ),
      { numRuns: 400 },
    );
  });
});

describe("the demo's smallest newborns (its FCR-T-29: under 2.5 kg with roll supports)", () => {
  it("have no plan, no load and no changeover without them", async () => {
    const collection = await readCollection(resolve(root, "procedures")),
      model = modelOf(collection.platforms[0]!);
    const named = (name: string) => model.arrangements.find((each) => each.name === name)!;
    const plans = (to: string, weight: number) =>
      plansBetween(model, collection.service, named("child-cradle"), named(to), { weight: kg(weight) }).length;
    expect([plans("newborn-capsule", 2), plans("newborn-capsule", 2.5)]).toEqual([0, 1]);
    expect(plans("newborn-capsule+roll-supports", 2)).toBe(1);
    for (const args of [
      ["load", "--configuration", "newborn-capsule", "--patient", "2 kg"],
      ["changeover", "--from", "child-cradle", "--to", "newborn-capsule", "--weight", "2 kg"],
    ]) {
      const refused = await runHere(["--", ...args].slice(1), TODAY);
      expect([refused.status, refused.stdout]).toEqual([2, ""]);
      expect(refused.stderr).toContain("ask for `newborn-capsule+roll-supports`");
    }
  });
  it("are answered with them", async () => {
    const small = JSON.parse((await runHere(["choose", "--weight", "2.0 kg", "--json"], TODAY)).stdout) as object,
      larger = JSON.parse((await runHere(["choose", "--weight", "2.5 kg", "--json"], TODAY)).stdout) as object;
    expect(small).toMatchObject({
      configurations: ["newborn-capsule"],
      arrangements: ["newborn-capsule+roll-supports"],
      items: expect.arrayContaining(["roll-support"]) as string[],
    });
    expect(larger).toMatchObject({ configurations: ["newborn-capsule"] });
    expect(larger).not.toHaveProperty("arrangements");
    expect((await runHere(["choose", "--weight", "2.0 kg"], TODAY)).stdout).toContain(
      "with Roll supports (roll-supports): always under 2.5 kg",
    );
  });
});
