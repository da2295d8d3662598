/**
 * Builds that are killed at any moment, and builds that run at the same time into one folder: is anything lost, or half
 * there? `node tests/bench/interrupted.ts KILLS PAIRS` over a small collection (invented); compares every file of the
 * site with those of an undisturbed build (builds of the same collection give the same bytes). Ends with 1 if anything
 * was lost. A few of each are part of `tests/build/build.test.ts`; this is for many.
 */
import { spawn, type ChildProcess } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { bringBack } from "../../src/build/out-folder.ts";

const [kills = 20, pairs = 5] = process.argv.slice(2).map(Number);
const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-interrupted-"));
const source = join(work, "collection"),
  out = join(work, "site");
cpSync(join(root, "tests/fixtures/collections/sled"), source, { recursive: true });

const start = () =>
  spawn(process.execPath, [join(root, "src/commands/rerig.mjs"), "build", "--procedures", source, "--out", out], {
    stdio: "ignore",
    env: { ...process.env, RERIG_TODAY: "2026-11-28" },
  });
const ended = (child: ChildProcess) => new Promise<number | null>((done) => child.once("exit", done));
/** Hash over the names and the bytes of all files below a folder; empty if it is not there. */
const hashOf = (folder: string): string => {
  if (!existsSync(folder)) return "";
  const hash = createHash("sha256");
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile())
    .map((each) => join(each.parentPath, each.name))
    .sort())
    hash.update(entry).update(readFileSync(entry));
  return hash.digest("hex");
};

const began = Date.now();
if ((await ended(start())) !== 0) throw new Error("The build does not work undisturbed");
const takes = Date.now() - began,
  whole = hashOf(out),
  collection = hashOf(source);
let lost = 0,
  completed = 0,
  missing = 0;
for (let at = 0; at < kills; at++) {
  const child = start(),
    end = ended(child);
  // Half of them near the end, where the folders are exchanged.
  const timer = setTimeout(() => child.kill("SIGKILL"), takes * (at % 2 ? Math.random() : 0.75 + Math.random() * 0.4));
  if ((await end) === 0) completed += 1;
  clearTimeout(timer);
  if (!existsSync(out)) missing += 1;
  bringBack(out);
  if (hashOf(out) !== whole || hashOf(source) !== collection) lost += 1;
}
console.log(`${kills} killed (${completed} had ended before): ${lost} lost or half, ${missing} brought back`);
const codes: Record<string, number> = {};
let torn = 0;
for (let at = 0; at < pairs; at++) {
  // The second begins with the first, or while the first is under way.
  const first = ended(start());
  await new Promise((go) => setTimeout(go, at % 2 ? Math.random() * takes * 0.5 : 0));
  const both = (await Promise.all([first, ended(start())])).join(" and ");
  codes[both] = (codes[both] ?? 0) + 1;
  if (hashOf(out) !== whole || hashOf(source) !== collection) torn += 1;
  if ((at + 1) % 10 === 0) console.log(`${at + 1} pairs so far: ${JSON.stringify(codes)}, ${torn} lost or half`);
}
const beside = readdirSync(work).filter((name) => name !== "collection" && name !== "site");
console.log(`${pairs} pairs at the same time: ended with ${JSON.stringify(codes)}, ${torn} lost or half`);
console.log(`Left beside the site: ${beside.join(", ") || "nothing"}`);
rmSync(work, { recursive: true, force: true });
if (lost + torn + beside.length > 0) process.exitCode = 1;
