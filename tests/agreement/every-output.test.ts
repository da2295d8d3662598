/**
 * Every kind of output that shows a step to be done shows its warnings and cautions before it. The kinds are taken from
 * the code: the routes of `src/pages` and the commands that `rerig --help` lists. Of a kind that only names steps it is
 * said here why nothing is done from it; a new kind that shows a step without its warnings fails. What a browser lays
 * from a step-through's data is asked in `warnings.test.ts`.
 * A warning stands before what it warns of: ANSI Z535.6 (from memory). The demo.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { forceOn } from "../../src/domain/force/force.ts";
import { linesOf, sayInstruction } from "../../src/domain/words/say.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { runHere } from "../commands/run-here.ts";
import { readCollection } from "../read-collection.ts";
import { fold, wordsOfPage } from "./words-of.ts";
import { textsOfPdf } from "./words-of-pdf.ts";

const root = resolve(import.meta.dirname, "../.."),
  DAY = "2026-11-28";
const { RERIG_SITE: site, RERIG_BROWSER: browserPath } = process.env;
const work = mkdtempSync(join(tmpdir(), "rerig-every-output-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Kinds of page that name steps, and why nobody does them from there. */
const NAMED_ON: Readonly<Record<string, string>> = {
  "[platform]/[kind]/[id]/notices/[n]": "says what is done otherwise than before, and links to it",
  "[platform]/[kind]/[id]/review": "compares two revisions for whoever judges them",
  "[platform]/[kind]/[id]/proposed/[n]/review": "compares two revisions for whoever judges them",
  "[platform]/[kind]/[id]/revisions/[n]": "stands as it was, with the warnings of then",
  "C/[code]": "says whether a printed card is in force and which lines differ, and links to the card in force",
  "[platform]/amendments/[id]": "says which step is amended",
  "[platform]/away": "says what has changed meanwhile",
  "[platform]/bands": "says where weight and age are asked for",
  "[platform]/fastenings/[id]": "lists the steps that turn it, each a link",
  "[platform]/items/[id]": "lists the steps that move it, each a link",
  "[platform]/places/[id]": "lists the steps that use it, each a link",
  "[platform]/practise/paper": "asks about steps",
  "guide/[part]": "shows how a step is written",
  "guide/steps": "shows how a step is written",
  incidents: "lists the steps that guard against an incident, each a link",
  index: "says what has changed",
};

/** Commands, each with what it is asked here; and those that show no step to be done, with why. */
const COMMANDS: Readonly<Record<string, readonly string[] | { readonly why: string }>> = {
  new: { why: "writes files" },
  write: { why: "serves the desk, whose pages are those of the site" },
  import: { why: "writes files" },
  check: { why: "names steps at fault" },
  build: { why: "makes the pages" },
  serve: { why: "shows the pages" },
  approve: { why: "writes files" },
  issue: { why: "writes files" },
  cards: { why: "prints: what stands on the paper is read below" },
  folders: { why: "names cards" },
  choose: ["2 kg", "3.9 kg", "4.8 kg", "20 kg", "38 kg", "60 kg"].map((weight) => `--weight|${weight}`),
  changeover: [
    "--from|child-cradle|--to|newborn-capsule+cooling-unit|--weight|3 kg|--age|5 days",
    "--from|newborn-capsule|--to|child-cradle+gas-shelf+second-ventilator|--weight|20 kg",
    "--from|newborn-capsule+gas-shelf|--to|deck-harness+pump-rack|--weight|60 kg",
    "--from|deck-harness|--to|newborn-capsule+roll-supports|--weight|2 kg",
  ],
  without: ["", "cradle-strap", "capsule-pin"],
  recall: { why: "names the steps that touch an item" },
  ready: [
    "",
    "restock|--from|child-cradle|--to|newborn-capsule",
    "call|--from|child-cradle|--to|newborn-capsule|--weight|3 kg",
  ],
  load: { why: "reckons" },
  signoffs: { why: "names the steps that are to be seen again" },
  drill: Array.from({ length: 12 }, (_, at) => `--seed|${at + 1}`),
  times: { why: "reckons" },
  notes: { why: "names the steps that crews have written of" },
};

/** Words of an instruction -> for each step that says it the warnings and cautions that stand at it. */
const steps = new Map<string, string[][]>();

beforeAll(async () => {
  const { collection }: { collection: Collection } = forceOn(await readCollection(join(root, "procedures")), DAY);
  for (const { procedures } of collection.platforms)
    for (const step of procedures.flatMap((procedure) => procedure.steps)) {
      const alerts = [...step.alerts, ...step.alertsAfter].filter(({ signal }) => signal !== "note");
      const words = fold(sayInstruction(step));
      const dangers = alerts.map(({ children }) => fold(children.flatMap(linesOf).join(" ")));
      steps.set(words, [...(steps.get(words) ?? []), dangers]);
    }
});

/** How many steps a text shows, and those without their warnings before them. */
function look(text: string): { shown: number; bare: string[] } {
  let shown = 0;
  const bare: string[] = [];
  for (const [words, ways] of steps) {
    if (!text.includes(words)) continue;
    shown++;
    const isWarned = (danger: string) => text.indexOf(danger) >= 0 && text.includes(words, text.indexOf(danger));
    // Of steps that say the same one may be meant: which, the page of its procedure is asked elsewhere.
    if (!ways.some((dangers) => dangers.every(isWarned))) bare.push(words);
  }
  return { shown, bare };
}

