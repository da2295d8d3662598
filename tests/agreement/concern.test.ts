/**
 * Whether an old card differs only with some option: the page of its code, the folder's page, the swap pack, the
 * command and its JSON say the same, and say it only where it is so. Compared with what is printed of the two cards;
 * the collection is invented, and that a folder's keeper wants to know it is common practice, no source.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addressOfCode } from "../../src/domain/cards/check-address.ts";
import { foldersShape } from "../../src/schema/results.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "../commands/run-here.ts";
import { edit } from "../domain/force/eight-days.ts";
import { addMachineMade, LONG } from "../words/machine-made.ts";

const root = resolve(import.meta.dirname, "../..");
const folder = mkdtempSync(join(tmpdir(), "rerig-concern-"));
const site = join(folder, "..", `${folder.split("/").at(-1)}-site`);
afterAll(() => [folder, site].forEach((each) => rmSync(each, { recursive: true, force: true })));
const DAY = "2026-06-01",
  LATER = "2026-06-02";
const rerig = (day: string, ...args: string[]) => runHere([...args, "--procedures", folder], day);
const folders = async (day: string) =>
  foldersShape.parse(JSON.parse((await rerig(day, "folders", "--json")).stdout)).folders[0]!.copies;
const textOf = (address: string) =>
  readFileSync(join(site, address, "index.html"), "utf8")
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ");

const SHELL = "sled/configurations/child-shell.mdx",
  OXYGEN = "sled/options/oxygen.mdx";
/** The next revision of a document that had none. */
const raise = (file: string, within = folder) =>
  edit(
    within,
    file,
    [/\n---\n/, "\nrevision: 2\nchanges: [{ revision: 2, date: 2026-06-02, by: Trainer, summary: Changed. }]\n---\n"],
    [/^(approved-by|status): .*$/m, "$&"],
  );

let codes: readonly string[] = [];
beforeAll(async () => {
  cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
  expect((await rerig(DAY, "issue")).status).toBe(0);
  codes = (await folders(DAY)).map(({ current }) => current!.check);
  const cards = ["child-shell", "vacuum-mattress"];
  writeFileSync(
    join(folder, "folders.yaml"),
    "hut:\n  name: Hut\n  copies:\n" +
      cards.map((card, at) => `    - { card: ${card}, copy: 1, check: ${codes[at]} }\n`).join(""),
  );
});

describe("an option's line and a configuration's own line that change", () => {
  beforeAll(async () => {
    raise(OXYGEN);
    edit(folder, OXYGEN, [/shut, no yellow/, "shut, no yellow seen"]);
    raise(SHELL);
    edit(folder, SHELL, [/two, clip across/, "two, clip across and down"]);
    const issued = await rerig(LATER, "issue");
    expect(issued.status, issued.stderr).toBe(0);
    // What the edition says of itself names the option by its title.
    expect(issued.stdout).toContain("sled/vacuum-mattress, edition 2");
    expect(issued.stdout).toContain("differs in only the lines with Oxygen fitted");
    await buildForTest({ collectionFolder: folder, outFolder: site, on: LATER, checked: true });
  }, 240_000);

  it("are told apart by every output", async () => {
    const [shell, mattress] = codes as [string, string];
    const only = "Differs only with Oxygen fitted.";
    expect((await folders(LATER)).map(({ card, state, onlyWith }) => [card, state, onlyWith])).toEqual([
      ["child-shell", "replace", []],
      ["vacuum-mattress", "replace", ["Oxygen"]],
    ]);
    const lines = (await rerig(LATER, "folders")).stdout.split("\n").filter((line) => line.includes("REPLACE"));
    expect(lines.map((line) => line.includes(only))).toEqual([false, true]);
    expect([textOf(addressOfCode(shell)).includes(only), textOf(addressOfCode(mattress)).includes(only)]).toEqual([
      false,
      true,
    ]);
    for (const page of ["folders/hut/swap", "folders/hut"]) expect(textOf(page).split(only), page).toHaveLength(2);
    expect(textOf("folders/hut/swap")).toMatch(new RegExp(`Vacuum mattress[^.]*${mattress} an old card\\. ${only}`));
  });
});

it("is told in any language: a card with another line of an option only", async () => {
  addMachineMade();
  const there = join(folder, LONG),
    asked = (day: string, ...args: string[]) => runHere([...args, "--procedures", there], day);
  cpSync(join(root, "tests/fixtures/collections/sled"), there, { recursive: true });
  edit(there, "service.yaml", [/^language: .*$/m, `language: ${LONG}`]);
  expect((await asked(DAY, "issue")).status).toBe(0);
  const before = foldersShape.parse(JSON.parse((await asked(DAY, "folders", "--json")).stdout)),
    [copy] = before.folders[0]!.copies;
  writeFileSync(
    join(there, "folders.yaml"),
    `hut:\n  name: Hut\n  copies:\n    - { card: ${copy!.card}, copy: 1, check: ${copy!.current!.check} }\n`,
  );
  raise(OXYGEN, there);
  edit(there, OXYGEN, [/shut, no yellow/, "shut, no yellow seen"]);
  expect((await asked(LATER, "issue")).status).toBe(0);
  const after = foldersShape.parse(JSON.parse((await asked(LATER, "folders", "--json")).stdout));
  expect(after.folders[0]!.copies.map(({ state, onlyWith }) => [state, onlyWith])).toEqual([["replace", ["Oxygen"]]]);
});
