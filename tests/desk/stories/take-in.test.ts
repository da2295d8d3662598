/**
 * A document and tables taken in at the desk, in a real browser, with a pointer and by keyboard alone (WCAG 2.2,
 * 2.1.1). What comes of them is what `rerig import` makes of the same file, byte by byte; the document is one as
 * LibreOffice 7.4 writes it. What can't be taken in is refused in a sentence, with nothing written. The collection and
 * the equipment are invented.
 */
import { project, work } from "../work-folder.ts";
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Document, HeadingLevel, LevelFormat, Packer, Paragraph } from "docx";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { forScreens, openBrowser } from "../../site/find-browser.ts";
import { runHere } from "../../commands/run-here.ts";
import { byKeyboard, withPointer } from "./hands.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
const SLED = join(project, "tests/fixtures/collections/sled"),
  DOCUMENT = join(project, "tests/fixtures/import/fit-the-cradle.docx"),
  TABLE = 'Item,Qty,Weight (kg),Supplier\r\n"Tie, long",4,0.25,Any\r\nSplint,,heavy,\r\n';

/** Every file of a collection with what it holds, but for what the desk keeps of the day. */
const filesIn = (folder: string) =>
  new Map(
    readdirSync(folder, { recursive: true, encoding: "utf8", withFileTypes: false })
      .filter((name) => /\.\w+$/.test(name) && !name.includes(".rerig"))
      .sort()
      .map((name) => [name, readFileSync(join(folder, name), "latin1")] as const),
  );

/** A document of two numbered steps, by the library docx. */
function withoutPictures(): Promise<Buffer> {
  const levels = [{ level: 0, format: LevelFormat.DECIMAL, text: "%1." }];
  const step = (text: string) => new Paragraph({ text, numbering: { reference: "steps", level: 0 } });
  return Packer.toBuffer(
    new Document({
      numbering: { config: [{ reference: "steps", levels }] },
      sections: [
        {
          children: [
            new Paragraph({ text: "Fold the tarp", heading: HeadingLevel.TITLE }),
            step("Lay the tarp flat."),
            step("Fold it twice."),
          ],
        },
      ],
    }),
  );
}

