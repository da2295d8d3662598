/**
 * A folder of the test file's own, with the cache in it: imported before what keeps something in the cache, which reads
 * where it is when it is loaded.
 */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll } from "vitest";

/** The folder; it is removed when the file's tests are done. */
export const work = mkdtempSync(join(tmpdir(), "rerig-desk-"));
process.env["RERIG_CACHE"] = join(work, "cache");
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** The project's folder. */
export const project = resolve(import.meta.dirname, "../..");
// What Astro has bundled of the pages is that of all: it is held to bundling anew in tests/build/kept-bundle.test.ts.
linkKept("bundles");
/** The Node that the project brings. */
export const node = join(project, "node_modules/.bin/node");

/**
 * Lets the file's own cache know what the demo's build has proved (`npm test` makes it first): for tests of something
 * else, which would prove the demo once more. What is kept is held to what is worked out in tests/rules/kept.test.ts.
 */
export function knowWhatIsProved(): void {
  linkKept("kept");
}

/** Takes a folder of the project's cache into the file's own. */
function linkKept(name: "kept" | "bundles"): void {
  const kept = join(project, "node_modules/.cache/rerig", name);
  mkdirSync(kept, { recursive: true });
  mkdirSync(join(work, "cache"), { recursive: true });
  symlinkSync(kept, join(work, "cache", name), "dir");
}
