/**
 * `rerig import` of a table of equipment. How cells are parted and quoted is as RFC 4180 says, or as spreadsheets save
 * (semicolons, tabs, decimal commas: common practice, no source). What comes of it is read by the collection's own
 * reader. The equipment is invented.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runHere } from "./run-here.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const work = mkdtempSync(join(tmpdir(), "rerig-equipment-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const collection = join(work, "procedures"),
  file = join(collection, "sled/equipment.yaml"),
  table = join(work, "kit.csv");
const ORIGINAL = readFileSync(join(sled, "sled/equipment.yaml"), "utf8");
beforeEach(() => {
  rmSync(collection, { recursive: true, force: true });
  cpSync(sled, collection, { recursive: true });
});

async function bring(text: string | Uint8Array, ...more: string[]) {
  writeFileSync(table, text);
  const run = await runHere(["import", table, "--procedures", collection, ...more], "2026-11-28");
  return { ...run, text: readFileSync(file, "utf8") };
}

/** The items as the collection's reader reads them, with what it says against the file. */
async function readBack() {
  const findings = new Findings(),
    { platforms } = await loadCollection(collection, findings);
  expect(
    findings.list.filter(({ file: at, severity }) => at.endsWith("equipment.yaml") && severity === "error"),
  ).toEqual([]);
  return new Map(platforms.find(({ id }) => id === "sled")!.items.map((item) => [item.id, item]));
}

