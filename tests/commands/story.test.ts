/**
 * A story through the command line and the built site: a card in a folder, a changed step, and everyone who has to
 * know; then a comma, and nobody has to.
 */
import { spawn } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parse } from "parse5";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addressOfCode } from "../../src/domain/cards/check-address.ts";
import { foldersShape } from "../../src/schema/results.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const node = join(root, "node_modules/.bin/node"),
  command = join(root, "src/commands/rerig.mjs");
const work = mkdtempSync(join(tmpdir(), "rerig-story-"));
const folder = join(work, "collection"),
  site = join(work, "site"),
  register = join(work, "register.csv");
afterAll(() => rmSync(work, { recursive: true, force: true }));

const TODAY = "2026-06-01";
const rerig = (...args: string[]) => runHere([...args, "--procedures", folder], TODAY);
function edit(file: string, ...pairs: [string, string][]): void {
  let text = readFileSync(join(folder, file), "utf8");
  for (const [old, now] of pairs) {
    expect(text).toContain(old);
    text = text.replace(old, now);
  }
  writeFileSync(join(folder, file), text);
}
const folders = async () => foldersShape.parse(JSON.parse((await rerig("folders", "--json")).stdout));
const states = async () =>
  Object.fromEntries((await folders()).folders[0]!.copies.map(({ card, state }) => [card, state]));
const again = async () =>
  (
    JSON.parse((await rerig("signoffs", register, "--json")).stdout) as {
      again: { person: string; lines: { step?: number; why: string }[] }[];
    }
  ).again.map(({ person, lines }) => [person, ...lines.map(({ step, why }) => `${step} ${why}`)]);
/** Words of the main part of a page, spaces evened out. */
function pageText(address: string): string {
  interface Element {
    tagName?: string;
    value?: string;
    nodeName: string;
    attrs?: { name: string; value: string }[];
    childNodes?: Element[];
  }
  const find = (element: Element): Element | undefined =>
    element.tagName === "main" ? element : element.childNodes?.map(find).find(Boolean);
  const textOf = (element: Element): string =>
    element.nodeName === "#text"
      ? element.value!
      : (element.childNodes ?? [])
          .map(textOf)
          .join(element.tagName && /^(p|td|th|li|h\d|div|dd|dt|tr)$/.test(element.tagName) ? " " : "");
  return textOf(find(parse(readFileSync(join(site, address, "index.html"), "utf8")) as unknown as Element)!).replace(
    /\s+/g,
    " ",
  );
}

/** Frozen files; pictures are kept in a folder beside them. */
const filesIn = (issued: string) => readdirSync(issued).filter((name) => name.endsWith(".json"));
const SHELL = "sled/change-to-shell.mdx";
let first: Awaited<ReturnType<typeof folders>>, old: string, kept: string;

beforeAll(async () => {
  cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
  expect((await rerig("issue")).status).toBe(0);
  // The codes of the cards in force are written down with the copies.
  first = await folders();
  [old, kept] = first.folders[0]!.copies.map(({ current }) => current!.check) as [string, string];
  edit(
    "folders.yaml",
    [
      "{ card: child-shell, copy: 1, placed: 2026-02-01 }",
      `{ card: child-shell, copy: 1, check: ${old}, placed: 2026-02-01 }`,
    ],
    [
      "{ card: vacuum-mattress, copy: 1, placed: 2026-02-01 }",
      `{ card: vacuum-mattress, copy: 1, check: ${kept}, placed: 2026-02-01 }`,
    ],
  );
  writeFileSync(
    register,
    "person,procedure,revision,date,assessor,lapses\n" +
      "Ann,change-to-shell,1,2026-02-03,Zoe,\nBen,change-to-mattress,1,2026-02-03,Zoe,\n",
  );
});

describe("issue r1, a folder with its codes", () => {
  it("has nothing stale and nobody to ask again", async () => {
    expect(await states()).toEqual({ "child-shell": "current", "vacuum-mattress": "current" });
    expect((await folders()).print).toEqual([]);
    expect(await again()).toEqual([]);
    expect((await rerig("folders")).stdout).toContain("Nothing to print.");
  });
});

