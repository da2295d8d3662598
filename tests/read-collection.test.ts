/** The collections that tests share can't carry what one test does to the next. Compared with itself: invented. */
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { readCollection } from "./read-collection.ts";

const sled = resolve(import.meta.dirname, "fixtures/collections/sled");

/** Every object in it, itself among them. */
function partsOf(value: unknown, met = new Set<object>()): Set<object> {
  if (typeof value !== "object" || value === null || met.has(value)) return met;
  met.add(value);
  for (const part of Object.values(value)) partsOf(part, met);
  return met;
}

it("is read once, and nothing in it can be changed", async () => {
  const collection = await readCollection(sled);
  expect(await readCollection(`${sled}/.`)).toBe(collection);
  const parts = [...partsOf(collection)];
  expect(parts.length).toBeGreaterThan(500);
  expect(parts.filter((part) => !Object.isFrozen(part))).toEqual([]);
  expect(() => (collection.platforms as unknown[]).push("one more")).toThrow(TypeError);
});

it("is read anew, and free, where a test has written it", async () => {
  const folder = mkdtempSync(join(tmpdir(), "rerig-read-"));
  try {
    cpSync(sled, folder, { recursive: true });
    const [one, two] = [await readCollection(folder), await readCollection(folder)];
    expect(one).not.toBe(two);
    expect(Object.isFrozen(one)).toBe(false);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
