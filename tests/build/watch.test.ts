/**
 * A site that is kept up to date is the site that a fresh build makes, byte for byte, after every edit of generated
 * sequences; pages on demand are those of the built site. Compared with builds that begin with nothing. Common
 * practice, no source.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { buildSite, openPageMaker } from "../../src/build/build.ts";
import { HeldSite } from "../../src/build/held-site.ts";
import { fileOnDemand } from "../../src/build/on-demand.ts";
import { openCollection } from "../../src/build/open-collection.ts";
import { WORKSHOP } from "../../src/build/shelf.ts";
import { stateOfFolder, untilChanged } from "../../src/build/watch.ts";
import { AuthorFault } from "../../src/site/author-fault.ts";
import { makeSite } from "../../src/site/site.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const demo = resolve(import.meta.dirname, "../../procedures");
/** `RERIG_EDITED=demo`: of the demo, which has issues, proposals and amendments, and takes half a minute for each. */
const isDemo = process.env["RERIG_EDITED"] === "demo";
const edited = isDemo ? demo : sled;
const work = mkdtempSync(join(tmpdir(), "rerig-watch-"));
const maker = openPageMaker(),
  held = new HeldSite();
afterAll(async () => {
  held.close();
  await maker.close();
  rmSync(work, { recursive: true });
});
/** Sequences of edits compared; a longer run: `RERIG_EDITS=300`, others: `RERIG_SEED=2`. */
const EDITS = Number(process.env["RERIG_EDITS"] ?? 5);
/** Edits before the site is built anew: with five sequences each kind of edit comes once. */
const IN_A_SEQUENCE = 4;

/** What a build says when it fails; empty where it does not. */
const comesTo = async (build: Promise<void>): Promise<string> =>
  build.then(
    () => "",
    (error: unknown) => (error instanceof Error ? error.message : String(error)),
  );

/** Hash of every file of a folder by its name. */
function hashes(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  return Object.fromEntries(
    names.map((name) => [name.slice(folder.length + 1), createHash("sha256").update(readFileSync(name)).digest("hex")]),
  );
}

/** One edit of a collection's folder; `at` between 0 and 1 says where. */
type Edit = (folder: string, at: number) => void;

const pick = (names: readonly string[], at: number) => names[Math.floor(at * names.length)]!;
const filesOf = (folder: string, ending: RegExp) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => ending.test(name))
    .sort()
    .map((name) => join(folder, name));

/** The first word of a line of text, said otherwise. */
const word: Edit = (folder, at) => {
  const file = pick(filesOf(folder, /\.mdx$/), at),
    lines = readFileSync(file, "utf8").split("\n"),
    texts = [...lines.keys()].filter(
      (line) => line > lines.indexOf("---", 1) && /^[A-Z][a-z]+ [a-z]/.test(lines[line]!),
    );
  const line = pick(texts.map(String), at);
  if (line !== undefined) lines[Number(line)] = `Now ${lines[Number(line)]}`;
  writeFileSync(file, lines.join("\n"));
};

const PROCEDURE = /^[^/\\]+[/\\][^/\\]+\.mdx$/;

/** Another text in the place of the first that fits, of a procedure. */
const inProcedure =
  (found: RegExp, instead: (...found: string[]) => string): Edit =>
  (folder, at) => {
    const files = filesOf(folder, PROCEDURE).filter((file) => found.test(readFileSync(file, "utf8")));
    if (files.length === 0) return;
    const file = pick(files, at);
    writeFileSync(file, readFileSync(file, "utf8").replace(found, instead));
  };

