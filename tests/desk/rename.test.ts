/**
 * An id is changed everywhere or nowhere: after it the same is found as before but for the name, every other byte is as
 * it was, one step back gives all bytes of before, and so does the old id.
 */
import { knowWhatIsProved, work, project } from "./work-folder.ts";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import fc from "fast-check";
import { expect, it } from "vitest";
import { shelfIn } from "../../src/build/shelf.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { RENAMED, renameIn, type Renamed, type Renaming } from "../../src/desk/rename/rename.ts";
import { saveFiles, undo } from "../../src/desk/disk/save.ts";
import { keepOn } from "../../src/domain/words/keep.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { type Finding, Findings } from "../../src/findings/finding.ts";
import { rules } from "../../src/rules/all.ts";
import { judgesForce, runRules } from "../../src/rules/run-rules.ts";
import type { Collection } from "../../src/schema/collection.ts";

const DAY = "2026-11-28";
// What is found before a change is known of the demo; what is found after it rests on ids that nobody has proved yet.
knowWhatIsProved();
keepOn(shelfIn());
const collections = join(project, "tests/fixtures/collections");
const SOURCES = {
  demo: join(project, "procedures"),
  starter: join(project, "src/starter"),
  ...Object.fromEntries(readdirSync(collections).map((name) => [name, join(collections, name)])),
} as const;

/** A copy of a collection, without what was issued: documents that were keep their ids. */
function copyOf(name: string, source: string): string {
  const folder = join(work, "collections", name);
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  cpSync(source, folder, { recursive: true });
  rmSync(join(folder, "issued"), { recursive: true, force: true });
  return folder;
}

/** Every file by its path. */
function bytesIn(folder: string): Map<string, string> {
  const names = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
    statSync(join(folder, name)).isFile(),
  );
  return new Map(names.sort().map((name) => [name, readFileSync(join(folder, name), "latin1")]));
}

interface Read {
  readonly files: Collection;
  readonly found: readonly string[];
}

/** What is found, without columns, each as a line in which `from` reads as `to`. */
async function readFrom(folder: string, { proved = true, from = "", to = "" } = {}): Promise<Read> {
  const found = new Findings(),
    files = await loadCollection(folder, found);
  const word = new RegExp(`(?<![a-z0-9-])${from}(?![a-z0-9-])`, "g"),
    said = (text: string) => (from === "" ? text : text.replace(word, to));
  const findings = proved ? runRules(files, found, DAY) : withoutProofs(files, found);
  const lines = findings.map(({ rule, severity, file, line, message }) =>
    said([rule, severity, file, line, message].join(" | ")),
  );
  return { files, found: lines.sort() };
}

