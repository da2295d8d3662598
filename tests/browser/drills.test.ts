/**
 * A drill on the built demo with the network cut: its number gives the crew sheet and the key that the command prints,
 * word for word, and its steps are led through to the last one. The scenario is invented; the key is what the planner
 * works out, which `tests/domain/after/drill.test.ts` compares with a second run.
 */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import puppeteer, { type Browser, type Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { sayInstruction } from "../../src/domain/words/say.ts";
import { Findings } from "../../src/findings/finding.ts";
import { runHere } from "../commands/run-here.ts";
import { BROWSER_FLAGS } from "../site/find-browser.ts";
import { newQuietPage } from "../site/quiet-page.ts";

const { RERIG_SITE: site, RERIG_BROWSER: browserPath } = process.env;
const root = resolve(import.meta.dirname, "../..");
const even = (text: string) => text.replace(/\s+/g, " ").trim();

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("drills", () => {
  let served: Served, browser: Browser, page: Page;
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await puppeteer.launch({ executablePath: browserPath!, args: [...BROWSER_FLAGS] });
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
    const { stdout, status } = await runHere(
      ["drill", "--procedures", join(root, "procedures"), "--seed", String(seed)],
      "2026-11-28",
    );
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
    const { collection } = forceOn(await loadCollection(join(root, "procedures"), new Findings()), "2026-11-28");
    const { stdout } = await runHere(
      ["drill", "--procedures", join(root, "procedures"), "--seed", "12", "--json"],
      "2026-11-28",
    );
    const { key } = JSON.parse(stdout) as { key: { steps: { procedure: string; step: number }[] } };
    const first = key.steps[0]!;
    const step = collection.platforms[0]!.procedures.find(({ id }) => id === first.procedure)!.steps.find(
      ({ number }) => number === first.step,
    )!;
    expect(shown).toContain(even(sayInstruction(step)));
    // The card is read last, and is no step of the count.
    expect(shown).toContain(`of ${key.steps.length - 1} steps`);
  });
});
