/**
 * A drill on the built demo with the network cut: its number gives the crew sheet and the key that the command prints,
 * word for word, its steps are led through, and a call that changes on the way is told only then. The scenario is
 * invented; the key is what the planner works out, which `tests/domain/after/drill.test.ts` compares with a second run.
 */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { type DrillChange, drillOf } from "../../src/domain/after/drill.ts";
import { firstQuestionsOn } from "../../src/domain/bands/doubts.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { sayInstruction } from "../../src/domain/words/say.ts";
import { runHere } from "../commands/run-here.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { readCollection } from "../read-collection.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
const root = resolve(import.meta.dirname, "../..");
const DAY = "2026-11-28";
const demo = async () => forceOn(await readCollection(join(root, "procedures")), DAY).collection;
/** What the command says of the drill of that number. */
const drill = (seed: number, ...more: string[]) =>
  runHere(["drill", "--procedures", join(root, "procedures"), "--seed", String(seed), ...more], DAY);
const even = (text: string) => text.replace(/\s+/g, " ").trim();

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("drills", () => {
  let served: Served, browser: Browser, page: Page;
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
    page = await newQuietPage(browser);
    await page.goto(`${served.address}tern/drills/`, { waitUntil: "load" });
    await page.setOfflineMode(true);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });

  it.each([7, 12, 2026])("number %i is the same on the page without a network and by command", async (seed) => {
    await page.click("[name=seed]", { count: 3 });
    await page.type("[name=seed]", String(seed));
    await page.click(".drill-form [type=submit]");
    const shown = even(
      await page.$eval("body", () =>
        ["drill-crew", "drill-key"].map((id) => document.getElementById(id)!.textContent).join(" "),
      ),
    );
    const { stdout, status } = await drill(seed);
    expect(status).toBe(0);
    const lines = stdout.split("\n").map(even).filter(Boolean);
    expect(lines.length).toBeGreaterThan(10);
    expect(lines.filter((line) => !shown.includes(line.replace(/^(?:\d+\.?|[-*]) /, "")))).toEqual([]);
  });

  it("is led through, its first step first, without a network too", async () => {
    await page.click("[name=seed]", { count: 3 });
    await page.type("[name=seed]", "12");
    await page.click(".drill-form [type=submit]");
    await page.click("[data-drill=step]");
    await page.waitForSelector("#step:not([hidden]) .do, #step:not([hidden]) h2, #step:not([hidden]) p");
    const shown = even(await page.$eval("#step", (part) => (part as HTMLElement).innerText));
    const collection = await demo();
    const { stdout } = await drill(12, "--json");
    const { key } = JSON.parse(stdout) as { key: { steps: { procedure: string; step: number }[] } };
    const first = key.steps[0]!;
    const step = collection.platforms[0]!.procedures.find(({ id }) => id === first.procedure)!.steps.find(
      ({ number }) => number === first.step,
    )!;
    expect(shown).toContain(even(sayInstruction(step)));
    // The card is read last, and is no step of the count.
    expect(shown).toContain(`of ${key.steps.length - 1} steps`);
  });

  it("tells of the change when it comes, goes on after a reload, and says what a missed step does", async () => {
    const collection = await demo(),
      platform = collection.platforms[0]!,
      service = { ...collection.service, questions: firstQuestionsOn(collection, platform) };
    /** The first drill of a number from 1 on in which another patient comes soon. */
    const findDrill = (seed: number): { seed: number; change: DrillChange; weight: string } => {
      const key = drillOf(platform, service, seed)?.key,
        change = key?.kind === "changeover" ? key.change : undefined;
      return change?.patient && change.after <= 8
        ? { seed, change, weight: change.patient.said.weight }
        : findDrill(seed + 1);
    };
    const { seed, change, weight } = findDrill(1);
    await page.setOfflineMode(false);
    await page.goto(`${served.address}tern/drills/#seed=${seed}`, { waitUntil: "load" });
    await page.reload({ waitUntil: "load" });
    expect(even(await page.$eval("#drill-crew", (sheet) => sheet.textContent!))).not.toContain(weight);
    await page.click("[data-drill=step]");
    const shown = async () => even(await page.$eval("#step", (part) => (part as HTMLElement).innerText));
    /** Answers whatever is open on the screen, and goes on. */
    const goOn = async () => {
      await page.$$eval(".th-pin[aria-pressed=false]", (pins) => pins.forEach((pin) => (pin as HTMLElement).click()));
      await page.click("#step button.th-next");
    };
    for (let at = 0; at < change.after; at += 1) {
      expect(await shown()).not.toContain(weight);
      await goOn();
    }
    expect(await shown()).toContain(`A patient of ${weight}`);
    await goOn();
    expect(await shown()).not.toContain("The call has changed");
    const first = await page.$eval("#step h2, #step .do", (part) => part.textContent);
    await page.reload({ waitUntil: "load" });
    await page.waitForSelector("#step:not([hidden]) .th-next");
    expect(await page.$eval("#step h2, #step .do", (part) => part.textContent)).toBe(first);
    for (let at = 0; at < change.changeover.steps.length + 1 && !(await page.$(".drill-missed")); at += 1) await goOn();
    // Every missable step, and what the proof of the command's own key tells of a safety-critical one.
    const { stdout } = await drill(seed);
    const told = even(stdout.slice(stdout.indexOf("If a safety-critical step is missed")));
    const marked = await page.$$eval(".drill-missed > ul > li", (rows) =>
      rows.map((row) => {
        row.querySelector("input")!.click();
        return [
          row.querySelector("label")!.textContent,
          ...[...row.querySelectorAll("li")].map((li) => li.textContent),
        ];
      }),
    );
    expect(marked.length).toBeGreaterThan(0);
    expect(marked.every((lines) => lines.length > 1)).toBe(true);
    const inKey = marked.filter(([step]) => told.includes(even(step!)));
    expect(inKey.length).toBeGreaterThan(0);
    for (const [step, ...lines] of inKey) expect(told).toContain(even(`${step} ${lines.join(" ")}`));
  }, 120_000);
});
