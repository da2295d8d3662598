/**
 * A desk that is killed while it saves leaves every file whole, and its next start leaves nothing else (invented
 * moments; compared byte by byte).
 */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, describe, expect, it } from "vitest";
import { node, project, work } from "./work-folder.ts";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { historyOf, startSaving } from "../../src/desk/disk/save.ts";
/**
 * How often it is killed at least (`RERIG_EVERY=1`: 200 times; `RERIG_KILLS` says another number); it goes on till it
 * was killed in the middle of a save and between its files.
 */
const KILLS = Number(process.env["RERIG_KILLS"] ?? (process.env["RERIG_EVERY"] === "1" ? 200 : 60)),
  MOST = Math.max(300, KILLS),
  LANES = 4;
const AS_NODE = { platform: "node", format: "esm", logLevel: "error" } as const;

describe("a desk that is killed", () => {
  const LENGTH = 200_000;
  const running = new Set<ChildProcess>();
  afterAll(() => running.forEach((child) => child.kill("SIGKILL")));

  it(`at ${KILLS} moments leaves each file whole, and after the next start both files and nothing else`, async () => {
    // In one file it starts in a fraction of the time.
    const saver = join(work, "save-pair.mjs");
    await build({
      entryPoints: [join(project, "tests/fixtures/save-pair.ts")],
      bundle: true,
      outfile: saver,
      ...AS_NODE,
    });
    const counts = { killed: 0, littered: 0, apart: 0 };
    const paths = ["cart/fit.mdx", "cart/photos/fit.yaml"];
    const hasMet = () => counts.littered > KILLS / 10 && counts.apart > 0;
    const isWanted = () => counts.killed < KILLS || (!hasMet() && counts.killed < MOST);
    const run = async (lane: number) => {
      const folder = mkdtempSync(join(work, "k-"));
      mkdirSync(join(folder, "cart/photos"), { recursive: true });
      for (const path of paths) writeFileSync(join(folder, path), "0".repeat(LENGTH));
      for (let round = 0; isWanted(); round += 1) {
        const child = spawn(node, [saver, folder], {
          stdio: ["ignore", "pipe", "inherit"],
        });
        running.add(child);
        await new Promise<void>((done) => child.stdout.once("data", () => done()));
        await new Promise((done) => setTimeout(done, ((lane * 50 + round) * 7) % 127));
        const gone = new Promise((done) => child.once("exit", done));
        child.kill("SIGKILL");
        await gone;
        running.delete(child);
        counts.killed += 1;
        const texts = paths.map((path) => readFileSync(join(folder, path), "utf8"));
        for (const text of texts) expect(text === text[0]!.repeat(LENGTH)).toBe(true);
        if (texts[0] !== texts[1]) counts.apart += 1;
        const all = () => readdirSync(folder, { recursive: true, encoding: "utf8" }).sort();
        if (all().length > 4) counts.littered += 1;
        expect(startSaving(folder)).toBeUndefined();
        expect(all()).toEqual(["cart", "cart/fit.mdx", "cart/photos", "cart/photos/fit.yaml"]);
        const [one, two] = paths.map((path) => readFileSync(join(folder, path), "utf8"));
        expect(one === two).toBe(true);
        const last = historyOf(folder, paths[0]!)[0];
        expect(last === undefined || last.hash === contentHash(one!)).toBe(true);
      }
    };
    await Promise.all(Array.from({ length: LANES }, (_, lane) => run(lane)));
    expect(counts.killed).toBeGreaterThanOrEqual(KILLS);
    // It was killed in the middle of a save, and between its two files: otherwise this shows nothing.
    expect(hasMet(), JSON.stringify(counts)).toBe(true);
  }, 300_000);
});
