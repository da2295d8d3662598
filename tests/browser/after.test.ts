/**
 * Afterwards, as a crew meets it, with the network cut: times kept through a reload, planned and done after the last
 * step, the file as the browser saves it, notes at steps; and on a device that keeps nothing. Compared with what
 * `rerig times` reads in the saved file.
 */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { readTimes } from "../../src/read/times.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
const PAIR = "tern/changeovers/newborn-capsule--child-cradle/";

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("afterwards", () => {
  let served: Served, browser: Browser, page: Page, folder: string;
  const stopped: string[] = [];
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), "rerig-after-"));
    page = await newQuietPage(await browser.createBrowserContext());
    await page.setViewport({ width: 390, height: 844 });
    page.on("console", (message) => message.type() === "error" && stopped.push(message.text()));
    page.on("pageerror", (error) => stopped.push(String(error)));
    const session = await browser.target().createCDPSession();
    await session.send("Browser.setDownloadBehavior", {
      behavior: "allow",
      downloadPath: folder,
      browserContextId: page.browserContext().id!,
    });
  });
  afterEach(async () => {
    await page.browserContext().close();
    rmSync(folder, { recursive: true, force: true });
    expect(stopped.splice(0).filter((line) => !line.includes("ERR_INTERNET_DISCONNECTED"))).toEqual([]);
  });

  const press = (selector: string) => page.$eval(selector, (place) => (place as HTMLElement).click());
  const text = (selector: string) =>
    page.$eval(selector, (place) => (place as HTMLElement).innerText.replace(/\s+/g, " ").trim());
  const goOn = async () => {
    await page.$$eval(".th-pin[aria-pressed=false]", (pins) => pins.forEach((pin) => (pin as HTMLElement).click()));
    await press(".th-next");
  };
  const begin = async () => {
    await page.goto(served.address + PAIR, { waitUntil: "load" });
    await press("[data-step-through]");
  };
  const toTheEnd = async () => {
    for (let step = 0; step < 80 && !(await page.$(".th-end")); step++) await goOn();
  };
  /** The file as the browser saved it. */
  const saved = async (words: string) => {
    await page.$$eval(
      ".after-file button",
      (all, wanted) => (all.find((each) => each.textContent!.includes(wanted)) as HTMLElement).click(),
      words,
    );
    const ending = words.toLowerCase();
    for (let wait = 0; wait < 100; wait++) {
      const name = readdirSync(folder).find((each) => each.endsWith(`.${ending}`));
      if (name) {
        const read = readTimes(readFileSync(join(folder, name)));
        if (read.kind === "times") return read.file;
      }
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    throw new Error(`nothing was saved in ${folder}: ${readdirSync(folder).join(", ")}`);
  };

  it("are kept through a reload, without a network shown side by side, saved the same as CSV and JSON", async () => {
    await begin();
    for (let step = 0; step < 3; step++) await goOn();
    await page.reload({ waitUntil: "load" });
    await page.setOfflineMode(true);
    expect(await text("#step h2")).toMatch(/^You were at step 4/);
    await press(".th-next");
    await toTheEnd();
    expect(await text(".planned-done")).toMatch(
      /^Planned and done Done in \d+:\d\d, planned \d+:\d\d: .*On this device: one run\./s,
    );
    const rows = await page.$$eval(".pd-table tbody tr", (all) => all.length);
    expect(await page.$$eval(".pd-rails .pin.held", (pins) => pins.length)).toBe(rows);
    const [csv, json] = [await saved("CSV"), await saved("JSON")];
    expect(csv).toEqual(json);
    expect(csv.runs).toHaveLength(1);
    const [run] = csv.runs;
    expect(run).toMatchObject({ platform: "tern", from: "newborn-capsule", to: "child-cradle" });
    expect(run!.steps).toHaveLength(rows);
    // One pause, at the step where the page was left; whoever then began the group again has a time for it.
    expect(run!.steps.reduce((sum, { interrupted }) => sum + interrupted, 0)).toBe(1);
    expect(run!.steps[3]!.interrupted).toBe(1);
    for (const each of run!.steps) expect(each.done).toBeLessThanOrEqual(run!.counted);
    const all = JSON.stringify(csv);
    for (const patient of ["kg", "month", "lead", "second"]) expect(all).not.toContain(patient);
    await page.setOfflineMode(false);
  });
  it("hold what was noted at a step, of which nothing is kept before its button is pressed", async () => {
    await begin();
    await goOn();
    await press(".step-note summary");
    expect(await text(".step-note label")).toContain("no patient and no name");
    await page.type(".step-note textarea", 'The pin is "red", not green');
    expect(await page.evaluate(() => JSON.stringify({ ...localStorage }))).not.toContain("not green");
    await press(".step-note .go");
    expect(await text(".note-said")).toMatch(/^Kept on this device/);
    const { procedure, step } = await page.evaluate(() => {
      const { walks } = JSON.parse(document.querySelector(".walk-data")!.textContent!) as {
        walks: { walk: { stops: { procedure: string; step: number }[] } }[];
      };
      return walks[0]!.walk.stops[1]!;
    });
    await toTheEnd();
    expect(await text(".after-kept")).toContain("On this device: one run and one note.");
    const { notes } = await saved("CSV");
    expect(notes).toMatchObject([{ platform: "tern", procedure, step, words: 'The pin is "red", not green' }]);
    await press(".after-file button:last-child");
    expect(await text(".after-kept")).toContain("one run and one note");
    await press(".after-file button:last-child");
    expect(await text(".after-kept")).toBe("Nothing is kept on this device.");
    expect(await page.evaluate(() => JSON.stringify({ ...localStorage }))).not.toContain("rerig-after");
  });
  it("say where a device keeps nothing, and give the file all the same", async () => {
    await page.evaluateOnNewDocument(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException("closed", "QuotaExceededError");
      };
    });
    await begin();
    await toTheEnd();
    expect(await text(".after-kept")).toContain("This device keeps nothing");
    expect((await saved("JSON")).runs).toHaveLength(1);
  });
});
