/** Collections for tests, each of this repository's read once for all files that share a worker. */
import { join, resolve, sep } from "node:path";
import { loadCollection } from "../src/compile/load.ts";
import { Findings } from "../src/findings/finding.ts";
import type { Collection } from "../src/schema/collection.ts";

const root = resolve(import.meta.dirname, "..");
const SHARED = [join(root, "procedures"), join(root, "tests/fixtures/collections")];
const known = new Map<string, Promise<Collection>>();

/**
 * The collection in a folder, whatever is found wrong in it. One that belongs to the repository (the demo, the small
 * ones of the tests) is the same object for all tests of a worker, and frozen: what changes it throws there and then,
 * and can't reach the next test. Any other is read anew each time, as a test may have written it just now.
 */
export function readCollection(folder: string): Promise<Collection> {
  const full = resolve(folder);
  if (!SHARED.some((shared) => full === shared || full.startsWith(shared + sep)))
    return loadCollection(full, new Findings());
  const read = known.get(full) ?? loadCollection(full, new Findings()).then(freeze);
  known.set(full, read);
  return read;
}

/** Everything in it, from now on as it is. A collection holds no maps and sets, which can't be frozen. */
function freeze<T>(value: T): T {
  if (typeof value !== "object" || value === null || Object.isFrozen(value)) return value;
  if (value instanceof Map || value instanceof Set) throw new TypeError("A map or a set in a collection stays open");
  Object.freeze(value);
  for (const part of Object.values(value)) freeze(part);
  return value;
}
