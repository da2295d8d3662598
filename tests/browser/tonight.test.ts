/**
 * What is out of service on the built demo, as a crew meets it: said once, kept, shown on every page, and nothing is
 * built with it. What the page says is compared with what the command works out, and with a plain count.
 */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, BrowserContext, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { blockedBy } from "../../src/domain/tonight/blocked.ts";
import { sparesOf, stillPossible } from "../../src/domain/tonight/out-of-service.ts";
import { wordsFor } from "../../src/words/words.ts";
import { sayWithout } from "../../src/domain/tonight/say-out-of-service.ts";
import type { ChooserData } from "../../src/site/plans/chooser-data.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { readCollection } from "../read-collection.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
const root = resolve(import.meta.dirname, "../..");

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("tonight", () => {
  let served: Served, browser: Browser, device: BrowserContext | undefined, page: Page;
  const stopped: string[] = [];
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });
  /** A device that keeps nothing yet, its page open. */
  const takeDevice = async () => {
    await device?.close();
    device = await browser.createBrowserContext();
    page = await newQuietPage(device);
    page.on("console", (message) => message.type() === "error" && stopped.push(message.text()));
    page.on("pageerror", (error) => stopped.push(String(error)));
    await open("tern/tonight/");
  };
  beforeEach(async () => {
    stopped.length = 0;
    await takeDevice();
  });
  const open = (address: string) => page.goto(served.address + address, { waitUntil: "load" });
  const press = (item: string) => page.click(`[data-item="${item}"] label:not(:has(:checked))`);
  const text = (selector: string) =>
    page.$$eval(selector, (found) => found.map((each) => (each as HTMLElement).innerText.trim()).join("\n"));
  const enter = async (kg: string) => {
    await page.click(".units label:has([value=kg])");
    await page.click("#weight", { count: 3 });
    await page.type("#weight", kg);
  };

  it("says what the command says, ways too", async () => {
    const { collection } = forceOn(await readCollection(join(root, "procedures")), "2026-11-28");
    const platform = collection.platforms[0]!;
    for (const [at, items] of [["cradle-strap"], ["second-ventilator", "capsule-pin"], ["monitor"]].entries()) {
      if (at > 0) await takeDevice();
      // Where a strap is cut there is no signal.
      await page.setOfflineMode(true);
      for (const item of items) await press(item);
      await page.waitForSelector(".out-form[data-ways]", { timeout: 120_000 });
      await page.setOfflineMode(false);
      const shown = await page.$$eval(".said section", (blocks) =>
        blocks.map((block) => [
          block.querySelector("h3")!.textContent!.replaceAll("’", "'"),
          ...[...block.querySelectorAll("li")].map((line) => line.textContent!),
        ]),
      );
      const told = sayWithout(
        platform,
        collection.service,
        new Map(items.map((item) => [item, 1])),
        wordsFor(collection.service).tonight,
      );
      expect(shown).toEqual(told.map(({ heading, lines }) => [heading, ...lines]));
    }
  }, 300_000);

  it("keeps it with the hour over a reload and until it is taken back, and shows it on every page", async () => {
    await press("cradle-strap");
    await page.reload();
    expect(await text('[data-item="cradle-strap"] .since')).toMatch(/^since \d\d:\d\d$/);
    expect(await page.$$('[data-item="cradle-strap"] :checked')).toHaveLength(1);
    await open("tern/procedures/");
    expect(await text(".out-now")).toMatch(/^Out of service: 1 of 4: Cradle strap, since \d\d:\d\d/);
    // One strap of four is cut: the cradle takes all four (equipment of the demo, invented).
    for (const address of [
      "configurations/child-cradle/",
      "cards/child-cradle/",
      "changeovers/deck-harness--child-cradle/",
    ]) {
      await open(`tern/${address}`);
      expect(await text(".out-now")).toMatch(/^Can’t be built now\. Cradle strap \(1 of 4\) is out of service/);
    }
    await open("tern/cards/newborn-capsule/");
    expect(await text(".out-now")).toMatch(/^Out of service/);
    await open("tern/tonight/");
    await page.click(".all-back");
    await open("tern/cards/child-cradle/");
    expect(await page.$(".out-now")).toBeNull();
    expect(await page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes("out")))).toEqual([]);
  });

  it("refuses in the chooser what can't be built, says why, and leaves the rest as it was", async () => {
    await press("cradle-strap");
    await press("cooling-unit");
    await open("");
    await enter("12");
    expect(await text(".answer.stop")).toMatch(/Can’t be built now.*Child cradle can’t be built now: Cradle strap/s);
    expect(await page.$eval(".next", (place) => (place as HTMLElement).hidden)).toBe(true);
    expect(await text('.hang [data-for="child-cradle"] .gone')).toContain("Cradle strap (1 of 4)");
    await enter("3.9");
    if (await page.$eval(".sure", (place) => !(place as HTMLElement).hidden)) await page.click(".sure .yes");
    expect(await text(".answer b")).toBe("Newborn capsule");
    const gone = await page.$$eval(".wanted input:disabled", (boxes) =>
      boxes.map((box) => (box as HTMLInputElement).value),
    );
    expect(gone).toContain("cooling-unit");
    expect(await text(".wanted")).toContain("not now: out of service");
  });

  it("plans no changeover to it, and takes off what stands there broken", async () => {
    await press("cradle-strap");
    await open("tern/changeovers/#from=newborn-capsule&to=child-cradle");
    expect(await text("#answer-of")).toMatch(/^Can’t be built now\s+Cradle strap \(1 of 4\) is out of service/);
    await open("tern/changeovers/print/#from=newborn-capsule&to=child-cradle");
    expect(await text("#card-none")).toMatch(/^Can’t be built now: Cradle strap/);
    await open("tern/changeovers/#from=child-cradle&to=newborn-capsule");
    expect(await text("#answer-of")).toMatch(/It stands there now: Cradle strap \(1 of 4\) is out of service/);
  });

  it("agrees with a fresh count for every single item: what the pages carry is what is possible", async () => {
    const { collection } = forceOn(await readCollection(join(root, "procedures")), "2026-11-28");
    const platform = collection.platforms[0]!;
    const carried = (JSON.parse(await pageData("")) as ChooserData).spares;
    const tables = new Map(
      Object.entries(carried.of).map(([name, pairs]) => [
        name,
        Object.fromEntries(
          pairs.flatMap((value, at) => (at % 2 === 0 ? [[carried.items[value]!, pairs[at + 1]!] as const] : [])),
        ),
      ]),
    );
    expect(tables.size).toBeGreaterThan(20);
    for (const { id, count } of platform.items)
      for (let out = 1; out <= count; out += 1) {
        const loss = new Map([[id, out]]);
        const possible = stillPossible(platform, collection.service, loss).possible.map(({ name }) => name);
        const said = [...tables].filter(([, spares]) => blockedBy(spares, loss).length === 0).map(([name]) => name);
        expect(said.sort(), `${out} ${id}`).toEqual(possible.sort());
      }
    expect(tables).toEqual(sparesOf(platform));
  });
  const pageData = async (address: string) => {
    await open(address);
    return page.$eval("#chooser-data", (place) => place.textContent!);
  };

  it("answers a press in less than a tenth of a second, and the pages stop no script", async () => {
    const times: number[] = [];
    for (let at = 0; at < 4; at += 1) {
      await press("capsule-pin");
      times.push(Number(await page.$eval(".out-form", (form) => (form as HTMLElement).dataset["ms"])));
    }
    // The best of four: the first press meets code that was never run, and other work may share the cores.
    expect(Math.min(...times)).toBeLessThan(100);
    expect(stopped).toEqual([]);
  });
});
