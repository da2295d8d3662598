/** What lines of cards are about, and which of them an option makes untrue. */
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { contradictionsOf, notLookedAt, subjectsOf, takesPlaceOf } from "../../../src/domain/cards/subjects.ts";
import type { Check, Collection, Platform } from "../../../src/schema/collection.ts";
import { COLLECTIONS } from "../../fixtures/collections.ts";
import { readCollection } from "../../read-collection.ts";

const load = (folder: string) => readCollection(resolve(import.meta.dirname, "../../..", folder));
let demo: Collection;
let tern: Platform;
beforeAll(async () => {
  demo = await load("procedures");
  tern = demo.platforms[0]!;
});

describe("what a line is about", () => {
  it("is what has exactly the name, in any case and number, or what the author says", () => {
    const ids = (challenge: string, about?: string[]) =>
      subjectsOf({ challenge, ...(about ? { about } : {}) }, tern).map(({ kind, id }) => `${kind} ${id}`);
    expect(ids("Warming mattress")).toEqual(["item warming-mattress"]);
    expect(ids("capsule pins")).toEqual(["item capsule-pin"]);
    expect(ids("Warmer slot")).toEqual(["place warmer-slot"]);
    expect(ids("Deck lever")).toEqual(["fastening deck-lever"]);
    expect(ids("Warming")).toEqual([]);
    expect(ids("Canopy", ["canopy-catches"])).toEqual(["fastening canopy-catches"]);
  });

  it("takes the place of another by the same challenge or by its author's word", () => {
    expect(takesPlaceOf({ challenge: " response BAG" }, { challenge: "Response bag" })).toBe(true);
    expect(takesPlaceOf({ challenge: "Slot", replaces: "Mattress" }, { challenge: "Mattress" })).toBe(true);
    expect(takesPlaceOf({ challenge: "Slot" }, { challenge: "Mattress" })).toBe(false);
  });
});

describe("contradictions", () => {
  it.each(COLLECTIONS)("stand on no card of %s", async (folder) => {
    const { platforms, service } = await load(folder);
    for (const platform of platforms)
      for (const configuration of platform.configurations)
        expect(contradictionsOf(platform, configuration, service.otherNames)).toEqual([]);
  });

  it("are found at each line that names what an option takes away, in every way to name it", () => {
    const planted = ["Response bag", "response bags", "Lower bay", "Cooled patient"];
    for (const challenge of planted) {
      const check: Check = {
        challenge,
        answer: "there",
        by: [],
        ...(challenge === "Cooled patient" ? { about: ["warming-mattress"] } : {}),
        where: { file: "x", line: 7, column: 1 },
        at: {},
      };
      const capsule = tern.configurations.find(({ id }) => id === "newborn-capsule")!;
      const changed = { ...capsule, checks: [...capsule.checks, check] };
      const platform = {
        ...tern,
        configurations: tern.configurations.map((each) => (each === capsule ? changed : each)),
        // No line of an option takes the planted one's place.
        options: tern.options.map((option) => ({
          ...option,
          checks: option.checks.filter((line) => !takesPlaceOf(line, check)),
        })),
      };
      const found = contradictionsOf(platform, changed).filter((each) => each.check === check);
      expect(
        found.map(({ arrangement }) => arrangement.options.length),
        challenge,
      ).toEqual([1]);
    }
  });

  it("come back in the demo when the cooling unit's line replaces nothing", () => {
    const options = tern.options.map((option) => ({
      ...option,
      checks: option.checks.map(({ replaces: _, ...check }) => check),
    }));
    const platform = { ...tern, options };
    const capsule = platform.configurations.find(({ id }) => id === "newborn-capsule")!;
    const found = contradictionsOf(platform, capsule).map(({ check, arrangement }) => [
      check.challenge,
      arrangement.name,
    ]);
    expect(found).toEqual([["Warming mattress", "newborn-capsule+cooling-unit"]]);
  });
});

it("what nobody looks at is named at the record that brings it in", async () => {
  const dolly = (await load("tests/fixtures/collections/dolly")).platforms[0]!;
  const wide = dolly.configurations.find(({ id }) => id === "wide-rider")!;
  const found = notLookedAt(dolly, wide, []);
  expect(found.map(({ record, subjects }) => [record.id, subjects.map(({ id }) => id)])).toContainEqual([
    "lenses",
    ["tail-bar"],
  ]);
  const about = found.flatMap(({ subjects }) => subjects.map(({ id }) => id));
  expect(notLookedAt(dolly, wide, [{ challenge: "All", about }])).toEqual([]);

  // Common practice, no source: a brake holds no place, and what stands on wheels is not left without it.
  const brakes = dolly.fastenings.map((each) => ({ ...each, kind: "brake" as const, holds: [] }));
  const unasked = notLookedAt({ ...dolly, fastenings: brakes }, wide, []);
  expect(unasked.flatMap(({ subjects }) => subjects.map(({ id }) => id))).toContain(brakes[0]!.id);
});