const EDITS_BY_NAME: Readonly<Record<string, Edit>> = {
  issue: (folder) => {
    // Refused while there are errors; then nothing is issued.
    spawnSync("node", [resolve(import.meta.dirname, "../../src/commands/rerig.mjs"), "issue", "--procedures", folder], {
      env: { ...process.env, RERIG_TODAY: isDemo ? "2026-11-28" : "2026-05-30" },
    });
  },
  word,
  time: inProcedure(/takes="(\d+) s"/, (_, seconds) => `takes="${Number(seconds) + 5} s"`),
  critical: inProcedure(/^(:::+step\{[^}\n]*?) critical\b/m, (_, before) => before!),
  step: (folder, at) => {
    const file = pick(filesOf(folder, PROCEDURE), at);
    const who = /^:::+step\{[^}\n]*\bby=(?:"(\w+)|(\w+))/m.exec(readFileSync(file, "utf8"));
    if (who)
      writeFileSync(
        file,
        `${readFileSync(file, "utf8")}\n::::step{by=${who[1] ?? who[2]} takes="30 s"}\nLook again.\n::::\n`,
      );
  },
  revision: inProcedure(
    /^revision: (\d+)\nstatus: approved$/m,
    (_, number) => `revision: ${Number(number) + 1}\nstatus: in review`,
  ),
  reading: (folder, at) => {
    const file = filesOf(folder, /reading[/\\][^/\\]+\.mdx$/)[0];
    if (file) writeFileSync(file, `${readFileSync(file, "utf8")}\nOne more line, ${at}.\n`);
    else newReading(folder, at);
  },
  "new file": newReading,
  deletion: (folder) => {
    const file = filesOf(folder, /reading[/\\][^/\\]+\.mdx$/).at(-1);
    if (file) rmSync(file);
    else newReading(folder, 0.5);
  },
  rename: (folder, at) => {
    const file = filesOf(folder, /reading[/\\][^/\\]+\.mdx$/).at(-1);
    if (file) renameSync(file, join(file, "..", `page-${Math.floor(at * 1e6)}.mdx`));
    else newReading(folder, at);
  },
  photo: (folder, at) => {
    const photos = filesOf(folder, /photos[/\\][^/\\]+\.jpg$/);
    cpSync(pick(filesOf(demo, /^[^/\\]+[/\\]photos[/\\][^/\\]+\.jpg$/), at), pick(photos, at));
  },
  "procedure away": (folder, at) => {
    const files = filesOf(folder, PROCEDURE);
    if (files.length > 2) rmSync(pick(files, at));
  },
  "procedure renamed": (folder, at) => {
    const file = pick(filesOf(folder, PROCEDURE), at);
    renameSync(file, join(file, "..", `round-${Math.floor(at * 1e6)}.mdx`));
  },
  "as it was": (folder, at) => {
    const file = pick(filesOf(edited, PROCEDURE), at);
    cpSync(file, join(folder, file.slice(edited.length)));
  },
  number: (folder, at) => {
    const file = pick(filesOf(folder, /(?:platform|equipment)\.yaml$/), at),
      text = readFileSync(file, "utf8"),
      found = pick(
        [...text.matchAll(/\b[1-9]\d*(?= (?:kg|mm|s)\b)/g)].map(({ index }) => String(index)),
        at,
      );
    if (found !== undefined)
      writeFileSync(
        file,
        text.slice(0, Number(found)) + text.slice(Number(found)).replace(/\d+/, (n) => `${Number(n) + 1}`),
      );
  },
  name: (folder, at) => {
    const file = join(folder, "service.yaml");
    writeFileSync(file, readFileSync(file, "utf8").replace(/^name: .*/m, `name: Ridge ${Math.floor(at * 1e6)} Rescue`));
  },
};

function newReading(folder: string, at: number): void {
  const reading = join(folder, isDemo ? "tern/reading" : "sled/reading"),
    id = `note-${Math.floor(at * 1e6)}`;
  mkdirSync(reading, { recursive: true });
  writeFileSync(join(reading, `${id}.mdx`), `---\ntitle: Note ${id}\n---\nOf ${id}.\n\n:::note\nRead it twice.\n:::\n`);
}

describe("a site that is kept up to date", () => {
  it(`is that of a fresh build after each of ${EDITS} sequences of edits, search index included`, async () => {
    const source = join(work, "collection"),
      [warm, cold] = [join(work, "warm"), join(work, "cold")];
    cpSync(edited, source, { recursive: true });
    const names = Object.keys(EDITS_BY_NAME);
    const sequences = fc.sample(
      fc.record({
        edits: fc.array(
          fc.record({
            how: fc.constantFrom(...names),
            at: fc.double({ min: 0, max: 0.999, noNaN: true }),
          }),
          { minLength: IN_A_SEQUENCE, maxLength: IN_A_SEQUENCE },
        ),
        on: fc.constantFrom(...(isDemo ? ["2026-11-28", "2026-12-15"] : ["2026-06-01", "2026-06-02", "2027-03-01"])),
      }),
      { numRuns: EDITS, seed: Number(process.env["RERIG_SEED"] ?? 14) },
    );
    let count = 0,
      built = 0;
    for (const [number, { edits, on }] of sequences.entries()) {
      // Every kind of edit in turn first, then as they come.
      const done = edits.map(({ how, at }) => [names[(count += 1) - 1] ?? how, at] as const);
      for (const [how, at] of done) EDITS_BY_NAME[how]!(source, at);
      const build = { collectionFolder: source, on, log: () => {} };
      const said = [
        await comesTo(buildSite({ ...build, outFolder: warm, maker, held })),
        await comesTo(buildSite({ ...build, outFolder: cold })),
      ];
      expect([number, done, said[0]]).toEqual([number, done, said[1]]);
      if (said[0] === "") built += 1;
      expect([number, done, hashes(warm)]).toEqual([number, done, hashes(cold)]);
    }
    // A platform that lacks a procedure is built, too: most sequences end in a site.
    expect(built).toBeGreaterThan(EDITS / 2);
  }, 3_600_000);
});

async function buildBy(workers: number, source: string, out: string): Promise<Record<string, string>> {
  process.env["RERIG_WORKERS"] = String(workers);
  await buildSite({ collectionFolder: source, outFolder: out, on: "2026-06-01", log: () => {}, maker });
  return hashes(out);
}

afterEach(() => delete process.env["RERIG_WORKERS"]);

let one: Promise<Record<string, string>> | undefined;
/**
 * The hashes of the small collection's site in the folder `one`, built once, after a process of the same number that
 * was stopped in the middle.
 */
function builtByOne(): Promise<Record<string, string>> {
  one ??= (async () => {
    const stale = Array.from({ length: 60 }, (_, at) => join(WORKSHOP, `render-${process.pid}-${at + 1}`)).filter(
      (folder) => !existsSync(folder),
    );
    for (const folder of stale) mkdirSync(folder, { recursive: true });
    for (const folder of stale) writeFileSync(join(folder, "old.html"), "<p>old</p>");
    try {
      return await buildBy(1, sled, join(work, "one"));
    } finally {
      for (const folder of stale) if (existsSync(join(folder, "old.html"))) rmSync(folder, { recursive: true });
    }
  })();
  return one;
}

describe("pages that are rendered at the same time", () => {
  it("have the same bytes whatever the number of workers, search index included", async () => {
    const one = await builtByOne();
    expect(await buildBy(3, sled, join(work, "three"))).toEqual(one);
    expect(Object.keys(one).length).toBeGreaterThan(100);
  }, 300_000);

  it("say which file's code fails, by whomever it is run", async () => {
    const source = join(work, "failing");
    cpSync(sled, source, { recursive: true });
    for (let at = 0; at < 60; at += 1) newReading(source, at / 60);
    const file = filesOf(source, /reading[/\\]note-.*\.mdx$/)[40]!;
    writeFileSync(file, `${readFileSync(file, "utf8")}\n{missing.word}\n`);
    const said = async (workers: number) =>
      buildBy(workers, source, join(work, "never")).catch((error: unknown) =>
        error instanceof AuthorFault ? error.finding : error,
      );
    const one = await said(1);
    expect(one).toMatchObject({ rule: "text/bad-value", file: `sled/reading/${basename(file)}` });
    expect(await said(3)).toEqual(one);
  }, 300_000);
});

describe("pages on demand", () => {
  it("are those of the built site, with what they show; stylesheets are whole", async () => {
    const built = join(work, "one"),
      files = await openCollection(sled);
    expect(Object.keys(await builtByOne()).filter((name) => name === "old.html")).toEqual([]);
    const site = makeSite(sled, files, "2026-06-01");
    // What is for paper alone is a sheet of its own in the built site, and on demand the end of the screen's.
    const plain = (html: string) =>
      html
        .replace(/<link rel="stylesheet" href="[./]*assets\/paper-[0-9a-f]{10}\.css" media="print">/g, "")
        .replace(/assets\/(screen|placed)-[0-9a-f]{10}\.css/g, "assets/$1.css")
        .replace(/screen\.css\?[\w~-]*/g, "screen.css");
    let shown = 0;
    for (const { address, file } of await maker.paths(site)) {
      const { name, bytes } = (await fileOnDemand(site, maker, address === "404.html" ? "404.html" : address))!;
      expect(name).toBe(file);
      const text = Buffer.from(bytes).toString();
      expect(plain(text), file).toBe(plain(readFileSync(join(built, file), "utf8")));
      if (file !== "index.html") continue;
      for (const [, link] of text.matchAll(/(?:src|href)="((?:assets|photos)\/[^"?]+)/g)) {
        if (link!.includes("find-list")) continue;
        expect((await fileOnDemand(site, maker, link!))?.bytes.length, link).toBeGreaterThan(0);
        shown += 1;
      }
    }
    expect(shown).toBeGreaterThan(2);
    const sheet = Buffer.from((await fileOnDemand(site, maker, "assets/screen.css"))!.bytes).toString();
    expect(sheet).toMatch(/@media print\b/);
    expect(sheet.slice(sheet.indexOf("@media print"))).not.toMatch(/@media screen\b/);
    for (const none of ["", "/"].map((end) => `no/such/page${end}`).concat("../package.json", ".git/config"))
      expect(await fileOnDemand(site, maker, none)).toBeUndefined();
  }, 300_000);
});

describe("watching a folder", () => {
  it("notices a save, a new file, a rename and a removal, and nothing else", async () => {
    const folder = join(work, "folder");
    mkdirSync(folder);
    writeFileSync(join(folder, "a"), "1");
    const stop = new AbortController();
    let state = await stateOfFolder(folder);
    for (const change of [
      () => writeFileSync(join(folder, "a"), "2"),
      () => writeFileSync(join(folder, "b"), ""),
      () => renameSync(join(folder, "b"), join(folder, "c")),
      () => rmSync(join(folder, "c")),
    ]) {
      const waits = untilChanged(folder, state, { stop: stop.signal });
      change();
      const now = await waits;
      expect(now).not.toBe(state);
      state = now;
    }
    const waits = untilChanged(folder, state, { stop: stop.signal });
    setTimeout(() => stop.abort(), 1000);
    await expect(waits).rejects.toThrow(/abort/i);
    expect(await untilChanged(folder, state, { otherwise: () => true })).toBe(state);
  });
});
