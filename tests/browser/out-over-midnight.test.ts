/**
 * What is out of service on a page that stays open over midnight, on a device whose clock is wrong, and after a set in
 * which a part has another name: in a real browser with the clock moved. The reference for the night is the same page
 * opened anew after it. Dates and words are invented; that nobody is offered what was taken out of service is common
 * practice, no source.
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { isClockBehind } from "../../src/browser/device/device.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "../commands/run-here.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { moveClock } from "./move-clock.ts";
import { SiteServer } from "./site-server.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

const AMENDMENT = `---
number: KRR-A9
title: Shells of the batch of May
reason: One shell cracked in the cold
from: 2026-06-08
until: 2026-06-19
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: 1 }]
out: [child-shell]
---
:::warning
A cracked shell carries nobody.
:::
`;

it("a clock is behind for certain only before the set's day began anywhere (UTC+14, tz database)", () => {
  const built = "2026-06-01";
  expect(isClockBehind({ built }, new Date("2026-05-31T09:59:59Z"))).toBe(true);
  expect(isClockBehind({ built }, new Date("2026-05-31T10:00:00Z"))).toBe(false);
  expect(isClockBehind({ built }, new Date("2027-06-01T00:00:00Z"))).toBe(false);
});

describe.skipIf(!browserPath)("what is out of service", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-out-")),
    [amended, renamed] = [join(work, "amended"), join(work, "renamed")],
    server = new SiteServer(amended);
  let browser: Browser, page: Page;

  beforeAll(async () => {
    const source = join(work, "collection"),
      fixture = resolve(import.meta.dirname, "../fixtures/collections/sled");
    cpSync(fixture, source, { recursive: true });
    mkdirSync(join(source, "sled/amendments"));
    writeFileSync(join(source, "sled/amendments/shells.mdx"), AMENDMENT);
    expect((await runHere(["issue", "--procedures", source], "2026-01-12")).status).toBe(0);
    await buildForTest({ collectionFolder: source, outFolder: amended, on: "2026-06-01" });
    const other = join(work, "other");
    cpSync(fixture, other, { recursive: true });
    for (const file of ["equipment.yaml", "fit-oxygen.mdx", "remove-oxygen.mdx", "options/oxygen.mdx"])
      writeFileSync(
        join(other, "sled", file),
        readFileSync(join(other, "sled", file), "utf8").replaceAll("oxygen-bottle", "gas-bottle"),
      );
    await buildForTest({ collectionFolder: other, outFolder: renamed, on: "2026-06-01" });
    await server.start();
    browser = await openBrowser(browserPath!);
  }, 600_000);
  afterAll(async () => {
    await browser?.close();
    await server.stop();
    rmSync(work, { recursive: true, force: true });
  });
  beforeEach(async () => {
    server.folder = amended;
    await page?.browserContext().close();
    page = await newQuietPage(await browser.createBrowserContext(), "2026-06-01");
  });

  const open = async (path: string, moment: string) => {
    await page.evaluateOnNewDocument(moveClock, moment);
    await page.goto("about:blank");
    await page.goto(server.address + path, { waitUntil: "load" });
  };
  const seen = (selector: string) =>
    page.$$eval(selector, (all) => all.map((each) => (each as HTMLElement).innerText.replaceAll(/\s+/g, " ")).join());
  const passMidnight = async (moment: string) => {
    await page.evaluate(moveClock, moment);
    await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
  };

  it.each([
    ["the bar of a page", "sled/items/child-shell/", ".out-now"],
    ["the chooser, with a weight entered", "#kg=12", "form.ask .answer"],
    ["a changeover that was asked for", "sled/changeovers/#from=vacuum-mattress&to=child-shell", "#answer-of"],
    ["Tonight", "sled/tonight/", ".leaves-now"],
  ])("%s says after midnight what it says opened anew, as the amendment begins and ends", async (_, path, part) => {
    const said: string[] = [];
    for (const [eve, night, day] of [
      ["2026-06-07T23:50", "2026-06-08T00:10", "2026-06-08T00:20"],
      ["2026-06-19T23:50", "2026-06-20T00:10", "2026-06-20T00:20"],
    ] as const) {
      await open(path, eve);
      const before = await seen(part);
      await passMidnight(night);
      const after = await seen(part);
      await open(path, day);
      // How long the answer took is another each time.
      const withoutTime = (text: string) => text.replaceAll(/Worked out[^.]*\./g, "");
      expect(withoutTime(after)).toBe(withoutTime(await seen(part)));
      expect(withoutTime(after)).not.toBe(withoutTime(before));
      said.push(before, after);
    }
    expect(said[1]).toMatch(/shell|some patients can’t be carried/i);
  });

  it("what a crew said of a part that has another id in a newer set is said until they take it back", async () => {
    await open("sled/tonight/", "2026-06-01T21:40");
    await page.$eval("[data-item=oxygen-bottle] input", (pin) => (pin as HTMLElement).click());
    server.folder = renamed;
    for (let time = 0; time < 2; time += 1) {
      await open("sled/tonight/", "2026-06-01T22:00");
      expect(await seen(".not-listed")).toMatch(/no longer listed here: .*Oxygen bottle.* since 21:40/);
      expect(await seen(".leaves-now")).toContain("Everything is there.");
    }
    await page.click(".all-back");
    expect(await seen(".not-listed")).toBe("");
    await open("sled/tonight/", "2026-06-01T22:10");
    expect(await seen(".not-listed")).toBe("");
  });

  it("a clock that shows a day before the saved set was made is said above everything", async () => {
    // A device that saves the set by itself: quiet pages do not.
    page = await (await browser.createBrowserContext()).newPage();
    await open("sled/procedures/change-to-shell/", "2026-06-01T12:00");
    await page.waitForFunction(
      () => /Saved on this device/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
      { timeout: 120_000, polling: 200 },
    );
    await open("sled/procedures/change-to-shell/", "2026-05-20T12:00");
    await page.waitForSelector("of-set.clock", { timeout: 30_000 });
    expect(await seen("main > :first-child")).toMatch(/20 May 2026.*1 Jun 2026/);
    await open("sled/procedures/change-to-shell/", "2026-06-02T12:00");
    await page.waitForFunction(
      () => /Saved on this device/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
      { timeout: 30_000, polling: 200 },
    );
    expect(await page.$("of-set.clock")).toBeNull();
  }, 180_000);
});
