/**
 * What the desk shows after an edit is what a reading from nothing shows: what an edit leaves as it was keeps its
 * records, and nothing that is known of them may be older than the files.
 */
import { project, work } from "./work-folder.ts";
import { cpSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, expect, it } from "vitest";
import { openPageMaker } from "../../src/build/build.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { CollectionReader } from "../../src/desk/reader.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings, inFileOrder } from "../../src/findings/finding.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import { makeSite } from "../../src/site/site.ts";
import { runHere } from "../commands/run-here.ts";

const folder = join(work, "theatre"),
  maker = openPageMaker(),
  reader = new CollectionReader(folder);
beforeAll(async () => {
  cpSync(join(project, "tests/fixtures/collections/theatre"), folder, { recursive: true });
  expect(await runHere(["issue", "--procedures", folder], "2026-11-28")).toMatchObject({ status: 0 });
  await reader.open();
}, 300_000);
afterAll(async () => {
  reader.close();
  await maker.close();
});

const LONG =
  "A sentence that is very long and has so many words in it that nobody who reads it aloud gets to its end without a " +
  "breath, which is why there is a rule that counts them and says so.\n\n:::step";

/** Each puts other words in the place of some that are there: [file, what stands there, what shall]. */
const EDITS: readonly (readonly [string, string | RegExp, string])[] = [
  ["carriage/fit-full-harness.mdx", "Hang the full harness", "Hang the whole harness"],
  ["carriage/fit-full-harness.mdx", 'takes="30 s"', 'takes="95 s"'],
  ["carriage/fit-full-harness.mdx", "goes on the yoke.", "goes on the yoke.\n\nOne paragraph more."],
  ["carriage/equipment.yaml", "mass: 2.4 kg", "mass: 2.5 kg"],
  ["wagon/set-barre.mdx", /^title: .*$/m, "title: Set the barre up"],
  ["carriage/platform.yaml", "name: Flying carriage", "name: Another carriage"],
  ["incidents.yaml", "rolled with", "moved with"],
  ["service.yaml", /name: .*/, "name: Another theatre"],
  ["carriage/fit-full-harness.mdx", "One paragraph more.", "One paragraph less."],
  // What is found in one platform alone; a text that breaks, and is mended.
  ["wagon/set-barre.mdx", /:::step/, LONG],
  ["wagon/platform.yaml", "name:", "name: Wagon of"],
  ["carriage/fit-full-harness.mdx", "One paragraph less.", "![](no-such.jpg) {"],
  ["carriage/fit-full-harness.mdx", "![](no-such.jpg) {", "One paragraph again."],
];
const PAGES = ["carriage/procedures/fit-full-harness/", "wagon/procedures/set-barre/", "carriage/changeovers/"];

it("shows and finds after every edit what a reading from nothing shows and finds", async () => {
  let kept = 0;
  for (const [file, from, to] of EDITS) {
    const path = join(folder, file),
      text = readFileSync(path, "utf8"),
      made = text.replace(from, to),
      before = (await reader.now()).site.force.collection;
    expect(made, file).not.toBe(text);
    writeFileSync(path, made);
    const moment = await reader.refresh(),
      found = new Findings(),
      files = await loadCollection(folder, found),
      anew = makeSite(folder, files, moment.day);
    expect(moment.files, file).toEqual(files);
    for (const view of ["collection", "shown", "proposed"] as const)
      expect(moment.site.force[view], `${file}: ${view}`).toEqual(forceOn(files, moment.day)[view]);
    expect(moment.findings(), file).toEqual(inFileOrder(runRules(files, found, moment.day)));
    if (moment.site.force.collection === before) kept += 1;
    for (const page of PAGES) {
      const shown = await maker.render(moment.site, page),
        asked = await maker.render(anew, page);
      expect(asked, page).toBeDefined();
      expect(shown && Buffer.from(shown).toString(), `${file}: ${page}`).toBe(Buffer.from(asked!).toString());
    }
  }
  // An edit of what is issued is a proposal: what is in force keeps its records, or this test tests nothing.
  expect(kept).toBeGreaterThan(1);
}, 600_000);

/** Any edit of any file: a line out, twice, or in another place; a file away; and all back as it was. */
const anyEdit = fc.record({ at: fc.double({ min: 0, max: 0.999, noNaN: true }), line: fc.nat(), how: fc.nat(5) });
/** Edits that are tried; `RERIG_EDITS` says another number. */
const TRIED = Number(process.env["RERIG_EDITS"] ?? 30);

it("reads and finds after any edit of any file what a reading from nothing does", async () => {
  const names = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
      /\.(?:mdx|yaml|json)$/.test(name),
    ),
    files = names.map((name) => join(folder, name)).sort(),
    whole = new Map(files.map((file) => [file, readFileSync(file, "utf8")]));
  let shared = 0;
  for (const { at, line, how } of fc.sample(anyEdit, {
    numRuns: TRIED,
    seed: Number(process.env["RERIG_SEED"] ?? 20),
  })) {
    const file = files[Math.floor(at * files.length)]!,
      before = await reader.now();
    const lines = whole.get(file)!.split("\n"),
      number = line % lines.length,
      [own = ""] = lines.splice(number, 1);
    if (how === 0) rmSync(file, { force: true });
    else if (how === 1) for (const [each, text] of whole) writeFileSync(each, text);
    else {
      const placed = how === 2 ? [] : how === 3 ? [own, own] : how === 4 ? [`${own} and more`] : [`  ${own}`];
      writeFileSync(file, [...lines.slice(0, number), ...placed, ...lines.slice(number)].join("\n"));
    }
    const said = `${file}, line ${number + 1}, ${how}: ${own}`,
      moment = await reader.refresh();
    const found = new Findings(),
      anew = await loadCollection(folder, found).catch(() => undefined);
    // Without service.yaml there is no collection: what was read before stays, and the desk says so.
    if (!anew) expect(moment.files, said).toBe(before.files);
    else {
      expect(moment.files, said).toEqual(anew);
      expect(moment.findings(), said).toEqual(inFileOrder(runRules(anew, found, moment.day)));
      if (moment !== before && moment.files.platforms.some((each) => before.files.platforms.includes(each)))
        shared += 1;
    }
    if (!anew) for (const [each, text] of whole) writeFileSync(each, text);
  }
  expect(shared).toBeGreaterThan(TRIED / 4);
}, 900_000);
