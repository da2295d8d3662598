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
