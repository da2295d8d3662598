/**
 * Every screen that the desk has: axe (WCAG 2.2 AA), the rules of pa11y and nothing wider than the window, by day and
 * night, at 1280 and 390 px, all that is folded opened. Which screens there are is asked of the desk itself: the sorts
 * of its addresses, the sorts of files that the schema names, and the links that lead from one screen to the next. The
 * collection is the demo, which is invented.
 */
import { knowWhatIsProved, project, work } from "../work-folder.ts";
import { cpSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { formKindOf } from "../../../src/desk/screens/guide-of.ts";
import { SCREENS } from "../../../src/desk/screens-at.ts";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { forScreens, openBrowser } from "../../site/find-browser.ts";
import { FILE_KINDS } from "../../../src/schema/file-kinds.ts";
import { isEveryPageAsked } from "../../site/look/representatives.ts";
import { screenFaults } from "./screen-faults.ts";
import { screensBySort } from "./screens-by-sort.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

describe.skipIf(!browserPath)("every screen of the desk", () => {
  const folder = join(work, "ours");
  let desk: Desk, browser: Browser, page: Page;
  /** One address of each sort that links lead to. */
  const found = new Map<string, string>();
  beforeAll(async () => {
    knowWhatIsProved();
    cpSync(join(project, "procedures"), folder, { recursive: true });
    desk = await openDesk(folder, 0);
    // What was taken in has a screen once something was.
    const taken = await fetch(`${desk.address}take-in`, {
      method: "POST",
      headers: { "Content-Type": "application/octet-stream", Origin: new URL(desk.address).origin },
      body: [
        JSON.stringify({ platform: "tern", fileName: "kit.csv", home: "store" }),
        "name,size",
        "Splint,small",
      ].join("\n"),
    });
    expect([taken.status, await taken.text()]).toEqual([200, expect.stringContaining("taken-in/1/")]);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(240_000);
    await page.setBypassCSP(true);
    for (const [sort, { address }] of await screensBySort(desk.address)) found.set(sort, address);
  }, 600_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
  });

  it("is reached by links: each sort of address that the server knows, a form for each sort of file", () => {
    const sorts = [...found.keys()];
    expect([...new Set(sorts.map((sort) => sort.split(" ")[0]))].sort()).toEqual(["", ...Object.keys(SCREENS)].sort());
    const forms = FILE_KINDS.filter(({ path }) => formKindOf(path.replace("PLATFORM", "p").replace("NAME", "n")));
    expect(forms.length).toBeGreaterThan(8);
    expect(forms.map(({ id }) => `form ${id} `).filter((sort) => !sorts.includes(sort))).toEqual([]);
  });

  it("breaks no rule of axe or pa11y and fits, by day and night, at 1280 and 390 px", async () => {
    const addresses = [...found.values(), "none/"];
    console.info(`${addresses.length} screens: ${[...found.keys()].join(", ")}`);
    expect(
      await screenFaults(page, addresses, (address) => page.goto(desk.address + address, { waitUntil: "load" })),
    ).toEqual([]);
  }, 1_800_000);

  it("sees a fault in one of many entries that are else alike, which are left out", async () => {
    const entries = Array.from({ length: 16 }, (_, at) => {
      const [id, named, words, colour, name] = [
        at === 8 ? "entry-2" : `entry-${at}`,
        at === 5 ? "" : ` aria-label="Pin ${at}"`,
        at === 6 ? "" : `Remove pin ${at}`,
        at === 7 ? ' style="color:#ccc"' : "",
        at === 4 ? "" : ` alt="Pin ${at}"`,
      ];
      return (
        `<li id="${id}"><input${named}><button type="button">${words}</button><p${colour}>Pin ${at}</p>` +
        `<label for="field-${at === 3 ? 2 : at}">Turns</label><input id="field-${at}">` +
        `<a href="#entry-${at === 9 ? "none" : at}">Pin ${at}</a>` +
        `<img src="data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA="${name}></li>`
      );
    });
    const found = await screenFaults(page, ["planted"], () =>
      page.setContent(
        `<!doctype html><html lang="en"><title>Pins</title><body style="background:#fff;color:#000">` +
          `<main><h1>Pins</h1><ul>${entries.join("")}</ul></main></body></html>`,
      ),
    );
    // First, second and last, and those with a fault that is not of two together.
    const left = isEveryPageAsked ? [...entries.keys()] : [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 15];
    expect(await page.$$eval("li", (all) => all.map((each) => each.textContent))).toEqual(
      left.map((at) => `${at === 6 ? "" : `Remove pin ${at}`}Pin ${at}TurnsPin ${at}`),
    );
    const all = found.join("\n");
    expect(all).toContain("2 times the id entry-2");
    expect(all).toMatch(/1280 light: label, 2 times/);
    expect(all).toMatch(/1280 light: button-name, 1 times/);
    expect(all).toMatch(/1280 light: color-contrast, 1 times.*#ccc/);
    expect(all).toMatch(/1280 light: image-alt, 1 times/);
    expect(all).toMatch(/NoSuchID: .*entry-none/);
    expect(all).toMatch(/H37: Img element missing an alt/);
  }, 240_000);
});
