/**
 * Pages of platforms of which nothing has changed are taken from an earlier build: they, and what they ask for, are
 * those that rendering gives, after any edit of any file, on any day, and with files of the cache cut, turned,
 * exchanged and away. Compared with rendering every page. Common practice, no source.
 */
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, beforeEach, expect, it } from "vitest";
import { openPageMaker } from "../../src/build/build.ts";
import { KeptPages } from "../../src/build/kept/kept-pages.ts";
import { compiledIn, type PageShelf, pagesIn } from "../../src/build/shelf.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { knowAssets, assetsOf } from "../../src/site/assets.ts";
import { isOfPlatform } from "../../src/site/of-platform.ts";
import { makeSite, type Site } from "../../src/site/site.ts";
import { speakFor } from "../../src/words/words.ts";
import { buildWhole, NOTHING_KEPT, renderAll, renderOrSay } from "./render-all.ts";
import { anyEdit, edit, EDIT_DAYS, filesIn, pick, writeWhole } from "../arbitraries/edit.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-kept-")),
  at = { work, whole: join(work, "whole"), folder: join(work, "edited") },
  { whole, folder } = at,
  cache = join(work, "cache"),
  /** What a build of the collection before any edit leaves: that each test begins with. */
  left = join(work, "left"),
  maker = openPageMaker();
/** Edits that are tried; `RERIG_EDITS` says another number. */
const TRIED = Number(process.env["RERIG_EDITS"] ?? 6);
const DAY = EDIT_DAYS[0]!;

/** What pages are before any edit. */
let before: unknown;

beforeAll(async () => {
  await writeWhole(at);
  before = await rendered(await siteOn(DAY), pagesIn(folder, left));
}, 300_000);
beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(whole, folder, { recursive: true });
  rmSync(cache, { recursive: true, force: true });
  cpSync(left, cache, { recursive: true });
  found.splice(0);
});
afterAll(async () => {
  await maker.close();
  rmSync(work, { recursive: true, force: true });
});

const found: string[] = [];
/** The shelf in the test's cache folder; says which platforms were at hand. */
const counting = (under: PageShelf): PageShelf => ({
  find: (platform, key) => {
    const pages = under.find(platform, key);
    if (pages) found.push(platform);
    return pages;
  },
  put: under.put,
});

async function siteOn(day: string, hashPhotos = true): Promise<Site> {
  const read = new Findings(),
    files = await loadCollection(folder, read, { hashPhotos, compiled: compiledIn(folder, join(work, "compiled")) });
  speakFor(files.service);
  return makeSite(folder, files, day, inFileOrder(runRules(files, read, day)));
}

const rendered = async (site: Site, kept: PageShelf): Promise<unknown> => renderAll(site, maker, kept);

/** By what is kept, and by nothing. */
const both = async (day: string, hashPhotos = true): Promise<readonly [kept: unknown, bare: unknown]> => [
  await renderOrSay(siteOn(day, hashPhotos), maker, counting(pagesIn(folder, cache))),
  await renderOrSay(siteOn(day, hashPhotos), maker, NOTHING_KEPT),
];

it(`are those that rendering gives, after each of ${TRIED} edits`, async () => {
  let day = DAY,
    platforms = 0;
  const done: string[] = [];
  for (const one of fc.sample(anyEdit, { numRuns: TRIED, seed: Number(process.env["RERIG_SEED"] ?? 25) })) {
    if (one.how === "day") day = pick(EDIT_DAYS, one.at)!;
    edit(at, one, cache);
    done.push(JSON.stringify(one));
    const [kept, bare] = await both(day);
    expect(kept, done.join("\n")).toEqual(bare);
    if (typeof bare !== "string") platforms += 3;
  }
  process.stderr.write(`${found.length} of ${platforms} platforms were at hand\n`);
  expect(found.length).toBeGreaterThan(platforms / 5);
}, 7_200_000);