/** The routes of the pages, as in `src/pages`; with the pattern of their addresses. */
function routes(): { route: string; pattern: RegExp }[] {
  const pages = join(root, "src/pages");
  return (
    readdirSync(pages, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name.endsWith(".astro"))
      .map((entry) => relative(pages, join(entry.parentPath, entry.name)).replace(/\.astro$/, ""))
      .map((name) => (name === "index" ? name : name.replace(/\/index$/, "")))
      .map((route) => {
        const address = route === "index" ? "" : route;
        return { route, pattern: new RegExp(`^${address.replace(/\[\w+\]/g, "[^/]+")}/?index\\.html$`) };
      })
      // What is named in an address comes before what is left open in it.
      .sort((a, b) => a.route.split("[").length - b.route.split("[").length)
  );
}

describe.skipIf(!site)("every kind of page that shows a step", () => {
  it("shows its warnings and cautions before it, or only names it", () => {
    const kinds = routes(),
      shown = new Map<string, number>(),
      bare: string[] = [],
      unknown: string[] = [];
    for (const file of readdirSync(site!, { recursive: true }) as string[]) {
      if (!file.endsWith("index.html")) continue;
      const kind = kinds.find(({ pattern }) => pattern.test(file));
      const found = look(wordsOfPage(readFileSync(join(site!, file), "utf8")));
      if (!kind) {
        if (found.shown > 0) unknown.push(file);
        continue;
      }
      shown.set(kind.route, (shown.get(kind.route) ?? 0) + found.shown);
      if (!(kind.route in NAMED_ON)) bare.push(...found.bare.map((words) => `${file}: ${words}`));
    }
    expect(unknown).toEqual([]);
    expect(bare).toEqual([]);
    // A kind that names none any more is not excused.
    expect(Object.keys(NAMED_ON).filter((route) => !shown.get(route))).toEqual([]);
    const doing = [...shown].filter(([route, count]) => count > 0 && !(route in NAMED_ON)).map(([route]) => route);
    expect(doing.length).toBeGreaterThanOrEqual(12);
  });

  it("is found out where a warning is taken away or stands after its step", () => {
    const page = wordsOfPage(readFileSync(join(site!, "tern/cards/newborn-capsule/index.html"), "utf8"));
    const [danger] = steps.get("Pull up once on both ends of the base.")![0]!;
    expect(page).toContain(danger!);
    expect(look(page).bare).toEqual([]);
    expect(look(page.replaceAll(danger!, "")).bare).toContain("Pull up once on both ends of the base.");
    expect(look(`${page.replaceAll(danger!, "")} ${danger!}`).bare).toContain("Pull up once on both ends of the base.");
  });
});

describe("every command", () => {
  it("is asked here, or is known to show no step to be done", async () => {
    const { stdout } = await runHere(["--help"], DAY);
    const listed = [...stdout.matchAll(/^ {2}(\w+)(?: \[options\])?(?: [<[].*?[\]>])* {2,}\S/gm)].map(
      ([, name]) => name!,
    );
    expect(listed.filter((name) => !name.startsWith("-")).sort()).toEqual(Object.keys(COMMANDS).sort());
  });

  it("that shows a step shows its warnings and cautions before it", async () => {
    const shown: string[] = [];
    for (const [name, asked] of Object.entries(COMMANDS))
      for (const line of Array.isArray(asked) ? (asked as string[]) : []) {
        const args = [name, ...line.split("|").filter(Boolean)];
        const { status, stdout, stderr } = await runHere(args, DAY, root);
        expect([args.join(" "), status, stderr]).toEqual([args.join(" "), 0, expect.any(String)]);
        const found = look(fold(stdout));
        expect([args.join(" "), found.bare]).toEqual([args.join(" "), []]);
        if (found.shown > 0) shown.push(name);
      }
    expect([...new Set(shown)]).toEqual(expect.arrayContaining(["choose", "changeover", "drill"]));
  }, 600_000);

  it.skipIf(!browserPath).each([
    ["--changeover", "child-cradle--newborn-capsule"],
    ["--changeover", "newborn-capsule--deck-harness"],
    ["--folder", "helicopter", "--second-look"],
  ])(
    "that prints a step prints its warnings and cautions before it: cards %s %s",
    async (...asked) => {
      const out = join(work, `${asked.join("-")}.pdf`);
      const before = process.env["CHROME_PATH"];
      process.env["CHROME_PATH"] = browserPath;
      const { status, stderr } = await runHere(["cards", ...asked, "--out", out], DAY, root);
      if (before === undefined) delete process.env["CHROME_PATH"];
      else process.env["CHROME_PATH"] = before;
      expect([status, stderr]).toEqual([0, expect.any(String)]);
      const text = fold((await textsOfPdf(readFileSync(out))).join(" ")),
        found = look(text);
      expect(found.bare).toEqual([]);
      expect(found.shown).toBeGreaterThan(2);
    },
    240_000,
  );
});
