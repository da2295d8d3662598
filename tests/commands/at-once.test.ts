/**
 * A collection that is read and judged by several threads is found to be what one finds, letter by letter. Compared
 * with a process that has no threads. Common practice, no source.
 */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, afterEach, beforeAll, expect, it } from "vitest";
import { compiledIn } from "../../src/build/shelf.ts";
import { beginHelpers } from "../../src/commands/at-once.ts";

const root = resolve(import.meta.dirname, "../.."),
  collections = join(root, "tests/fixtures/collections"),
  work = mkdtempSync(join(tmpdir(), "rerig-at-once-")),
  folder = join(work, "collection"),
  PLATFORMS = ["carriage", "sled", "wagon"];

beforeAll(() => {
  cpSync(join(collections, "theatre"), folder, { recursive: true });
  // A platform of another service: it names a crew that is not there.
  cpSync(join(collections, "sled/sled"), join(folder, "sled"), { recursive: true });
  const damaged = join(
    folder,
    "wagon",
    readdirSync(join(folder, "wagon")).find((name) => name.endsWith(".mdx"))!,
  );
  writeFileSync(damaged, `${readFileSync(damaged, "utf8")}\n:::step{by=nobody\n`);
});
afterAll(() => {
  rmSync(work, { recursive: true, force: true });
});
afterEach(() => delete process.env["RERIG_WORKERS"]);

it("has the same findings by any number of threads, on a first and on a second run", () => {
  const check = (workers: number, cache: string) => {
    const { status, stdout } = spawnSync(
      process.execPath,
      [join(root, "src/commands/rerig.mjs"), "check", "--json", "--procedures", folder],
      {
        encoding: "utf8",
        env: {
          ...process.env,
          RERIG_TODAY: "2026-06-01",
          RERIG_CACHE: join(work, cache),
          RERIG_WORKERS: String(workers),
        },
      },
    );
    return { status, stdout };
  };
  const one = check(1, "one");
  expect(one.status).toBe(1);
  expect(JSON.parse(one.stdout)).toMatchObject({ read: { platforms: 3 } });
  expect(check(3, "three")).toEqual(one);
  expect(check(3, "three")).toEqual(one);
}, 300_000);

it("is read by the threads where this process reads nothing; where all is known there are none", async () => {
  const own = join(work, "own");
  cpSync(folder, own, { recursive: true });
  process.env["RERIG_WORKERS"] = "3";
  const helpers = beginHelpers(own, "2026-06-01", false)!;
  await helpers.untilRead();
  expect([...helpers.toRead()]).toEqual([]);
  expect(PLATFORMS.filter((name) => !compiledIn(own).holdsWhole(name))).toEqual([]);
  await helpers.untilJudged();
  expect([...helpers.toJudge()]).toEqual([]);
  expect(beginHelpers(own, "2026-06-01", false)).toBeUndefined();
  process.env["RERIG_WORKERS"] = "1";
  expect(beginHelpers(folder, "2026-06-01", false)).toBeUndefined();
}, 300_000);