describe.skipIf(!browserPath).each([
  ["with a pointer", withPointer],
  ["by keyboard alone", byKeyboard],
] as const)("at the desk, %s", (way, handsOn) => {
  const folder = join(work, way.replaceAll(" ", "-")),
    byCommand = `${folder}-by-command`,
    table = `${folder}.csv`,
    patience = { timeout: 120_000 };
  let desk: Desk, browser: Browser, page: Page;
  beforeAll(async () => {
    for (const each of [folder, byCommand]) cpSync(SLED, each, { recursive: true });
    writeFileSync(table, TABLE);
    for (const [file, ...more] of [[DOCUMENT], [table, "--home", "hut"]]) {
      const run = await runHere(["import", file!, "--procedures", byCommand, "--platform", "sled", ...more]);
      expect([run.status, run.stderr]).toEqual([0, ""]);
    }
    desk = await openDesk(folder, 0);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(patience.timeout);
    await page.setViewport({ width: 1280, height: 900 });
  }, 240_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    for (const each of [folder, byCommand]) rmSync(each, { recursive: true });
  });

  const form = "#take-in-sled";
  const begin = async () => {
    await page.goto(desk.address, { waitUntil: "load", ...patience });
    const hands = handsOn(page);
    await hands.press(`${form} > summary`);
    return hands;
  };
  const said = async (pattern: RegExp) =>
    expect.poll(() => page.$eval("#said", ({ textContent }) => textContent), patience).toMatch(pattern);
  const arrived = async () => {
    await page.waitForFunction(() => location.pathname.includes("/taken-in/"), patience);
    await page.waitForSelector("main h1", patience);
    return page.$eval("main", ({ textContent }) => textContent!.replace(/\s+/g, " "));
  };

  it("a document becomes the draft that the command makes of it, and what was not placed is listed", async () => {
    const hands = await begin();
    await hands.bring(`${form} input[type=file]`, DOCUMENT);
    await hands.press(`${form} button[type=submit]`);
    const shown = await arrived();
    expect(shown).toContain("Taken in: fit-the-cradle.docx");
    expect(shown).toContain("20 steps, 12 photos");
    expect(shown).toMatch(/Not placed .*Picture 1: it stands before the first step of its section/);
    expect(shown).toContain("For whom it is: as it stands it would be for every patient");
    await hands.press("main a.go");
    await page.waitForFunction(() => location.pathname.endsWith("/procedures/sled/fit-the-cradle/"), patience);
    const made = filesIn(folder),
      wanted = filesIn(byCommand);
    const ofDocument = [...wanted.keys()].filter((name) => name.includes("fit-the-cradle"));
    expect(ofDocument.length).toBeGreaterThan(12);
    for (const name of ofDocument) expect([name, made.get(name) === wanted.get(name)]).toEqual([name, true]);
    // It is there to be read again as long as the desk is open.
    await page.goto(desk.address, { waitUntil: "load", ...patience });
    expect(await page.$$eval('a[href="taken-in/1/"]', (links) => links.length)).toBe(1);
  }, 600_000);

  it("nothing is written over: the same document is refused the second time", async () => {
    const before = filesIn(folder),
      hands = await begin();
    await hands.bring(`${form} input[type=file]`, DOCUMENT);
    await hands.press(`${form} button[type=submit]`);
    await said(/^Not saved\. There is one of that title already/);
    expect(filesIn(folder)).toEqual(before);
    // Of a document without a picture, too, which is one file alone.
    const bare = join(folder, "..", `${way.replaceAll(" ", "-")}-bare.docx`);
    writeFileSync(bare, await withoutPictures());
    for (const expected of [/^Saved/, /^Not saved\. There is one of that title already/]) {
      const again = await begin();
      await again.bring(`${form} input[type=file]`, bare);
      await again.press(`${form} button[type=submit]`);
      if (expected.test("Saved")) await arrived();
      else await said(expected);
    }
  }, 600_000);

  it("a table becomes the items that the command makes of it, whether it is a file or pasted", async () => {
    const equipment = join(folder, "sled/equipment.yaml"),
      original = readFileSync(equipment, "utf8"),
      wanted = readFileSync(join(byCommand, "sled/equipment.yaml"), "utf8");
    expect(wanted).toContain("tie-long");
    const hands = await begin();
    await hands.bring(`${form} input[type=file]`, table);
    await hands.choose(`${form} select[name=home]`, "hut");
    await hands.press(`${form} button[type=submit]`);
    const shown = await arrived();
    expect(shown).toMatch(/Not placed .*heavy/);
    expect(shown).toMatch(/Supplier/);
    expect(readFileSync(equipment, "utf8")).toBe(wanted);
    writeFileSync(equipment, original);
    const again = await begin();
    await again.type(`${form} textarea[name=pasted]`, TABLE.replaceAll("\r\n", "\n").trim());
    await again.choose(`${form} select[name=home]`, "hut");
    await again.press(`${form} button[type=submit]`);
    expect(await arrived()).toContain("Taken in: a pasted table");
    expect(readFileSync(equipment, "utf8")).toBe(wanted);
  }, 600_000);

  it("what is no document, breaks off, or is not chosen is refused in a sentence, and nothing is written", async () => {
    const bad = join(work, "bad");
    mkdirSync(bad, { recursive: true });
    writeFileSync(join(bad, "notes.docx"), "Not a document");
    writeFileSync(join(bad, "half.docx"), readFileSync(DOCUMENT).subarray(0, 9_000));
    writeFileSync(join(bad, "plain.csv"), "one,two\n1,2\n");
    const before = filesIn(folder);
    for (const [file, why] of [
      ["notes.docx", /is no Word document/],
      ["half.docx", /breaks off or is damaged/],
      ["plain.csv", /No column of this table is called/],
      [undefined, /Choose a document or a table first/],
    ] as const) {
      const hands = await begin();
      if (file) await hands.bring(`${form} input[type=file]`, join(bad, file));
      await hands.press(`${form} button[type=submit]`);
      await said(why);
      expect(filesIn(folder)).toEqual(before);
    }
  }, 600_000);
});
