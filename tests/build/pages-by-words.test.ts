/**
 * Of a service with one platform an edit of words renders the pages again that have read these words, and no others.
 * After any edit of any file, on any day, with files of the cache cut, turned, exchanged and away, the pages and what
 * they ask for are those that rendering every page gives. Common practice, no source.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, beforeEach, expect, it } from "vitest";
import { openPageMaker } from "../../src/build/build.ts";
import { PagesByWords, tellingWords } from "../../src/build/kept/pages-by-words.ts";
import { PageRenderer } from "../../src/build/render/page-renderer.ts";
import { compiledIn, type PageShelf, pagesIn } from "../../src/build/shelf.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { assetsOf, knowAssets } from "../../src/site/assets.ts";
import { makeSite, type Site } from "../../src/site/site.ts";
import { speakFor } from "../../src/words/words.ts";
import { buildWhole, NOTHING_KEPT, renderAll, renderOrSay } from "./render-all.ts";
import { anyEdit, type Edit, edit, EDIT_DAYS, filesIn, pick, writeWhole } from "../arbitraries/edit.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-by-words-")),
  at = { work, whole: join(work, "whole"), folder: join(work, "edited") },
  { whole, folder } = at,
  cache = join(work, "cache"),
  /** What a build of the collection before any edit leaves: that each test begins with. */
  left = join(work, "left"),
  maker = openPageMaker();
/** Edits that are tried; `RERIG_EDITS` says another number. */
const TRIED = Number(process.env["RERIG_EDITS"] ?? 8);
const DAY = EDIT_DAYS[0]!;

/** The files of the pages that were rendered since somebody asked. */
const made: string[] = [];
const { render } = PageRenderer.prototype;

/** What pages are before any edit. */
let before: unknown;

beforeAll(async () => {
  await writeWhole(at);
  // The wagon alone, with its issues.
  for (const of of [whole, folder])
    for (const name of ["carriage", "sled", "issued/carriage"])
      rmSync(join(of, name), { recursive: true, force: true });
  PageRenderer.prototype.render = async function (page) {
    made.push(page.file);
    return render.call(this, page);
  };
  before = await rendered(await siteOn(DAY), pagesIn(folder, left));
}, 300_000);
beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(whole, folder, { recursive: true });
  rmSync(cache, { recursive: true, force: true });
  cpSync(left, cache, { recursive: true });
  made.splice(0);
});
afterAll(async () => {
  PageRenderer.prototype.render = render;
  await maker.close();
  rmSync(work, { recursive: true, force: true });
});

async function siteOn(day: string, { hashPhotos = true, tells = true } = {}): Promise<Site> {
  const read = new Findings(),
    loaded = await loadCollection(folder, read, { hashPhotos, compiled: compiledIn(folder, join(work, "compiled")) }),
    files = tells ? tellingWords(loaded) : loaded;
  speakFor(files.service);
  return makeSite(folder, files, day, inFileOrder(runRules(files, read, day)));
}

const rendered = async (site: Site, kept: PageShelf): Promise<unknown> => renderAll(site, maker, kept);

/** By what is kept, and by nothing; which pages were rendered for the first. */
async function both(day: string, how = {}) {
  made.splice(0);
  const kept = await renderOrSay(siteOn(day, how), maker, pagesIn(folder, cache)),
    again = [...made];
  return { kept, again, bare: await renderOrSay(siteOn(day, how), maker, NOTHING_KEPT) };
}

const textOf = (file: string) => readFileSync(join(folder, file), "utf8");
function swap(file: string, from: RegExp, to: string): void {
  const text = textOf(file);
  expect(text).toMatch(from);
  writeFileSync(join(folder, file), text.replace(from, to));
}

/** Another word in the prose of a document: of a step, an alert, a purpose. */
function editWord({ at: where, to, which }: Edit): void {
  const file = pick(filesIn(folder, /wagon.*\.mdx$/), where)!,
    text = readFileSync(file, "utf8"),
    end = text.indexOf("\n---\n") + 5;
  const lines = text.slice(end).split("\n"),
    prose = lines.flatMap((line, number) => (/^[A-Z][a-z]+ [a-z]/.test(line) ? [number] : [])),
    number = pick(prose, to);
  if (number === undefined) return;
  lines[number] = lines[number]!.replace(/(?<=^\w+ )[a-z]+/, (word) => `${word.slice(0, 3)}${"aeiou"[which % 5]!}`);
  writeFileSync(file, text.slice(0, end) + lines.join("\n"));
}