/** What is found by reading and by all rules that prove nothing: a name that leads nowhere is found by these. */
function withoutProofs(files: Collection, found: Findings): readonly Finding[] {
  const { collection } = forceOn(files, DAY),
    context = { today: DAY, damaged: new Set<string>() };
  for (const { id, severity, check } of rules)
    if (check && !/^(?:parts|plan|fastening|load)\//.test(id))
      check(judgesForce(id) ? collection : files, (where, remark) => found.add(id, severity, where, remark), context);
  return found.list;
}

/** All that can be given another id. */
function nameable({ platforms, service, incidents }: Collection): Omit<Renaming, "to">[] {
  const all = (what: Renamed, platform: string | undefined, list: readonly { readonly id: string }[]) =>
    list.map(({ id }) => ({ what, ...(platform === undefined ? {} : { platform }), from: id }));
  return [
    ...all("role", undefined, service.crew),
    ...all("incident", undefined, incidents),
    ...all("platform", undefined, platforms).map((each) => ({ ...each, platform: each.from })),
    ...platforms.flatMap((platform) => [
      ...platform.procedures.flatMap(({ id: procedure, steps }) =>
        steps
          .filter((step) => step.id !== undefined && step.procedure === procedure)
          .map(({ id }) => ({ what: "step" as const, platform: platform.id, procedure, from: id! })),
      ),
      ...all("item", platform.id, platform.items),
      ...all("place", platform.id, platform.places),
      ...all("fastening", platform.id, platform.fastenings),
      ...all("configuration", platform.id, platform.configurations),
      ...all("option", platform.id, platform.options),
      ...all("procedure", platform.id, platform.procedures),
      ...all(
        "photo",
        platform.id,
        platform.photos.filter(({ file }) => file !== undefined),
      ),
    ]),
  ];
}

/** The text with every occurrence of the id as a word marked: all else must be as it was. */
const without = (text: string, id: string) => text.replace(new RegExp(`(?<![a-z0-9-])${id}(?![a-z0-9-])`, "g"), "\0");

async function rename(folder: string, renaming: Renaming): Promise<void> {
  const made = await renameIn(folder, renaming);
  if ("refused" in made) throw new Error(`${JSON.stringify(renaming)}: ${made.refused}`);
  expect(saveFiles(folder, made.files)).toMatchObject({ saved: true });
}

/**
 * So many of each collection are tried, of the demo one; it takes ten times as long to prove, so that it is read and
 * judged by the rules that prove nothing. `RERIG_RENAMES` says another number, and then the demo is proved too.
 */
const TRIED = Number(process.env["RERIG_RENAMES"] ?? 2);
/** How often each sort of id was tried: of the next collection those that were tried least. */
const tried = new Map<Renamed, number>();

for (const [name, source] of Object.entries(SOURCES))
  it(`changes an id of ${name} everywhere and nothing else, and back again`, async () => {
    const folder = copyOf(name, source),
      proved = name !== "demo" || process.env["RERIG_RENAMES"] !== undefined,
      { files, found } = await readFrom(folder, { proved });
    const before = bytesIn(folder);
    const shuffled = fc.sample(fc.shuffledSubarray(nameable(files), { minLength: 0 }), { numRuns: 1, seed: 18 })[0]!;
    const all = nameable(files),
      most = name === "demo" ? Math.ceil(TRIED / 3) : TRIED,
      often = ({ what }: Pick<Renaming, "what">) => tried.get(what) ?? 0,
      chosen: Omit<Renaming, "to">[] = [];
    while (chosen.length < Math.min(most, all.length)) {
      const left = [...shuffled, ...all].filter((each) => !chosen.some((other) => isDeepStrictEqual(each, other))),
        least = Math.min(...left.map(often));
      const next = left.find((each) => often(each) === least)!;
      tried.set(next.what, least + 1);
      chosen.push(next);
    }
    expect(chosen.length).toBeGreaterThan(0);
    for (const each of chosen) {
      const to = `z${each.from.slice(1)}-q9`,
        renaming = { ...each, to },
        said = JSON.stringify(renaming);
      await rename(folder, renaming);
      const after = bytesIn(folder),
        moved = ["configuration", "option", "procedure", "photo", "platform"].includes(each.what);
      expect(after.size, said).toBe(before.size);
      for (const [path, text] of before) {
        const path2 = after.has(path) ? path : path.replace(each.from, to);
        expect(moved || path2 === path, said).toBe(true);
        const now = after.get(path2)!;
        if (now === text) continue;
        // Where a word was changed only that word was, and it now is the new id.
        expect(without(without(now, to), each.from), `${said} in ${path}`).toBe(without(text, each.from));
      }
      expect((await readFrom(folder, { proved, from: to, to: each.from })).found, said).toEqual(found);
      await rename(folder, { ...each, from: to, to: each.from, ...(each.what === "platform" ? { platform: to } : {}) });
      expect(bytesIn(folder), said).toEqual(before);
    }
  }, 600_000);

it("was tried of each sort of id", () => {
  expect([...tried.keys()].sort()).toEqual([...RENAMED].sort());
});

it("of a photo goes to its picture too where that ends in capitals, as a camera writes it", async () => {
  const folder = copyOf("capitals", join(collections, "theatre")),
    at = (name: string) => existsSync(join(folder, "carriage/photos", name));
  expect([at("pins.PNG"), at("pins.yaml")]).toEqual([true, true]);
  await rename(folder, { what: "photo", platform: "carriage", from: "pins", to: "both-pins" });
  expect(["pins.PNG", "pins.yaml", "both-pins.PNG", "both-pins.yaml"].map(at)).toEqual([false, false, true, true]);
});

it("is taken back in one step, with every file", async () => {
  const folder = copyOf("undone", SOURCES.demo),
    before = bytesIn(folder);
  await rename(folder, { what: "item", platform: "tern", from: "capsule-pin", to: "deck-pin" });
  const changed = [...bytesIn(folder)].filter(([path, text]) => before.get(path) !== text).map(([path]) => path);
  expect(changed.length).toBeGreaterThan(5);
  expect(changed).toContain("tern/equipment.yaml");
  expect(undo(folder, "tern/seat-capsule.mdx")).toMatchObject({ saved: true });
  expect(bytesIn(folder)).toEqual(before);
});

it("gives a platform's folder the new name, links and reviews too, and takes it all back", async () => {
  const folder = copyOf("platform", SOURCES.starter);
  mkdirSync(join(folder, "reviews"));
  writeFileSync(join(folder, "reviews/a.yaml"), "document: trolley/fit-small-seat\nrevision: 1\nremarks: []\n");
  const page = join(folder, "trolley/reading/begin-here.mdx");
  writeFileSync(
    page,
    `${readFileSync(page, "utf8")}\n[a](../../../trolley/items/small-seat/) [b](../../items/small-seat/) trolley\n`,
  );
  const before = bytesIn(folder);
  await rename(folder, { what: "platform", platform: "trolley", from: "trolley", to: "stretcher" });
  expect(existsSync(join(folder, "trolley"))).toBe(false);
  expect(readFileSync(join(folder, "reviews/a.yaml"), "utf8")).toMatch(/^document: stretcher\/fit-small-seat\n/);
  expect(readFileSync(join(folder, "stretcher/reading/begin-here.mdx"), "utf8")).toContain(
    "[a](../../../stretcher/items/small-seat/) [b](../../items/small-seat/) trolley\n",
  );
  expect(undo(folder, "stretcher/platform.yaml")).toMatchObject({ saved: true });
  expect(existsSync(join(folder, "stretcher"))).toBe(false);
  expect(bytesIn(folder)).toEqual(before);
  mkdirSync(join(folder, "trolley/notes"));
  writeFileSync(join(folder, "trolley/notes/mine.txt"), "");
  const made = await renameIn(folder, { what: "platform", platform: "trolley", from: "trolley", to: "stretcher" });
  expect("refused" in made && made.refused).toMatch(
    /^trolley\/notes\/mine\.txt is a file that the desk does not write/,
  );
});

it("changes a step's id in its procedure, what includes it, an amendment and a review, nowhere else", async () => {
  const folder = copyOf("steps", SOURCES.starter),
    head = (title: string) => `---\ntitle: ${title}\ncode: ${title}\nrevision: 1\nstatus: draft\n---\nFor this.\n\n`,
    files: Readonly<Record<string, string>> = {
      "trolley/own.mdx": `${head("Own")}:::step{#first}\nDo it.\n:::\n\n:::step{#second after=first}\nDo that.\n:::\n`,
      "trolley/other.mdx": `${head("Other")}:::step{#first}\nDo it.\n:::\n\n:::step{after="first"}\nDo that.\n:::\n`,
      "trolley/with.mdx": `${head("With")}::include{procedure=own}\n\n:::step{after="first second"}\nDo more.\n:::\n`,
      "trolley/amendments/a.mdx":
        "---\nnumber: A1\ntitle: T\nreason: R\nfrom: 2026-11-01\nuntil: 2026-11-09\nowner: A\nstatus: draft\n" +
        "amends: [{ procedure: own, revision: 1 }]\n---\n:::step{#first-now replaces=first}\nDo it so.\n:::\n",
      "reviews/a.yaml":
        "document: trolley/own\nrevision: 1\nremarks:\n  - { step: first, by: A, date: 2026-11-01, text: first }\n",
      "reviews/b.yaml":
        "document: trolley/other\nrevision: 1\nremarks:\n  - { step: first, by: A, date: 2026-11-01, text: first }\n",
    };
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const renaming = { what: "step", platform: "trolley", procedure: "own", from: "first" } as const;
  await rename(folder, { ...renaming, to: "begin" });
  const now = (path: string) => readFileSync(join(folder, path), "utf8");
  expect(now("trolley/own.mdx")).toBe(
    files["trolley/own.mdx"]!.replace("#first", "#begin").replace("=first", "=begin"),
  );
  expect(now("trolley/with.mdx")).toBe(files["trolley/with.mdx"]!.replace("first second", "begin second"));
  expect(now("trolley/amendments/a.mdx")).toBe(files["trolley/amendments/a.mdx"]!.replace("=first", "=begin"));
  expect(now("reviews/a.yaml")).toBe(files["reviews/a.yaml"]!.replace("step: first", "step: begin"));
  for (const path of ["trolley/other.mdx", "reviews/b.yaml"]) expect(now(path)).toBe(files[path]);
  for (const [to, why] of [
    ["second", /`second` is taken/],
    ["Begin", /can’t be an id/],
  ] as const) {
    const made = await renameIn(folder, { ...renaming, from: "begin", to });
    expect("refused" in made && made.refused).toMatch(why);
  }
  const made = await renameIn(folder, { ...renaming, to: "again" });
  expect("refused" in made && made.refused).toMatch(/Nothing is called `first`/);
});

it("changes all files or none: one that was written meanwhile stops all", async () => {
  const folder = copyOf("raced", SOURCES.demo),
    made = await renameIn(folder, { what: "item", platform: "tern", from: "capsule-pin", to: "deck-pin" });
  writeFileSync(
    join(folder, "tern/seat-capsule.mdx"),
    `${readFileSync(join(folder, "tern/seat-capsule.mdx"), "utf8")}\nMore.\n`,
  );
  const before = bytesIn(folder);
  expect("files" in made && saveFiles(folder, made.files)).toMatchObject({
    changed: [{ path: "tern/seat-capsule.mdx" }],
  });
  expect(bytesIn(folder)).toEqual(before);
});

const REFUSED: readonly (readonly [string, Renaming, RegExp])[] = [
  ["that is none", { what: "item", platform: "tern", from: "capsule-pin", to: "Capsule Pin" }, /can’t be an id/],
  ["that is taken", { what: "item", platform: "tern", from: "capsule-pin", to: "pin-tray" }, /`pin-tray` is taken/],
  ["of a role that stands for several", { what: "role", from: "lead", to: "both" }, /`both` is taken/],
  [
    "of a document that was issued",
    { what: "procedure", platform: "tern", from: "seat-capsule", to: "seat" },
    /was issued/,
  ],
  [
    "of what is not there",
    { what: "item", platform: "tern", from: "no-such", to: "other" },
    /Nothing is called `no-such`/,
  ],
];
for (const [which, renaming, why] of REFUSED)
  it(`refuses an id ${which}, in a sentence`, async () => {
    const made = await renameIn(SOURCES.demo, renaming);
    expect("refused" in made && made.refused).toMatch(why);
  });

it("refuses while a file that may name it can't be read, and leaves what was issued as it is", async () => {
  const folder = copyOf("broken", SOURCES.demo);
  cpSync(join(SOURCES.demo, "issued"), join(folder, "issued"), { recursive: true });
  const issued = bytesIn(join(folder, "issued"));
  await rename(folder, { what: "item", platform: "tern", from: "capsule-pin", to: "deck-pin" });
  expect(bytesIn(join(folder, "issued"))).toEqual(issued);
  expect(existsSync(join(folder, "issued/tern"))).toBe(true);
  writeFileSync(join(folder, "tern/seat-capsule.mdx"), "---\ntitle: [\n---\ndeck-pin\n");
  const made = await renameIn(folder, { what: "item", platform: "tern", from: "deck-pin", to: "capsule-pin" });
  expect("refused" in made && made.refused).toMatch(/tern\/seat-capsule\.mdx can’t be read/);
});
