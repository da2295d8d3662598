/**
 * A site that is kept up to date is the site that a fresh build makes, byte for byte, after every edit of generated
 * sequences; pages on demand are those of the built site. Compared with builds that begin with nothing. Common
 * practice, no source.
 */
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
import { afterAll, describe, expect, it } from "vitest";
import { buildSite, openPageMaker } from "../../src/build/build.ts";
import { fileOnDemand } from "../../src/build/on-demand.ts";
import { openCollection } from "../../src/build/open-collection.ts";
import { WORKSHOP } from "../../src/build/shelf.ts";
import { stateOfFolder, untilChanged } from "../../src/build/watch.ts";
import { judge, openAsked } from "../../src/commands/collection-option.ts";
import { planIssue } from "../../src/issuing/plan-issue.ts";
import { makeSite } from "../../src/site/site.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const demo = resolve(import.meta.dirname, "../../procedures");
const work = mkdtempSync(join(tmpdir(), "rerig-watch-"));
const maker = openPageMaker({ keeps: true });
afterAll(async () => {
  await maker.close();
  rmSync(work, { recursive: true });
});
/** Edits compared; a longer run: `RERIG_EDITS=300`, others: `RERIG_SEED=2`. */
const EDITS = Number(process.env["RERIG_EDITS"] ?? 6),
  SEED = Number(process.env["RERIG_SEED"] ?? 14);
/** Every so many builds are compared with one that has nothing from before, its own pages neither. */
const FRESH = 5;

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

/** One edit of a collection's folder on a day; `at` between 0 and 1 says where. */
type Edit = (folder: string, at: number, on: string) => unknown;

const pick = (names: readonly string[], at: number) => names[Math.floor(at * names.length)]!;
const filesOf = (folder: string, ending: RegExp) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => ending.test(name))
    .sort()
    .map((name) => join(folder, name));

/** Says one of the places otherwise that `form` finds in the files; nothing where there is none. */
function change(files: readonly string[], at: number, form: RegExp, otherwise: (...found: string[]) => string): void {
  const file = pick(files, at);
  if (!file) return;
  const text = readFileSync(file, "utf8"),
    found = [...text.matchAll(form)];
  const one = found[Math.floor(((at * 7919) % 1) * found.length)];
  if (!one) return;
  writeFileSync(file, text.slice(0, one.index) + otherwise(...one) + text.slice(one.index + one[0].length));
}

const documents = (folder: string) => filesOf(folder, /^sled[/\\](?!reading)(?:[^/\\]+[/\\])?[^/\\]+\.mdx$/),
  procedures = (folder: string) => filesOf(folder, /^sled[/\\][^/\\]+\.mdx$/),
  readings = (folder: string) => filesOf(folder, /reading[/\\][^/\\]+\.mdx$/),
  copied = (folder: string) => filesOf(folder, /^sled[/\\]also-[^/\\]+\.mdx$/),
  equipment = (folder: string) => filesOf(folder, /equipment\.yaml$/),
  service = (folder: string) => filesOf(folder, /^service\.yaml$/);
const number = (at: number) => String(Math.floor(at * 1e6));

