/**
 * What a new starter is led through: everything that is in force, once, and nothing else. That nobody learns from a
 * text that nobody approved is ISO 9001:2015, 7.5.3; the demo is invented.
 */
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { forceOn } from "../../../src/domain/force/force.ts";
import { studyPath } from "../../../src/domain/study/study-path.ts";
import { readCollection } from "../../read-collection.ts";

it("has each procedure that is in force once, no draft, nothing in review, nothing withdrawn", async () => {
  const files = await readCollection(resolve(import.meta.dirname, "../../../procedures"));
  const { shown, collection } = forceOn(files, "2026-11-28");
  expect(shown.platforms[0]!.procedures.map(({ status }) => status)).toEqual(
    expect.arrayContaining(["draft", "in review", "withdrawn"]),
  );
  const lessons = studyPath(shown.platforms[0]!).flatMap(({ entries }) =>
    entries.flatMap((stop) => (stop.document ? [stop.document.replace("procedure ", "")] : [])),
  );
  const inForce = collection.platforms[0]!.procedures.filter(({ steps }) => steps.length > 0).map(({ id }) => id);
  expect(lessons.toSorted()).toEqual(inForce.toSorted());
});

it("goes in the order of the work (common practice, no source)", async () => {
  const files = await readCollection(resolve(import.meta.dirname, "../../../procedures"));
  const path = studyPath(forceOn(files, "2026-11-28").shown.platforms[0]!);
  const titles = path.map(({ title }) => title);
  // What every run has comes before any arrangement; the readiness check, with which a shift begins, is its first.
  expect(titles.slice(0, 3)).toEqual(["Background", "Every run", "Newborn capsule"]);
  expect(path[1]!.entries[0]!.document).toBe("procedure readiness-check");
  // "Done before anything is fetched" (its own page): weight and band come before whatever else a run has.
  expect(path[1]!.entries[1]!.document).toBe("procedure confirm-band");
  const at = (title: string, id: string) =>
    path.find((leg) => leg.title === title)!.entries.findIndex(({ document }) => document === `procedure ${id}`);
  // The capsule is dressed on its base, seated, then the newborn is strapped in; then it is taken off and down.
  const capsule = ["lock-capsule-base", "seat-capsule", "strap-newborn", "unseat-capsule", "lift-off-capsule-base"].map(
    (id) => at("Newborn capsule", id),
  );
  expect(capsule.every((place) => place > 0)).toBe(true);
  expect(capsule).toEqual(capsule.toSorted((a, b) => a - b));
  // What every arrangement has in the lower bay parts no two steps of building this one.
  const [last, bag, strapping] = ["dress-capsule", "response-bag-in", "strap-newborn"].map((id) =>
    at("Newborn capsule", id),
  );
  expect([bag! > last!, strapping! > bag!]).toEqual([true, true]);
  expect(at("Child cradle", "strap-child")).toBeGreaterThan(at("Child cradle", "fit-child-cradle"));
  expect(at("Deck harness", "strap-patient")).toBeGreaterThan(at("Deck harness", "fit-deck-harness"));
});