describe("a table of equipment", () => {
  it("becomes items after those that there are, which stay byte for byte", async () => {
    const { status, stdout, text } = await bring(
      'Item,Qty,Weight (kg),Kept in,Supplier\r\n"Tie, long",4,0.25,Tail bag,Any\r\nSplint,,"1.5 kg",hut,\r\n',
    );
    expect(status).toBe(0);
    expect(text.startsWith(ORIGINAL)).toBe(true);
    expect(stdout).toContain("Added 2 items");
    expect(stdout).toContain("The column “Supplier”, with 1 entry");
    const items = await readBack();
    expect(items.get("tie-long")).toMatchObject({ name: "Tie, long", count: 4, massKg: 0.25, home: "tail-bag" });
    expect(items.get("splint")).toMatchObject({ name: "Splint", count: 1, massKg: 1.5, home: "hut" });
  });

  it("is read with semicolons, decimal commas and a title above its heads", async () => {
    const { stdout } = await bring(
      "Kit room list;;\n;;\nname;mass;home\nFoot pad;0,4 kg;hut\nHead pad;1,250 kg;hut\n".replaceAll("\n", "\r\n"),
    );
    // A comma before three figures may part thousands: it is asked, not guessed.
    expect(stdout).toContain("“1,250 kg” under mass, of “Head pad” in row 5: expected a mass with its unit");
    expect(stdout).toContain("Row 1 (Kit room list): it stands above the heads of the columns");
    const items = await readBack();
    expect(items.get("foot-pad")!.massKg).toBe(0.4);
    expect(items.get("head-pad")!.massKg).toBeUndefined();
  });

  // What spreadsheets do to whole numbers and sums: common practice, no source.
  it("is read as a spreadsheet writes it, without its sums, and says what an unread count means", async () => {
    const { stdout } = await bring(
      "\ufeffItem,Qty,Mass,Home\r\nFoot pad,2.00,1 kg,hut\r\nHead pad,1E+03,1 kg,hut\r\n" +
        "Total,9,,hut\r\n=A2,1,,hut\r\n",
    );
    expect(stdout).toContain("“1E+03” under count, of “Head pad” in row 3: expected a whole number from 1");
    expect(stdout).toContain("Without it the item counts as one");
    expect(stdout).toContain("Row 4 (Total | 9 | hut): it reads as a sum");
    const items = await readBack();
    expect(items.get("foot-pad")).toMatchObject({ count: 2 });
    expect([items.has("total"), items.has("a2")]).toEqual([false, false]);
  });

  it("is asked for as CSV where a spreadsheet's own file is brought", async () => {
    writeFileSync(join(work, "kit.xlsx"), "PK");
    const { status, stderr } = await runHere(
      ["import", join(work, "kit.xlsx"), "--procedures", collection],
      "2026-11-28",
    );
    expect([status, stderr]).toEqual([2, expect.stringContaining("save the sheet of equipment as “CSV UTF-8”")]);
  });

  it("is read with tabs, as it is copied from a sheet", async () => {
    await bring("name\tcount\thome\nFoot pad\t2\tHut\n");
    expect((await readBack()).get("foot-pad")).toMatchObject({ count: 2, home: "hut" });
  });

  it("leaves out, and lists, rows that there are already, that come twice and that name no place", async () => {
    const { stdout, text } = await bring(
      "name,home\nChild shell,hut\nFoot pad,hut\nfoot pad,hut\nMast,Hutt\n,hut\nLamp,\n",
    );
    for (const line of [
      "Row 2 (Child shell | hut): there is an item `child-shell` already, and nothing is overwritten",
      "Row 4 (foot pad | hut): its item stands in row 3 already",
      "Row 5 (Mast | Hutt): “Hutt” is no place (is “Hut” meant?); `--home` gives one",
      "Row 6 (hut): it has no name",
      "Row 7 (Lamp): it says no place; `--home` gives one",
    ])
      expect(stdout).toContain(line);
    expect(text).toBe(`${ORIGINAL}foot-pad:\n  name: Foot pad\n  home: hut\n`);
    await bring('name,home\nPin 3/4" long,hut\nStrap,hut\n');
    expect((await readBack()).get("pin-3-4-long")?.name).toBe('Pin 3/4" long');
    expect((await readBack()).has("strap")).toBe(true);
    const again = await bring("name,home\nMast,Hutt\n", "--home", "hut");
    expect(again.stdout).toContain("The place of row 2: “Hutt” is no place");
    expect((await readBack()).get("mast")!.home).toBe("hut");
  });

  it("writes nothing where it can take nothing, and says why", async () => {
    const bad: readonly (readonly [string | Uint8Array, string, ...string[]])[] = [
      ["", "No column of this table is called `name`"],
      ["thing,home\nMast,hut\n", "No column of this table is called `name`"],
      ['name,home\n"Mast,hut\n', "a quote stands where none should, or is not closed"],
      [Uint8Array.of(0x6e, 0xe9, 0x2c), "not in UTF-8"],
      ["name,home\nMast,cellar\n", "No row of this table could be taken"],
      ["name,home\nMast,hut\n", "`cellar` is no place of `sled`", "--home", "cellar"],
    ];
    for (const [text, words, ...more] of bad) {
      const { status, stdout, stderr, text: after } = await bring(text, ...more);
      expect([status, stdout, after], words).toEqual([2, "", ORIGINAL]);
      expect(stderr).toContain(words);
      expect(stderr).toContain("Nothing was written");
    }
  });

  it("is not added to a file that could not be read with it", async () => {
    writeFileSync(file, "{ splint: { name: Splint, home: hut } }\n");
    const { status, stderr, text } = await bring("name,home\nMast,hut\n");
    expect([status, text]).toEqual([2, "{ splint: { name: Splint, home: hut } }\n"]);
    expect(stderr).toContain("Items can't be added at the end of");
  });

  it("gives back every row: as an item with its name, or in the list", async () => {
    const cell = fc.string({ unit: "grapheme-ascii", maxLength: 12 }).map((text) => text.replace(/["\r\n]/g, ""));
    const quoted = (text: string) => `"${text}"`;
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 8 }), async (rows) => {
        writeFileSync(file, ORIGINAL);
        const body = rows.map((row) => row.map(quoted).join(",")).join("\n");
        const { stdout, stderr, text } = await bring(`name,count,mass\n${body}\n`, "--home", "hut");
        expect(text.startsWith(ORIGINAL)).toBe(true);
        const names = [...(text === ORIGINAL ? [] : (await readBack()).values())].map(({ name }) => name);
        rows.forEach(([name, ...others], at) => {
          if (![name, ...others].some((each) => each.trim())) return;
          const isListed = `${stdout}${stderr}`.includes(`Row ${at + 2} (`);
          expect(isListed || names.includes(name.trim()), JSON.stringify(rows)).toBe(true);
        });
      }),
      { numRuns: 40, seed: 7 },
    );
  });
});