const EDITS_BY_NAME: Readonly<Record<string, Edit>> = {
  step: (folder, at) => {
    // A word in a step, and nothing else.
    change(procedures(folder), at, /(?<=^:::+step\{[^}]*\}\n)\w+/gm, (said) => `${said} now`);
  },
  item: (folder, at) =>
    change(equipment(folder), at, /(?<=name: )[A-Z][a-z]+/g, (said) => `Grey ${said.toLowerCase()}`),
  name: (folder, at) => change(service(folder), at, /^name: .*/gm, () => `name: Ridge ${number(at)} Rescue`),
  photo: (folder, at) =>
    cpSync(
      pick(filesOf(demo, /^[^/\\]+[/\\]photos[/\\][^/\\]+\.jpg$/), at),
      pick(filesOf(folder, /photos[/\\][^/\\]+\.jpg$/), at),
    ),
  word: (folder, at) =>
    change(filesOf(folder, /^sled[/\\].*\.mdx$/), at, /^[A-Z][a-z]+ (?=[a-z])/gm, (said) => `Now ${said}`),
  reading: (folder, at) => {
    const file = readings(folder)[0];
    if (file) writeFileSync(file, `${readFileSync(file, "utf8")}\nOne more line, ${at}.\n`);
    else newReading(folder, at);
  },
  "new file": newReading,
  "new procedure": (folder, at) =>
    writeFileSync(
      join(folder, `sled/also-${number(at)}.mdx`),
      readFileSync(join(folder, "sled/fit-oxygen.mdx"), "utf8").replace(/^code: .*/m, `code: KRR-S-${number(at)}`),
    ),
  deletion: (folder, at) => {
    const file = pick([...readings(folder), ...copied(folder)], at);
    if (file) rmSync(file);
    else newReading(folder, 0.5);
  },
  rename: (folder, at) => {
    const file = pick([...readings(folder), ...copied(folder)], at);
    if (file) renameSync(file, join(file, `../also-${number(at)}.mdx`));
    else newReading(folder, at);
  },
  "new photo": (folder, at) => {
    cpSync(join(sled, "sled/photos/bed.jpg"), join(folder, `sled/photos/also-${number(at)}.jpg`));
    change(procedures(folder), at, /photo=(?:bed|also-\d+)/g, () => `photo=also-${number(at)}`);
  },
  "photo away": (folder, at) => {
    const used = procedures(folder)
      .map((file) => readFileSync(file, "utf8"))
      .join();
    const free = filesOf(folder, /photos[/\\]also-\d+\.jpg$/).filter((file) => !used.includes(basename(file, ".jpg")));
    if (free.length) rmSync(pick(free, at));
  },
  crop: (folder, at) =>
    change(filesOf(folder, /photos[/\\].*\.yaml$/), at, /(?<=width: 0\.)\d+/g, () => String(50 + Math.floor(at * 40))),
  mark: (folder, at) =>
    change(filesOf(folder, /photos[/\\].*\.yaml$/), at, /[A-Z][a-z]+ strap/g, (said) => `Old ${said}`),
  // Nothing is said otherwise; every place below it is another.
  line: (folder, at) => change(documents(folder), at, /^---\n\n?(?=[A-Z])/gm, (said) => `${said}\n`),
  time: (folder, at) => change(procedures(folder), at, /takes="\d+ s"/g, () => `takes="${10 + Math.floor(at * 80)} s"`),
  mass: (folder, at) =>
    change(equipment(folder), at, /mass: \d+(?:\.\d+)? (?=kg)/g, () => `mass: ${1 + Math.floor(at * 8)} `),
  home: (folder, at) =>
    change(equipment(folder), at, /^oxygen-bottle: .*/gm, (said) => said.replace(/3\.\d+/, `3.${number(at)}`)),
  hold: (folder, at) =>
    change(procedures(folder), at, /critical(?: hold)?/g, (said) =>
      said === "critical" ? "critical hold" : "critical",
    ),
  weight: (folder, at) =>
    change(filesOf(folder, /configurations.*\.mdx$/), at, /^weight: .*/gm, (said) =>
      said.includes("160") ? said.replace("160", "155") : said.replace("150", "140"),
    ),
  review: (folder, at) =>
    change(documents(folder), at, /(?<=review-by: )\d{4}/g, () => String(2027 + Math.floor(at * 6))),
  folder: (folder, at) =>
    change(filesOf(folder, /folders\.yaml$/), at, /copy: \d+/g, () => `copy: ${1 + Math.floor(at * 8)}`),
  incident: (folder, at) =>
    change(filesOf(folder, /incidents\.yaml$/), at, /summary: [A-Z]\w*/g, (said) => `${said} again`),
  // A text that is not in force till it is issued, and later.
  revision: (folder, at, on) =>
    change(
      documents(folder),
      at,
      /^revision: (\d+)\n(status: .*\neffective: ).*(?:\nchanges:(?:\n +- .*)*)?/gm,
      (said, revision, rest) => {
        const list = /(?:\n +- .*)+/.exec(said)?.[0] ?? "",
          next = Number(revision) + 1;
        const day = pick([on, "2026-06-02", "2027-03-01"], (at * 31) % 1);
        const entry = `{ revision: ${next}, date: ${on}, by: Training officer, summary: Said better., reason: It was asked. }`;
        return `revision: ${next}\n${rest}${day}\nchanges:${list}\n  - ${entry}`;
      },
    ),
  status: (folder, at) =>
    change(documents(folder), at, /^status: \w+/gm, (said) =>
      said.endsWith("approved") ? "status: draft" : "status: approved",
    ),
  issue: async (folder, _at, on) => {
    const plan = await planIssue(await openAsked(folder, { on, hashPhotos: true }), { ids: [], signed: [], on });
    if (!plan.refusals.length) plan.write();
  },
  anew: (folder) => {
    rmSync(folder, { recursive: true });
    cpSync(sled, folder, { recursive: true });
  },
};