describe("a critical step changes, issue r2", () => {
  beforeAll(async () => {
    edit(
      SHELL,
      ["revision: 1", "revision: 2"],
      ["effective: 2026-01-12", "effective: 2026-04-15"],
      [
        "approved-by: Rescue lead\n",
        "approved-by: Rescue lead\nchanges:\n  - { revision: 2, date: 2026-04-01, by: Training officer, " +
          "summary: The buckles are pulled on., reason: One buckle opened on the slope., sign-offs: again }\n",
      ],
      ["Close both bed straps.", "Close both bed straps and pull on each buckle."],
    );
    edit(SHELL, ['answer="both buckles closed"', 'answer="both buckles closed, neither gives"']);
    expect((await rerig("issue")).status).toBe(0);
    await buildForTest({ collectionFolder: folder, outFolder: site, on: TODAY, checked: true });
  }, 240_000);

  it("makes exactly its card and that card's copy stale, and says what to print, put in and destroy", async () => {
    expect(await states()).toEqual({ "child-shell": "replace", "vacuum-mattress": "current" });
    const {
      print,
      folders: [hut],
    } = await folders();
    expect(print).toHaveLength(1);
    expect(print[0]).toMatchObject({ card: "child-shell", copies: [{ folder: "ridge-hut", copy: 1 }] });
    expect(hut).toMatchObject({
      stale: 1,
      copies: [
        { card: "child-shell", stale: true, found: { check: old } },
        { card: "vacuum-mattress", stale: false, current: { check: kept } },
      ],
    });
    expect((await rerig("folders")).stdout).toContain(`put in ${print[0]!.check}, destroy ${old}`);
  });

  it(
    "asks exactly those again who are signed off for it, for the step that changed and the one that opens the " +
      "same straps",
    async () => {
      expect(await again()).toEqual([["Ann", "1 depends", "5 changed"]]);
    },
  );

  it("tells whoever reads the old card's code that it was replaced, when, and what changed", async () => {
    const text = pageText(addressOfCode(old));
    expect(text).toContain("Replaced");
    // On the day of the edition: what was issued later than it was to take effect has been printed by nobody before.
    expect(text).toContain("replaced on 1 Jun 2026");
    expect(text).toContain("pull on each buckle");
    expect(text).toContain("Change to the child shell, revision 2");
    expect(text).toContain((await folders()).print[0]!.check);
    expect(pageText(addressOfCode(kept))).toContain("Current");
    expect(pageText(addressOfCode((await folders()).print[0]!.check))).toContain("Current");
  });

  it("has a notice that says what to do differently, for whom and from when", () => {
    const text = pageText("sled/procedures/change-to-shell/notices/2/");
    expect(text).toContain("15 Apr 2026");
    expect(text).toContain("Says now: “Close both bed straps and pull on each buckle.”");
    expect(text).toContain("One buckle opened on the slope.");
    expect(text).toContain("no longer stand");
  });

  it("draws the difference: one step of five, its copy to replace, its sign-offs to ask again", () => {
    const text = pageText("sled/procedures/change-to-shell/revisions/2/");
    expect(text).toContain("One step of five differ");
    expect(text).toMatch(/Ridge hut folder ?[A-Z0-9]{4}-[A-Z0-9]{2} ?replace/);
    expect(text).toContain("sign-offs from revision 2 on");
  });

  it("puts a change bar on the changed step alone", () => {
    const html = readFileSync(join(site, "sled/procedures/change-to-shell/index.html"), "utf8");
    expect(html.match(/Changed in revision 2/g)).toHaveLength(1);
    expect(readFileSync(join(site, "sled/procedures/change-to-mattress/index.html"), "utf8")).not.toContain(
      "Changed in revision",
    );
  });

  it(
    "gives the folder a swap pack with the code to insert and the code to pull, and an audit sheet with today's " +
      "codes",
    async () => {
      expect(pageText("folders/ridge-hut/swap/")).toContain(old);
      for (const sheet of ["swap", "audit"])
        expect(pageText(`folders/ridge-hut/${sheet}/`), sheet).toContain((await folders()).print[0]!.check);
      expect(pageText("folders/ridge-hut/audit/")).toContain(kept);
    },
  );
});

describe("a comma in a reason, issue r3", () => {
  it("leaves card, copies and sign-offs as they are", async () => {
    const before = await folders();
    edit(
      SHELL,
      ["revision: 2\n", "revision: 3\n"],
      ["effective: 2026-04-15", "effective: 2026-05-01"],
      [
        "sign-offs: again }\n",
        "sign-offs: again }\n  - { revision: 3, date: 2026-04-20, by: Training officer, summary: A comma., " +
          "sign-offs: stand }\n",
      ],
      ["Why: with one pin the shell", "Why: with one pin, the shell"],
    );
    expect((await rerig("issue")).status).toBe(0);
    expect(await folders()).toEqual(before);
    expect(await again()).toEqual([["Ann", "1 depends", "5 changed"]]);
  });
});

describe("`rerig folders`", () => {
  it("takes one folder, and names the nearest for one that there is not", async () => {
    expect(JSON.parse((await rerig("folders", "--folder", "ridge-hut", "--json")).stdout)).toMatchObject({
      folders: [{ folder: "ridge-hut" }],
    });
    const wrong = await rerig("folders", "--folder", "ridge-huts");
    expect([wrong.status, wrong.stdout]).toEqual([2, ""]);
    expect(wrong.stderr).toContain("`ridge-hut`");
  });
});

describe("`rerig issue`, killed", () => {
  it("at eight moments never leaves half a set: all issues or those before", { timeout: 240_000 }, async () => {
    const before = filesIn(join(folder, "issued/sled")).sort();
    let killed = 0,
      moment = 40;
    for (let round = 0; round < 8; round += 1) {
      rmSync(join(folder, "issued"), { recursive: true, force: true });
      const child = spawn(node, [command, "issue", "--procedures", folder], {
        stdio: "ignore",
        env: { ...process.env, RERIG_TODAY: TODAY },
      });
      const gone = new Promise<boolean>((done) => child.once("exit", (code) => done(code !== 0)));
      setTimeout(() => child.kill("SIGKILL"), moment);
      const wasKilled = await gone;
      killed += Number(wasKilled);
      // Narrow in on the moment at which it writes: later after a kill, earlier after an end.
      moment = Math.max(20, moment + (wasKilled ? 45 : -30) + ((round * 13) % 17));
      const files = existsSync(join(folder, "issued/sled")) ? filesIn(join(folder, "issued/sled")).sort() : [];
      expect([0, 9]).toContain(files.length);
      for (const file of files)
        expect(() => JSON.parse(readFileSync(join(folder, "issued/sled", file), "utf8")) as unknown).not.toThrow();
    }
    expect(killed).toBeGreaterThan(0);
    rmSync(join(folder, "issued"), { recursive: true, force: true });
    const last = await rerig("issue");
    expect([last.status, filesIn(join(folder, "issued/sled")).length]).toEqual([0, 9]);
    expect(before.length).toBeGreaterThanOrEqual(9);
    expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
  });
});