it("get nothing from the whole site with the list of their paths", () => {
  const pages = resolve(import.meta.dirname, "../../src/pages"),
    listed = filesIn(join(pages, "[platform]"), /\.(?:astro|ts)$/).map((file) => {
      const [, by = ""] = /getStaticPaths = (\w+)\(/.exec(readFileSync(file, "utf8")) ?? [];
      return [isOfPlatform(`src/pages${file.slice(pages.length)}`), by];
    });
  expect(listed.length).toBeGreaterThan(40);
  for (const [isAlone, by] of listed) expect(by).toBe(isAlone ? "pathsOfEach" : "pathsOf");
});

it("are those of the platform of an edit alone, and of none where nothing has changed", async () => {
  const atHand = async () => {
    found.splice(0);
    await rendered(await siteOn(DAY), counting(pagesIn(folder, cache)));
    return [...found].sort();
  };
  expect(await atHand()).toEqual(["carriage", "sled", "wagon"]);
  const file = join(folder, "wagon/set-barre.mdx");
  writeFileSync(file, readFileSync(file, "utf8").replace(":::step", "Words.\n\n:::step"));
  expect(await atHand()).toEqual(["carriage", "sled"]);
}, 300_000);

/** Edits that change a page of a platform, each seen by one of `KeyParts` and by no other. */
const CHANGES: readonly (readonly [part: string, what: string, change: () => void, day?: string])[] = [
  // Of a platform of which nothing is issued: else a finding says so too.
  ["reading", "a word of a step", () => swap("sled/change-to-shell.mdx", /Takes the mattress/, "Lifts the mattress")],
  ["beside", "the name of the service", () => swap("service.yaml", /name: .*/, "name: Another theatre")],
  ["beside", "what has happened", () => swap("incidents.yaml", /rolled with a brake up/, "rolled away")],
  ["today", "the day", () => {}, EDIT_DAYS[3]!],
  [
    "heads",
    "an arrangement of another platform, which a question of the service names",
    () =>
      renameSync(join(folder, "sled/configurations/child-shell.mdx"), join(folder, "sled/configurations/shell.mdx")),
  ],
  [
    "findings",
    "a finding that another platform brings",
    () => swap("carriage/fit-lamp.mdx", /^code: .*/m, /^code: .*/m.exec(textOf("wagon/set-barre.mdx"))![0]),
  ],
];
const textOf = (file: string) => readFileSync(join(folder, file), "utf8");
function swap(file: string, from: RegExp, to: string): void {
  const text = textOf(file);
  expect(text).toMatch(from);
  writeFileSync(join(folder, file), text.replace(from, to));
}

for (const [part, what, change, day = DAY] of CHANGES)
  it(`are rendered again for another ${part}: ${what}`, async () => {
    change();
    const [kept, bare] = await both(day);
    expect(bare).not.toEqual(before);
    expect(kept).toEqual(bare);
  }, 300_000);

it("are rendered again where a picture has other bytes that nobody read", async () => {
  const photo = filesIn(join(folder, "sled/photos"), /\.jpe?g$/)[0]!,
    before = await renderOrSay(siteOn(DAY, false), maker, pagesIn(folder, cache));
  const other = readFileSync(photo);
  other[Math.floor(other.length / 2)]! ^= 1;
  writeFileSync(photo, other);
  const [kept, bare] = await both(DAY, false);
  expect(bare).not.toEqual(before);
  expect(kept).toEqual(bare);
}, 300_000);

it("are rendered again by other code, and with other scripts and styles", async () => {
  const site = await siteOn(DAY),
    shelf = pagesIn(folder, cache),
    version = await maker.version(site);
  const atHand = async (of: string) => (await KeptPages.open(site, shelf, of)).ids.size;
  expect(await atHand(version)).toBe(3);
  expect(await atHand(`${version}0`)).toBe(0);
  const assets = await assetsOf(site);
  knowAssets(site, { ...assets, names: new Map([...assets.names, ["new.js", "assets/new-2.js"]]) });
  try {
    expect(await atHand(version)).toBe(0);
  } finally {
    knowAssets(site, assets);
  }
}, 300_000);

it("make the same site, its search index and what a device keeps included", async () => {
  swap("wagon/set-barre.mdx", /(?<=^:::step\{[^}]*\}\n)\w+/m, "Slowly");
  const warm = await buildWhole(await siteOn(DAY), maker, join(work, "warm"), counting(pagesIn(folder, cache))),
    cold = await buildWhole(await siteOn(DAY), maker, join(work, "cold"), NOTHING_KEPT);
  expect(found).toHaveLength(2);
  expect(warm).toEqual(cold);
}, 300_000);
