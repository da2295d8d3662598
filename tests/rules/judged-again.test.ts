/**
 * `check` by all that an earlier run has left (compiled files, platforms as they were read, what rules said of them)
 * finds what it finds by nothing, byte for byte: after every edit of any file, on any day, and with files of the cache
 * cut, turned, exchanged and away. Compared with reading and judging without a cache. Common practice, no source.
 */
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, expect, it } from "vitest";
import { compiledIn, shelfIn } from "../../src/build/shelf.ts";
import { loadCollection, NoCollection } from "../../src/compile/load.ts";
import { keepOn, type ResultShelf } from "../../src/domain/words/keep.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";
import { checkResult } from "../../src/findings/report.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { speakFor } from "../../src/words/words.ts";
import { runHere } from "../commands/run-here.ts";

const collections = resolve(import.meta.dirname, "../fixtures/collections"),
  work = mkdtempSync(join(tmpdir(), "rerig-judged-")),
  whole = join(work, "whole"),
  folder = join(work, "edited");
/** Edits that are tried; `RERIG_EDITS` says another number. */
const TRIED = Number(process.env["RERIG_EDITS"] ?? 45);

beforeAll(async () => {
  cpSync(join(collections, "theatre"), whole, { recursive: true });
  // A third platform, with errors of its own: it names a crew of another service.
  cpSync(join(collections, "sled/sled"), join(whole, "sled"), { recursive: true });
  cpSync(join(collections, "theatre"), join(work, "issuing"), { recursive: true });
  expect(await runHere(["issue", "--procedures", join(work, "issuing")], "2026-11-28")).toMatchObject({ status: 0 });
  cpSync(join(work, "issuing/issued"), join(whole, "issued"), { recursive: true });
  writeFileSync(join(work, "outside.yaml"), "name: Outside\n");
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

const KINDS = [
  "word",
  "number",
  "line out",
  "line twice",
  "line moved",
  "renamed",
  "away",
  "copied",
  "photos exchanged",
  "no text",
  "too large",
  "link",
  "folder copied",
  "folder away",
  "issue edited",
  "day",
  "cache cut",
  "cache turned",
  "cache exchanged",
  "cache away",
  "undone",
  "undone",
  "undone",
  "undone",
  "undone",
  "nothing",
] as const;
const anyEdit = fc.record({
  how: fc.constantFrom(...KINDS),
  at: fc.double({ min: 0, max: 0.999, noNaN: true }),
  to: fc.double({ min: 0, max: 0.999, noNaN: true }),
  which: fc.nat(9),
});
type Edit = typeof anyEdit extends fc.Arbitrary<infer T> ? T : never;
const DAYS = ["2026-11-28", "2026-11-29", "2026-03-01", "2027-07-01", "2029-01-01"];

const filesIn = (of: string, ending: RegExp) =>
  (existsSync(of) ? readdirSync(of, { recursive: true, encoding: "utf8" }) : [])
    .filter((name) => ending.test(name))
    .sort()
    .map((name) => join(of, name));
const pick = <T>(list: readonly T[], at: number): T | undefined => list[Math.floor(at * list.length)];

function edit({ how, at, to, which }: Edit, cache: string): void {
  const texts = filesIn(folder, how === "issue edited" ? /issued.*\.json$/ : /^(?!issued).*\.(?:mdx|yaml)$/),
    kept = filesIn(cache, /-/),
    // What stands beside the platforms is a few files of many, and rests in every answer.
    beside = texts.filter((name) => ["service.yaml", "incidents.yaml", "folders.yaml"].includes(basename(name))),
    file = how.startsWith("cache") ? pick(kept, at) : pick(which < 3 ? beside : texts, at);
  if (how === "undone") {
    rmSync(folder, { recursive: true, force: true });
    cpSync(whole, folder, { recursive: true });
  }
  if (how === "folder copied") cpSync(join(folder, "wagon"), join(folder, "wagon-two"), { recursive: true });
  if (how === "folder away")
    rmSync(join(folder, pick(["wagon-two", "sled", "reviews"], at)!), { recursive: true, force: true });
  if (how === "photos exchanged") {
    const photos = filesIn(folder, /photos.*\.(?:jpg|png)$/),
      [one, other] = [pick(photos, at), pick(photos, to)];
    if (one && other) exchange(one, other);
  }
  if (!file || !existsSync(file)) return;
  const lines = () => readFileSync(file, "utf8").split("\n");
  const number = Math.floor(to * lines().length);
  const put = (changed: readonly string[]) => writeFileSync(file, changed.join("\n"));
  if (how === "line out") put(lines().toSpliced(number, 1));
  if (how === "line twice" || how === "issue edited") put(lines().toSpliced(number, 0, lines()[number]!));
  if (how === "line moved") put([...lines().toSpliced(number, 1), lines()[number]!]);
  if (how === "word" || how === "number") {
    const text = readFileSync(file, "utf8"),
      found = pick([...text.matchAll(how === "word" ? /[a-z]{4,}/g : /\d+/g)], to);
    if (found)
      writeFileSync(
        file,
        text.slice(0, found.index) +
          (how === "word" ? `${found[0].slice(1)}x` : String(Number(found[0]) + 1)) +
          text.slice(found.index + found[0].length),
      );
  }
  if (how === "renamed") renameSync(file, file.replace(/(\.\w+)$/, "-x$1"));
  if (how === "away") rmSync(file);
  if (how === "copied") cpSync(file, file.replace(/(\.\w+)$/, "-two$1"));
  if (how === "no text") writeFileSync(file, "\0");
  if (how === "too large") writeFileSync(file, Buffer.alloc(2_000_001, 32));
  if (how === "link") {
    rmSync(file);
    symlinkSync(join(work, "outside.yaml"), file);
  }
  if (how === "cache cut") truncateSync(file, Math.floor(to * readFileSync(file).length));
  if (how === "cache turned") {
    const bytes = readFileSync(file);
    if (bytes.length) bytes[Math.floor(to * bytes.length)]! ^= 1;
    writeFileSync(file, bytes);
  }
  if (how === "cache exchanged") exchange(file, pick(kept, to)!);
  if (how === "cache away") rmSync(file);
}

function exchange(one: string, other: string): void {
  const [a, b] = [readFileSync(one), readFileSync(other)];
  writeFileSync(one, b);
  writeFileSync(other, a);
}

it("finds the same by all that earlier runs have left, after any edit", async () => {
  cpSync(whole, folder, { recursive: true });
  let day = DAYS[0]!;
  const done: string[] = [];
  for (const one of fc.sample(anyEdit, { numRuns: TRIED, seed: Number(process.env["RERIG_SEED"] ?? 12) })) {
    const cache = nextRun();
    if (one.how === "day") day = pick(DAYS, one.at)!;
    edit(one, cache);
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
    await check(DAYS[0]!, cache);
    return [asked.known, asked.judged];
  };
  await check(DAYS[0]!, nextRun());
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
  const day = DAYS[0]!,
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
  const day = DAYS[0]!,
    before = await check(day, nextRun()),
    file = filesIn(join(folder, "issued"), /\.json$/)[0]!;
  writeFileSync(file, readFileSync(file, "utf8").replace(/"title": *"/, "$&Another "));
  const bare = await check(day);
  expect(bare).not.toBe(before);
  expect(await check(day, nextRun())).toBe(bare);
});
