/** A platform for work that reads no procedure. Common practice, no source. */
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { withoutProcedures } from "../../../src/domain/parts/without-procedures.ts";
import type { Platform } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

const { platforms } = await readCollection(resolve(import.meta.dirname, "../../fixtures/collections/surgery")),
  platform = platforms[0]!;

it("is one and the same for platforms that differ in procedures alone, and another one for any other field", () => {
  const view = withoutProcedures(platform);
  expect(withoutProcedures({ ...platform, procedures: [] })).toBe(view);
  for (const field of Object.keys(platform).filter((each) => each !== "procedures") as (keyof Platform)[]) {
    const other = { ...platform, [field]: structuredClone(platform[field]) };
    if (typeof platform[field] === "object") expect(withoutProcedures(other), field).not.toBe(view);
    const { [field]: _, ...less } = platform;
    if (field !== "configurations") expect(withoutProcedures(less as Platform), field).not.toBe(view);
  }
  expect(withoutProcedures({ ...platform, out: new Map() })).not.toBe(view);
  expect(withoutProcedures({ ...platform, procedures: [] })).toBe(view);
});

it("has all that the platform has, and lets nobody ask for a procedure", () => {
  const { procedures: _, ...rest } = platform;
  expect({ ...withoutProcedures(platform) }).toEqual(rest);
  expect(() => withoutProcedures(platform).procedures).toThrow(/A procedure of .* is asked for/);
});
