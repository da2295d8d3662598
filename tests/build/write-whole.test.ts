/** A file is written whole or not at all, whenever the writer is killed (invented moments; compared byte by byte). */
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, expect, it } from "vitest";
import { writeWhole } from "../../src/build/write-whole.ts";

const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-whole-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

it("killed while it writes, leaves a whole file, and the next run clears up what the killed one left", async () => {
  const file = join(work, "cards.pdf");
  let leftOvers = 0;
  for (let round = 0; round < 60 && leftOvers < 4; round += 1) {
    const child = spawn(join(root, "node_modules/.bin/node"), [join(root, "tests/fixtures/write-whole.ts"), file], {
      stdio: ["ignore", "pipe", "inherit"],
    });
    await new Promise<void>((done) => child.stdout.once("data", () => done()));
    await new Promise((done) => setTimeout(done, 3 + ((round * 7) % 40)));
    const gone = new Promise((done) => child.once("exit", done));
    child.kill("SIGKILL");
    await gone;
    if (existsSync(file)) {
      const bytes = readFileSync(file);
      expect(bytes.length).toBe(8 << 20);
      expect(bytes.equals(Buffer.alloc(8 << 20, bytes[0]))).toBe(true);
    }
    leftOvers += readdirSync(work).filter((name) => name.endsWith(".part")).length;
  }
  // It was killed in the middle of writing at least once: otherwise this shows nothing.
  expect(leftOvers).toBeGreaterThan(0);
  writeWhole(file, "done");
  expect(readdirSync(work)).toEqual(["cards.pdf"]);
  expect(readFileSync(file, "utf8")).toBe("done");
});
