/**
 * What another editor writes while the desk saves is never lost: 50 pairs at invented moments, compared with the text
 * that the other editor wrote. Whoever comes last stands: if the other's text is gone, the desk has overwritten it.
 */
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { expect, it } from "vitest";
import { node, project, work } from "./work-folder.ts";
import { contentHash } from "../../src/desk/disk/keep-states.ts";
import { saveFiles } from "../../src/desk/disk/save.ts";

it("is left standing in 50 races, written in place and by renaming", async () => {
  const root = mkdtempSync(join(work, "c-")),
    file = join(root, "cart/fit.mdx");
  mkdirSync(join(root, "cart"));
  const editor = join(work, "editor.mjs");
  await build({
    entryPoints: [join(project, "tests/fixtures/write-elsewhere.ts")],
    bundle: true,
    outfile: editor,
    platform: "node",
    format: "esm",
    logLevel: "error",
  });
  const became = { changed: 0, saved: 0 };
  for (let round = 0; round < 50; round += 1) {
    writeFileSync(file, "old");
    const theirs = `theirs ${round} ${"x".repeat(50_000)}`,
      how = round % 2 ? "rename" : "in place";
    // The other writes before, while and after the save is made, which takes some 20 ms.
    const other = spawn(node, [editor, file, theirs, how, String((round * 7) % 90)], {
      stdio: ["pipe", "pipe", "inherit"],
    });
    await new Promise<void>((done) => other.stdout.once("data", () => done()));
    const gone = new Promise((done) => other.once("exit", done));
    other.stdin.write("go\n");
    await new Promise((done) => setTimeout(done, 10));
    const result = saveFiles(root, [{ path: "cart/fit.mdx", basedOn: contentHash("old"), text: `mine ${round}` }]);
    became["saved" in result ? "saved" : "changed"] += 1;
    expect("refused" in result).toBe(false);
    await gone;
    expect(readFileSync(file, "utf8") === theirs, `round ${round}, ${how}, ${Object.keys(result)[0]!}`).toBe(true);
    expect(readdirSync(join(root, "cart"))).toEqual(["fit.mdx"]);
  }
  // Both came first some times: otherwise they did not meet.
  expect(became.saved).toBeGreaterThan(3);
  expect(became.changed).toBeGreaterThan(3);
}, 120_000);
