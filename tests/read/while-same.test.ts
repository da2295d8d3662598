/** What was read of a file is asked again once it is another, or may be. Common practice, no source. */
import { mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, expect, it } from "vitest";
import { whileSame } from "../../src/read/while-same.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-same-"));
afterAll(() => rmSync(work, { recursive: true }));

it("reads a file again while it was changed just now, once when it has settled, and again after a change", async () => {
  const file = join(work, "photo");
  let reads = 0;
  const read = whileSame(async (path) => {
    reads += 1;
    return readFile(path, "utf8").catch(() => undefined);
  });
  expect(await read(file)).toBeUndefined();
  writeFileSync(file, "one");
  expect(await read(file)).toBe("one");
  writeFileSync(file, "two");
  expect([await read(file), reads]).toEqual(["two", 3]);
  await pause(4500);
  expect([await read(file), await read(file), reads]).toEqual(["two", "two", 4]);
  // The same size and the same time of change, put back: the time at which that was done tells.
  writeFileSync(file, "six");
  utimesSync(file, 1, 1);
  expect(await read(file)).toBe("six");
  rmSync(file);
  expect(await read(file)).toBeUndefined();
}, 20_000);
