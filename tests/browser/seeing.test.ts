/**
 * Questions of seeing on the built demo, in Chromium: the plan with one thing left out against the arrangement that
 * `data/` lists (what the drawing names and what it lacks), and a finger on a photo against its sidecar's marks.
 */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { readCollection } from "../read-collection.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);

describe.skipIf(!site || !browserPath || !existsSync(join(site, "tern/practise/index.html")))("seeing", () => {
  let served: Served, browser: Browser, page: Page;
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
    page = await newQuietPage(browser);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });

  /** Begins rounds about a document until a question shows what is asked for. */
  async function roundWith(about: string, shown: string): Promise<void> {
    for (let tries = 0; tries < 12; tries++) {
      await page.goto(`${served.address}tern/practise/#about=${encodeURIComponent(about)}`, { waitUntil: "load" });
      await page.reload({ waitUntil: "load" });
      await page.waitForSelector("[data-practice=home]:not([hidden])");
      await page.click("[data-practice=round]");
      for (let question = 0; question < 12; question++) {
        if (await page.$(shown)) return;
        const isOrder = await page.$("[data-practice=choices] .line");
        if (isOrder) for (const line of await page.$$("[data-practice=choices] .line")) await line.click();
        else await page.$eval("[data-practice=choices] input", (input) => input.click());
        await page.click("[data-practice=answer]");
        if ((await page.$eval("[data-practice=next]", (button) => button.textContent)) !== "Next question") break;
        await page.click("[data-practice=next]");
      }
    }
    throw new Error(`no question with ${shown}`);
  }

  it("draws an arrangement without the thing that is asked for, and names all else once", async () => {
    await roundWith("configuration child-cradle", ".gap-plan svg");
    const names = await page.$$eval(".plan-names li", (lines) => lines.map((line) => line.textContent));
    expect(names.length).toBeGreaterThan(5);
    expect(await page.$$eval(".gap-plan circle", (all) => all.length)).toBe(names.length);
    const answers = await page.$$eval("[data-practice=choices] .opt", (all) => all.map((each) => each.textContent));
    await page.$eval("[data-practice=choices] input", (input) => input.click());
    await page.click("[data-practice=answer]");
    const right = await page.$eval("[data-practice=choices] .key span", (place) => place.textContent);
    expect(answers).toContain(right);
    expect(names.map((name) => name.replace(/^\d+ (\d+ × )?/, ""))).not.toContain(right);
    // The thing belongs to the cradle's own arrangement, by the collection.
    const [tern] = (await readCollection(resolve(import.meta.dirname, "../../procedures"))).platforms;
    expect(tern!.items.some(({ name }) => name === right)).toBe(true);
    expect(await page.$eval("ol[data-practice=given]", (list) => list.hidden)).toBe(true);
  }, 120_000);

  it("asks which picture goes with a step; the right one is that which the procedure shows there", async () => {
    await roundWith("procedure lock-capsule-base", ".opt.with-picture");
    const pictures = await page.$$eval(".with-picture img", (all) => all.map((image) => new URL(image.src).pathname));
    expect(new Set(pictures).size).toBe(pictures.length);
    expect(pictures.length).toBe(2);
    await page.$eval(".with-picture input", (input) => input.click());
    await page.click("[data-practice=answer]");
    const right = await page.$eval(".with-picture.key img", (image) => new URL(image.src).pathname);
    const address = await page.$eval("[data-practice=because] a", (link) => link.href);
    await page.goto(address, { waitUntil: "load" });
    const { hash } = new URL(address);
    const shown = await page.$$eval(`${hash} img`, (all) => all.map(({ src }) => new URL(src).pathname));
    const file = (path: string) =>
      path
        .split("/")
        .at(-1)!
        .replace(/[-.@]\d+.*$/, "");
    expect(shown.map(file)).toContain(file(right));
  }, 120_000);

  it("keeps the button that answers above the bar of a phone", async () => {
    await page.setViewport({ width: 390, height: 844 });
    await roundWith("procedure fit-child-cradle", ".photo.to-press");
    const isOnTop = await page.$eval("button[data-practice=answer]", (button) => {
      button.scrollIntoView({ block: "nearest" });
      const { x, y, width, height } = button.getBoundingClientRect();
      return document.elementFromPoint(x + width / 2, y + height / 2) === button;
    });
    expect(isOnTop).toBe(true);
    await page.setViewport({ width: 1280, height: 900 });
  }, 120_000);

  it("takes the number under a finger, and the same number from the list", async () => {
    await roundWith("procedure fit-child-cradle", ".photo.to-press");
    const marks = await page.$$eval(".photo.to-press .mark", (groups) =>
      groups.map((group) => {
        const { x, y, width, height } = group.querySelector(".dot")!.getBoundingClientRect();
        return { n: group.textContent, x: x + width / 2, y: y + height / 2 };
      }),
    );
    expect(marks.length).toBeGreaterThan(2);
    for (const { n } of marks) {
      const spot = await page.evaluate((number) => {
        const group = [...document.querySelectorAll(".photo.to-press .mark")].find(
          (each) => each.textContent === number,
        )!;
        group.scrollIntoView({ block: "center" });
        const { x, y, width, height } = group.querySelector(".dot")!.getBoundingClientRect();
        return { x: x + width / 2, y: y + height / 2 };
      }, n);
      await page.mouse.click(spot.x, spot.y);
      const chosen = await page.$eval(
        "[data-practice=choices] label:has(input:checked) span",
        (place) => place.textContent,
      );
      expect(chosen).toBe(n);
    }
  }, 120_000);
});