it(`are those that rendering gives, after each of ${TRIED} edits`, async () => {
  let day = DAY,
    again = 0,
    all = 0;
  const done: string[] = [];
  const tried = fc.record({ words: fc.boolean(), one: anyEdit });
  for (const { words, one } of fc.sample(tried, { numRuns: TRIED, seed: Number(process.env["RERIG_SEED"] ?? 12) })) {
    if (!words && one.how === "day") day = pick(EDIT_DAYS, one.at)!;
    if (words) editWord(one);
    else edit(at, one, cache);
    done.push(JSON.stringify({ words, ...one }));
    const { kept, again: rendered, bare } = await both(day);
    expect(kept, done.join("\n")).toEqual(bare);
    if (words && typeof bare !== "string") {
      again += rendered.length;
      all += (bare as { pages: unknown[] }).pages.length;
    }
  }
  process.stderr.write(`${again} of ${all} pages were rendered again after edits of words\n`);
}, 7_200_000);

/** Edits that change pages, each seen by one of the key's parts, or by words, and by no other. */
const CHANGES: readonly (readonly [what: string, change: () => void, day?: string])[] = [
  ["a word of a step", () => swap("wagon/set-barre.mdx", /(?<=^:::step\{[^}]*\}\n)\w+/m, "Slowly")],
  ["a number", () => swap("wagon/set-barre.mdx", /^revision: \d+/m, "revision: 7")],
  ["a title", () => swap("wagon/set-barre.mdx", /^title: .*/m, "title: Set it")],
  ["the name of the service", () => swap("service.yaml", /name: .*/, "name: Another theatre")],
  ["what has happened", () => swap("incidents.yaml", /(?<=summary: )\w+/, "Somebody")],
  ["the day", () => {}, EDIT_DAYS[3]!],
];
for (const [what, change, day = DAY] of CHANGES)
  it(`are rendered again for ${what}`, async () => {
    change();
    const { kept, bare } = await both(day);
    expect(bare).not.toEqual(before);
    expect(kept).toEqual(bare);
  }, 300_000);

it("are none where nothing has changed, and few after a word of a step", async () => {
  expect((await both(DAY)).again).toEqual([]);
  // The first word that is not as it was issued makes the text a proposal: that is more than words.
  swap("wagon/set-barre.mdx", /(?<=^:::step\{[^}]*\}\n)\w+/m, "Slowly");
  await both(DAY);
  swap("wagon/set-barre.mdx", /^Slowly/m, "Gently");
  const { again, kept, bare } = await both(DAY),
    all = (bare as { pages: unknown[] }).pages.length;
  expect(kept).toEqual(bare);
  process.stderr.write(`${again.length} of ${all} pages after a word of a step\n`);
  expect(again.length).toBeGreaterThan(0);
  expect(again.length).toBeLessThan(all / 4);
}, 300_000);

it("are few after a step's time and flag, and a step more, of what is not in force", async () => {
  swap("wagon/set-barre.mdx", /(?<=^:::step\{[^}]*\}\n)\w+/m, "Slowly");
  await both(DAY);
  const more = '\n:::step{by=both takes="20 s"}\nLook again.\n:::\n';
  for (const [from, to] of [
    [/takes="50 s"/, 'takes="70 s"'],
    [/ critical\b/, ""],
    [/$/, more],
  ] as const) {
    swap("wagon/set-barre.mdx", from, to);
    const { again, kept, bare } = await both(DAY),
      all = (bare as { pages: unknown[] }).pages.length;
    expect(kept, String(from)).toEqual(bare);
    process.stderr.write(`${again.length} of ${all} pages after ${String(from)}\n`);
    expect(again.length).toBeGreaterThan(0);
    expect(again.length).toBeLessThan(all / 2);
  }
}, 300_000);