/** Days between which the site rolls over, forth and back: before anything is in force, in turn, after all reviews. */
const DAYS = ["2026-01-10", "2026-06-01", "2026-06-02", "2027-03-01", "2032-01-01"];

function newReading(folder: string, at: number): void {
  const reading = join(folder, "sled/reading"),
    id = `note-${number(at)}`;
  mkdirSync(reading, { recursive: true });
  writeFileSync(join(reading, `${id}.mdx`), `---\ntitle: Note ${id}\n---\nOf ${id}.\n\n:::note\nRead it twice.\n:::\n`);
}

/** `built`, or why it could not be. */
async function outcomeOf(build: () => Promise<void>): Promise<string> {
  return build().then(
    () => "built",
    (error: unknown) => String(error),
  );
}

/** What a build is given of a collection: what the command gives it. */
async function readFor(folder: string, on: string) {
  const opened = await openAsked(folder, { on, hashPhotos: true });
  return { collectionFolder: folder, on, log: () => {}, collection: opened.files, findings: judge(opened) };
}

describe("a site that is kept up to date", () => {
  it(`is that of a fresh build after each of ${EDITS} generated edits, search index included`, async () => {
    const source = join(work, "collection"),
      [warm, cold] = [join(work, "warm"), join(work, "cold")],
      // Renders every page each time; in turn with one that has nothing at all from before.
      forgetful = openPageMaker();
    cpSync(sled, source, { recursive: true });
    const names = Object.keys(EDITS_BY_NAME);
    const edits = fc.sample(
      fc.record({
        how: fc.constantFrom(...names),
        at: fc.double({ min: 0, max: 0.999, noNaN: true }),
        on: fc.constantFrom(...DAYS),
        rolls: fc.boolean(),
      }),
      { numRuns: EDITS, seed: SEED },
    );
    let [rendered, pages, failed, day] = [0, 0, 0, DAYS[1]!];
    const done: Record<string, number> = {};
    try {
      // Every kind once, then as they come.
      for (const [at0, { how, at, on, rolls }] of edits.entries()) {
        const kind = names[at0] ?? how,
          before = join(work, "before");
        cpSync(source, before, { recursive: true });
        await EDITS_BY_NAME[kind]!(source, at, day);
        if (rolls) day = on;
        const outcome = await outcomeOf(async () =>
          buildSite({ ...(await readFor(source, day)), outFolder: warm, maker }),
        );
        const fresh = await outcomeOf(async () =>
          buildSite({
            ...(await readFor(source, day)),
            outFolder: cold,
            ...((at0 + 1) % FRESH === 0 ? {} : { maker: forgetful }),
          }),
        );
        expect([at0, kind, at, day, outcome]).toEqual([at0, kind, at, day, fresh]);
        if (outcome === "built") {
          done[kind] = (done[kind] ?? 0) + 1;
          rendered += maker.rendered.length;
          pages += Object.keys(hashes(warm)).filter((name) => name.endsWith(".html")).length;
        } else {
          // What can't be built is taken back.
          failed += 1;
          rmSync(source, { recursive: true });
          cpSync(before, source, { recursive: true });
        }
        rmSync(before, { recursive: true });
        expect([at0, kind, at, day, hashes(warm)]).toEqual([at0, kind, at, day, hashes(cold)]);
        if (process.env["RERIG_EDITS"])
          process.stderr.write(`${at0 + 1} ${kind} ${day}: ${outcome}, ${maker.rendered.length} rendered\n`);
      }
    } finally {
      await forgetful.close();
    }
    expect(failed).toBeLessThan(EDITS / 4);
    // Were all pages rendered each time, it would be no test of keeping them.
    expect(rendered).toBeLessThan(0.9 * pages);
    if (process.env["RERIG_EDITS"]) process.stderr.write(`${rendered} of ${pages} pages; ${JSON.stringify(done)}\n`);
  }, 14_400_000);

  it("renders only what rests on an edit of a step's words, and nothing where nothing has changed", async () => {
    const source = join(work, "words"),
      keeping = openPageMaker({ keeps: true });
    const build = async () =>
      buildSite({
        collectionFolder: source,
        on: "2026-06-01",
        log: () => {},
        outFolder: join(work, "kept"),
        maker: keeping,
      });
    try {
      cpSync(sled, source, { recursive: true });
      await build();
      const all = keeping.rendered.length;
      await build();
      expect(keeping.rendered).toEqual([]);
      await EDITS_BY_NAME["step"]!(source, 0, "2026-06-01");
      await build();
      expect(keeping.rendered).toContain("sled/procedures/change-to-mattress/");
      expect(keeping.rendered.length).toBeLessThan(all / 2);
    } finally {
      await keeping.close();
    }
  }, 300_000);

  it("knows of a page rendered among others all that it reads when it is rendered alone", async () => {
    const keeping = openPageMaker({ keeps: true }),
      fresh = async () => makeSite(sled, await openCollection(sled), "2026-06-01", []);
    /** What of records is read; the same objects for the same places in every version of a site. */
    const fieldsOf = (reads: unknown) => {
      const frames = new Set([reads as { own: Set<{ key: PropertyKey }>; uses: Set<never> }]);
      for (const frame of frames) for (const used of frame.uses) frames.add(used);
      return new Set([...frames].flatMap(({ own }) => [...own]));
    };
    try {
      let site = await fresh();
      const paths = await keeping.paths(site);
      const together = new Map<string, ReturnType<typeof fieldsOf>>();
      for (const { address } of paths) await keeping.render(site, address);
      for (const { address } of paths) together.set(address, fieldsOf(keeping.readsOf(address)));
      let read = 0;
      for (const { address } of paths) {
        site = await fresh();
        keeping.forget();
        await keeping.render(site, address);
        const alone = fieldsOf(keeping.readsOf(address));
        read += alone.size;
        const missed = [...alone].filter((field) => !together.get(address)!.has(field)).map(({ key }) => String(key));
        expect([address, missed]).toEqual([address, []]);
      }
      expect(read).toBeGreaterThan(paths.length);
    } finally {
      await keeping.close();
    }
  }, 1_200_000);
});

describe("pages on demand", () => {
  it("are those of the built site, with what they show; stylesheets are whole", async () => {
    const built = join(work, "built"),
      files = await openCollection(sled);
    // A process of the same number that was stopped in the middle.
    const stale = Array.from({ length: 60 }, (_, at) => join(WORKSHOP, `render-${process.pid}-${at + 1}`));
    for (const folder of stale) mkdirSync(folder, { recursive: true });
    for (const folder of stale) writeFileSync(join(folder, "old.html"), "<p>old</p>");
    await buildSite({
      collectionFolder: sled,
      collection: files,
      outFolder: built,
      on: "2026-06-01",
      log: () => {},
      maker,
    });
    expect(Object.keys(hashes(built)).filter((name) => name === "old.html")).toEqual([]);
    for (const folder of stale) if (existsSync(join(folder, "old.html"))) rmSync(folder, { recursive: true });
    const site = makeSite(sled, files, "2026-06-01");
    const plain = (html: string) =>
      html
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
