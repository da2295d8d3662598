/**
 * A new educator at the forms of equipment and configurations, in a real browser, with a pointer and by keyboard alone
 * (WCAG 2.2, 2.1.1): an item is added, told what it weighs, taken back, fitted; what is wrong stands beside its field.
 * What the files say is compared with what an author would write by hand. The collection is invented.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { forScreens, openBrowser } from "../../site/find-browser.ts";
import { byKeyboard, withPointer } from "./hands.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
const STARTER = resolve(import.meta.dirname, "../../../src/starter");

describe.skipIf(!browserPath).each([
  ["with a pointer", withPointer],
  ["by keyboard alone", byKeyboard],
] as const)("the forms of files, %s", (way, handsOn) => {
  const work = mkdtempSync(join(tmpdir(), "rerig-forms-")),
    folder = join(work, "ours"),
    patience = { timeout: 120_000 };
  let desk: Desk, browser: Browser, page: Page;
  const wrong: string[] = [];
  beforeAll(async () => {
    cpSync(STARTER, folder, { recursive: true });
    desk = await openDesk(folder, 0);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(patience.timeout);
    await page.setViewport({ width: 1280, height: 900 });
    page.on("pageerror", (error) => wrong.push(String(error)));
  }, 240_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    rmSync(work, { recursive: true });
  });

  const read = (file: string) => readFileSync(join(folder, file), "utf8");
  const says = async (file: string, what: RegExp | string) =>
    typeof what === "string"
      ? expect.poll(() => read(file), patience).toBe(what)
      : expect.poll(() => read(file), patience).toMatch(what);

  it("take in an item, what it weighs, where it is fitted, and say what is wrong beside it", async () => {
    const hands = handsOn(page),
      equipment = "trolley/equipment.yaml",
      configuration = "trolley/configurations/small-seat.mdx";
    const before = read(equipment),
      head = read(configuration);
    const go = async (selector: string, to: string) => {
      await hands.press(selector);
      await page.waitForFunction((part) => location.href.endsWith(part), patience, to);
      await page.waitForSelector("main h1", patience);
    };
    await page.goto(desk.address, { waitUntil: "load", ...patience });
    await go('a[href="form/trolley/equipment.yaml"]', "form/trolley/equipment.yaml");
    await hands.press("#f--new > summary");
    await hands.type('#f--new [name="f:name"]', "Chest strap");
    await hands.choose('#f--new [name="f:home"]', "strap-bag");
    await go("#f--new button[type=submit]", "form/trolley/equipment.yaml/chest-strap");
    const added = `${before}chest-strap:\n  name: Chest strap\n  home: strap-bag\n`;
    await says(equipment, added);

    await hands.type("#f-chest-strap-mass [name=figure]", "0.4");
    await hands.press("#f-chest-strap-places > summary");
    await says(equipment, added.replace("  home: strap-bag", "  mass: 0.4 kg\n  home: strap-bag"));
    await hands.press("[data-again=undo]");
    await says(equipment, added);
    await hands.press("[data-again=redo]");
    await says(equipment, /mass: 0\.4 kg\n {2}home: strap-bag\n$/);

    await hands.type("#f-chest-strap-count input", "two");
    await hands.press("#f-chest-strap-places > summary");
    await says(equipment, /count: two/);
    await page.waitForSelector("#f-chest-strap-count .found .error", patience);
    const said = await page.$eval("#f-chest-strap-count .found", (each) => each.textContent ?? "");
    expect(said).toMatch(/unexpected two, expected a whole number from 1 to 9999/i);
    await hands.type("#f-chest-strap-count input", "2");
    await hands.press("#f-chest-strap-places > summary");
    await says(equipment, /count: 2\n/);
    await page.waitForFunction(() => !document.querySelector("#f-chest-strap-count .found"), patience);

    await go(".desk-top a", "/");
    await go(`a[href="form/${configuration}"]`, `form/${configuration}`);
    await hands.press("#f-fitted-new > summary");
    await hands.choose("#f-fitted-new [name=key]", "strap-bag");
    await hands.type("#f-fitted-new [name=count]", "2");
    await hands.choose("#f-fitted-new [name=item]", "chest-strap");
    await hands.press("#f-fitted-new button[type=submit]");
    await says(configuration, head.replace("[small-seat] }", "[small-seat], strap-bag: [2 chest-strap] }"));

    await hands.press("#add-line > summary");
    await hands.type("#add-line form.check [name=text]", "Strap bag");
    await hands.type("#add-line form.check [name=answer]", "two straps");
    await hands.press("#add-line form.check button");
    await says(configuration, /\n::check\[Strap bag\]\{answer="two straps"\}\n$/);
    console.info(`${way}: ${hands.actions()} actions`);
    expect(wrong).toEqual([]);
  }, 900_000);
});
