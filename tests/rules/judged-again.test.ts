/**
 * `check` by all that an earlier run has left (compiled files, platforms as they were read, what rules said of them)
 * finds what it finds by nothing, byte for byte: after every edit of any file, on any day, and with files of the cache
 * cut, turned, exchanged and away. Compared with reading and judging without a cache. Common practice, no source.
 */
import { cpSync, existsSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, expect, it } from "vitest";
import { compiledIn, shelfIn } from "../../src/build/shelf.ts";
import { loadCollection, NoCollection } from "../../src/compile/load.ts";
import { keepOn, type ResultShelf } from "../../src/domain/words/keep.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";
import { checkResult } from "../../src/findings/report.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { speakFor } from "../../src/words/words.ts";
import { anyEdit, edit, EDIT_DAYS, filesIn, pick, writeWhole } from "../arbitraries/edit.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-judged-")),
  whole = join(work, "whole"),
  folder = join(work, "edited");
/** Edits that are tried; `RERIG_EDITS` says another number. */
const TRIED = Number(process.env["RERIG_EDITS"] ?? 45);

beforeAll(async () => {
  await writeWhole({ work, whole, folder });
});
afterAll(() => {
  keepOn(undefined);
  rmSync(work, { recursive: true, force: true });
});

let runs = 0;
/** The cache folder under a name that no process has opened yet: what it knows, it knows from the disk. */
function nextRun(): string {
  const [last, next] = [join(work, `cache-${runs}`), join(work, `cache-${(runs += 1)}`)];
  if (existsSync(last)) renameSync(last, next);
  return next;
}

const asked = { judged: 0, known: 0 };
/** A shelf that counts what is asked of whole platforms. */
const counting = (under: ResultShelf): ResultShelf => ({
  find(name, question) {
    const answer = under.find(name, question);
    if (name.startsWith("judged")) asked.judged += 1;
    if (name.startsWith("judged") && answer !== undefined) asked.known += 1;
    return answer;
  },
  put: under.put,
});

/** What `check --json` says of the folder on a day, by a cache or by none. */
async function check(day: string, cache?: string): Promise<string> {
  keepOn(cache === undefined ? undefined : counting(shelfIn(cache, "1")));
  const read = new Findings();
  try {
    const files = await loadCollection(
      folder,
      read,
      cache === undefined ? {} : { compiled: compiledIn(folder, cache, "1") },
    );
    speakFor(files.service);
    const findings = inFileOrder(runRules(files, read, day));
    return JSON.stringify([checkResult(files, findings), findings], null, 1);
  } catch (error) {
    if (error instanceof NoCollection) return error.message;
    throw error;
  }
}

it("finds the same by all that earlier runs have left, after any edit", async () => {
  let day = EDIT_DAYS[0]!;
  const done: string[] = [];
  for (const one of fc.sample(anyEdit, { numRuns: TRIED, seed: Number(process.env["RERIG_SEED"] ?? 12) })) {
    const cache = nextRun();
    if (one.how === "day") day = pick(EDIT_DAYS, one.at)!;
    edit({ work, whole, folder }, one, cache);
    done.push(JSON.stringify(one));
    const bare = await check(day),
      kept = await check(day, cache);
    expect(kept, done.join("\n")).toBe(bare);
  }
  // Most platforms are as they were: else this compares nothing.
  expect(asked.judged).toBeGreaterThan(TRIED * 2);
  expect(asked.known).toBeGreaterThan(asked.judged / 3);
}, 900_000);

it("judges only the platform of an edit, and nothing where nothing has changed", async () => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(whole, folder, { recursive: true });
  const known = async (cache: string) => {
    Object.assign(asked, { judged: 0, known: 0 });
    await check(EDIT_DAYS[0]!, cache);
    return [asked.known, asked.judged];
  };
  await check(EDIT_DAYS[0]!, nextRun());
  expect(await known(nextRun())).toEqual([3, 3]);
  const file = join(folder, "wagon/set-barre.mdx");
  writeFileSync(file, readFileSync(file, "utf8").replace(":::step", "Words.\n\n:::step"));
  expect(await known(nextRun())).toEqual([2, 3]);
  const service = join(folder, "service.yaml");
  writeFileSync(service, `${readFileSync(service, "utf8")}\n`.replace(/name: .*/, "name: Another theatre"));
  expect(await known(nextRun())).toEqual([0, 3]);
  expect(await known(nextRun())).toEqual([3, 3]);
});

/** Edits of what stands beside the platforms, each of which changes what is found. */
const BESIDE: readonly (readonly [what: string, file: string, from: RegExp, to: string])[] = [
  ["whom the service carries", "service.yaml", /from 30 kg up to 110 kg/, "from 20 kg up to 150 kg"],
  ["a role of its crew", "service.yaml", / {2}second: Stagehand\n/, ""],
  ["what it makes of a rule", "service.yaml", /plan\/silent-slip: off/, "plan/silent-slip: error"],
  ["what has happened", "incidents.yaml", /^(\S+):/m, "another-$1:"],
  ["a card in a folder", "folders.yaml", /\b[0-9A-Z]{4}-[0-9A-Z]{2}\b/, "2222-22"],
];

it.each(BESIDE)("judges a platform again when this has changed: %s", async (_, name, from, to) => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(whole, folder, { recursive: true });
  const day = EDIT_DAYS[0]!,
    before = await check(day, nextRun()),
    file = join(folder, name),
    text = readFileSync(file, "utf8");
  expect(text).toMatch(from);
  writeFileSync(file, text.replace(from, to));
  const bare = await check(day);
  expect(bare).not.toBe(before);
  expect(await check(day, nextRun())).toBe(bare);
});

it("judges a platform again when what was issued of it has changed", async () => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(whole, folder, { recursive: true });
  const day = EDIT_DAYS[0]!,
    before = await check(day, nextRun()),
    file = filesIn(join(folder, "issued"), /\.json$/)[0]!;
  writeFileSync(file, readFileSync(file, "utf8").replace(/"title": *"/, "$&Another "));
  const bare = await check(day);
  expect(bare).not.toBe(before);
  expect(await check(day, nextRun())).toBe(bare);
});
