/**
 * Another id, and a new platform, in a real browser and by keyboard alone (WCAG 2.2, 2.1.1): of an item, of a step, of
 * a platform; what was issued keeps its own and says so. axe and the rules of pa11y on these screens, by day and night,
 * at 1280 and 390 px. What the files then say is asked of `rerig check`. The collection is the starter, which is
 * invented.
 */
import { project, work } from "../work-folder.ts";
import { cpSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { forScreens, openBrowser } from "../../site/find-browser.ts";
import { runHere } from "../../commands/run-here.ts";
import { byKeyboard } from "./hands.ts";
import { screenFaults } from "./screen-faults.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
const TODAY = process.env["RERIG_TODAY"] ?? new Date().toISOString().slice(0, 10);
const PATIENCE_MS = 240_000;
const OWN =
  "---\ntitle: Wipe the deck\ncode: OUR-9\nrevision: 1\nstatus: draft\n---\nLeaves the deck clean.\n\n" +
  ":::step{#wipe by=lead}\nWipe the deck with a cloth.\n:::\n\n:::step{by=lead after=wipe}\nHang the cloth up.\n:::\n";

describe.skipIf(!browserPath)("another id at the desk", () => {
  const folder = join(work, "ours"),
    own = join(folder, "trolley/wipe-the-deck.mdx"),
    wrong: string[] = [];
  let desk: Desk, browser: Browser, page: Page;
  beforeAll(async () => {
    cpSync(join(project, "src/starter"), folder, { recursive: true });
    expect(await runHere(["issue", "--procedures", folder], TODAY)).toMatchObject({ status: 0 });
    writeFileSync(own, OWN);
    desk = await openDesk(folder, 0);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    await page.setViewport({ width: 1280, height: 900 });
    await page.setBypassCSP(true);
    page.on("pageerror", (error) => wrong.push(String(error)));
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
  });

  const go = async (address: string) => page.goto(desk.address + address, { waitUntil: "load", timeout: PATIENCE_MS });
  const read = (path: string) => (existsSync(join(folder, path)) ? readFileSync(join(folder, path), "utf8") : "");
  const says = (path: string, what: RegExp) => expect.poll(() => read(path), { timeout: PATIENCE_MS }).toMatch(what);
  const at = (part: string) =>
    page.waitForFunction((wanted) => location.href.includes(wanted), { timeout: PATIENCE_MS }, part);

  it("is given to a step, with what names it, and taken back by one Undo", async () => {
    const hands = byKeyboard(page);
    await go("procedures/trolley/wipe-the-deck/");
    await hands.press("#step-1 > details > summary");
    await hands.press("#more-1 > summary");
    await hands.press("#rename-step-wipe > summary");
    expect(await page.$eval("#rename-step-wipe [name=to]", (each) => (each as HTMLInputElement).value)).toBe("wipe");
    await hands.type("#rename-step-wipe [name=to]", "Wipe It");
    await hands.press("#rename-step-wipe button");
    await page.waitForFunction(() => document.querySelector("#said.grave")?.textContent?.includes("can’t be an id"));
    await hands.type("#rename-step-wipe [name=to]", "wipe-deck");
    await hands.press("#rename-step-wipe button");
    await says("trolley/wipe-the-deck.mdx", /#wipe-deck by=lead[^]*after=wipe-deck\}/);
    await page.waitForSelector("#rename-step-wipe-deck");
    await hands.press("[data-again=undo]");
    await expect.poll(() => read("trolley/wipe-the-deck.mdx"), { timeout: PATIENCE_MS }).toBe(OWN);
  }, 600_000);

  it("is given to an item, whose screen is then at its new address", async () => {
    const hands = byKeyboard(page);
    await go("form/trolley/equipment.yaml/large-mattress");
    await hands.press("#rename-large-mattress > summary");
    await hands.type("#rename-large-mattress [name=to]", "wide-mattress");
    await hands.press("#rename-large-mattress button");
    await says("trolley/equipment.yaml", /^wide-mattress:/m);
    await at("equipment.yaml/wide-mattress");
    expect(await runHere(["check", "--procedures", folder], TODAY)).not.toMatchObject({
      stdout: expect.stringContaining("unknown-id"),
    });
  }, 600_000);

  it("is not offered for what was issued, and why is said", async () => {
    for (const address of ["procedures/trolley/fit-small-seat/", "form/trolley/platform.yaml"]) {
      await go(address);
      expect(
        await page.$$eval("[data-send=rename] [name=what]", (all) =>
          all.map((each) => (each as HTMLInputElement).value),
        ),
      ).not.toContain(address.startsWith("form") ? "platform" : "procedure");
      expect(await page.$eval(".issued-id", (each) => each.textContent)).toMatch(/stands on cards, in sign-offs/);
    }
  }, 600_000);

  it("is given to a platform that was begun from a form, of which `check` says what is still missing", async () => {
    const hands = byKeyboard(page);
    await go("");
    await hands.press("#new-platform summary");
    await hands.type("#new-platform [name=name]", "Carry chair");
    await hands.type("#new-platform [name=place]", "Seat");
    await hands.type("#new-platform [name=store]", "Kit room");
    await hands.press("#new-platform button");
    await at("form/carry-chair/platform.yaml");
    await says(
      "carry-chair/platform.yaml",
      /^name: Carry chair\nplaces:\s*\{?\s*seat: \{ name: Seat, kind: mount \},?\s+kit-room: \{ name: Kit room, kind: store \}\s*\}?\n$/,
    );
    const { stdout } = await runHere(["check", "--procedures", folder], TODAY);
    expect(stdout).toMatch(
      /carry-chair\/platform\.yaml:1:7 +warning +`Carry chair` has no items, no configurations and no procedures yet/,
    );
    expect(stdout.match(/carry-chair\/platform\.yaml:/g)).toHaveLength(1);
    await page.waitForFunction(() =>
      document.querySelector("main")?.textContent?.includes("there is no arrangement of it to choose"),
    );
    await hands.press("#rename-carry-chair > summary");
    await hands.type("#rename-carry-chair [name=to]", "chair");
    await hands.press("#rename-carry-chair button");
    await at("form/chair/platform.yaml");
    expect([existsSync(join(folder, "carry-chair")), read("chair/platform.yaml")]).toEqual([
      false,
      expect.stringMatching(/^name: Carry chair/),
    ]);
    expect(wrong).toEqual([]);
  }, 600_000);

  it("breaks no rule of axe or pa11y where it is asked for, open, by day and night, at 1280 and 390 px", async () => {
    const addresses = [
      "",
      "procedures/trolley/wipe-the-deck/",
      "procedures/trolley/fit-small-seat/",
      "form/chair/platform.yaml",
      "form/trolley/equipment.yaml/wide-mattress",
    ];
    expect(await screenFaults(page, addresses, go)).toEqual([]);
  }, 1_800_000);
});