it("are those that rendering gives after words of each document in turn, few of which are rendered again", async () => {
  const documents = filesIn(folder, /wagon.*\.mdx$/),
    word = (file: string, words: string) =>
      writeFileSync(
        file,
        readFileSync(file, "utf8").replace(/(?<=^[A-Z][a-z]+) (?:\w+ so )?(?=[a-z])/m, ` ${words} so `),
      );
  // What is not as it was issued is a proposal: that is more than words.
  for (const file of documents) word(file, "once");
  await both(DAY);
  let all = 0,
    some = 0;
  for (const file of documents) {
    word(file, "another time");
    const { kept, again, bare } = await both(DAY);
    expect(kept, file).toEqual(bare);
    all += (bare as { pages: unknown[] }).pages.length;
    some += again.length;
  }
  process.stderr.write(`${some} of ${all} pages after words of each document\n`);
  expect(some).toBeGreaterThan(0);
  expect(some).toBeLessThan(all / 4);
}, 600_000);

it("are rendered again where a picture has other bytes that nobody read", async () => {
  const photo = filesIn(join(folder, "wagon/photos"), /\.(?:jpe?g|png)$/)[0]!;
  await renderOrSay(siteOn(DAY, { hashPhotos: false }), maker, pagesIn(folder, cache));
  const other = readFileSync(photo);
  other[Math.floor(other.length / 2)]! ^= 1;
  writeFileSync(photo, other);
  const { kept, bare } = await both(DAY, { hashPhotos: false });
  expect(kept).toEqual(bare);
}, 300_000);

it("are rendered again by other code, other background pages, and with other scripts and styles", async () => {
  const site = await siteOn(DAY),
    shelf = pagesIn(folder, cache),
    version = await maker.version(site),
    background = await maker.background(site);
  const share = async (of: Parameters<typeof PagesByWords.open>[2]) =>
    (await PagesByWords.open(site, shelf, of))!.share;
  expect(await share({ version, background })).toBe(1);
  expect(await share({ version: `${version}0`, background })).toBe(0);
  expect(await share({ version, background: `${background}0` })).toBe(0);
  const assets = await assetsOf(site);
  knowAssets(site, { ...assets, names: new Map([...assets.names, ["new.js", "assets/new-2.js"]]) });
  try {
    expect(await share({ version, background })).toBe(0);
  } finally {
    knowAssets(site, assets);
  }
}, 300_000);

it("say the same as those of words that tell nobody", async () => {
  expect(await rendered(await siteOn(DAY, { tells: false }), NOTHING_KEPT)).toEqual(before);
}, 300_000);

it("have read the same words, whichever pages were rendered before them", async () => {
  const readInOrder = async (turn: <T>(pages: readonly T[]) => readonly T[]) => {
    // Other records each time: nothing is remembered of them.
    rmSync(join(work, "compiled"), { recursive: true, force: true });
    swap("wagon/set-barre.mdx", /^(?=:::step)/m, "\n");
    const site = await siteOn(DAY),
      reads = new Map<string, string>();
    for (const page of turn(await maker.paths(site))) {
      const { pages } = await maker.renderBatch(site, [page]);
      for (const each of pages) reads.set(each.file, [...each.reads].sort().join(" "));
    }
    return reads;
  };
  const forwards = await readInOrder((pages) => pages),
    backwards = await readInOrder((pages) => pages.toReversed());
  const sorted = (reads: ReadonlyMap<string, string>) => [...reads].sort(([a], [b]) => (a < b ? -1 : 1));
  expect(sorted(backwards)).toEqual(sorted(forwards));
  expect(new Set(forwards.values()).size).toBeGreaterThan(5);
}, 600_000);

it("make the same site, its search index and what a device keeps included", async () => {
  swap("wagon/set-barre.mdx", /(?<=^:::step\{[^}]*\}\n)\w+/m, "Slowly");
  await both(DAY);
  swap("wagon/set-barre.mdx", /^Slowly/m, "Gently");
  made.splice(0);
  const warm = await buildWhole(await siteOn(DAY), maker, join(work, "warm"), pagesIn(folder, cache)),
    cold = await buildWhole(await siteOn(DAY), maker, join(work, "cold"), NOTHING_KEPT);
  const count = made.filter((file) => basename(file) === "index.html").length;
  expect(count).toBeLessThan(1.25 * filesIn(join(work, "cold"), /index\.html$/).length);
  expect(warm).toEqual(cold);
}, 300_000);
