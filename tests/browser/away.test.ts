/**
 * What somebody missed who was away: invented lines against a naive reading of what was in force on each day, and the
 * built demo's page, where the frozen issues on disk say from when each revision was in force.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { linesSince, MOST_MISSED } from "../../src/browser/practice/away-lines.ts";
import { missedChanges } from "../../src/site/records/away.ts";
import { makeSite } from "../../src/site/site.ts";
import { readCollection } from "../read-collection.ts";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);

/** What a frozen issue says, as much of it as is looked at here. */
interface Issued {
  readonly kind: string;
  readonly id: string;
  readonly revision: number;
  readonly effective: string;
}

describe("the lines of who was away", () => {
  const line = (document: string, known: number, until: string, isLast: boolean) => ({
    document,
    known,
    until,
    isLast,
  });
  const lines = [line("a", 1, "2026-02-01", false), line("a", 2, "2026-06-01", true), line("b", 1, "2026-03-01", true)];
  // By hand: on 15 January a 1 and b 1 were in force, on 1 February a 2 began, on 1 June a 3.
  it.each([
    ["2026-01-15", ["a1", "b1"]],
    ["2026-01-31", ["a1", "b1"]],
    ["2026-02-01", ["a2", "b1"]],
    ["2026-03-01", ["a2"]],
    ["2026-06-01", []],
    ["", ["a2", "b1"]],
  ])("who was last here on %s has missed %s", (since, expected) => {
    const { shown } = linesSince(lines, since, new Set());
    expect(shown.map(({ document, known }) => document + known)).toEqual(expected);
  });
  it("are of what one is signed for alone, and ten at most", () => {
    expect(linesSince(lines, "2026-01-15", new Set(["b"])).shown).toHaveLength(1);
    const many = Array.from({ length: 14 }, (_, at) => line(`d${at}`, 1, "2026-05-01", true));
    const { shown, left } = linesSince(many, "2026-01-01", new Set());
    expect([shown.length, left]).toEqual([MOST_MISSED, 4]);
  });
});

// That what must not be done any more is said before what is done otherwise is common practice, no source.
it("withdrawn at once, which has no day, is among the lines that are read", async () => {
  const folder = resolve(import.meta.dirname, "../../procedures"),
    files = await readCollection(folder);
  const platforms = files.platforms.map((platform) => ({
    ...platform,
    procedures: platform.procedures.map((each) =>
      each.id === "change-oxygen-cylinder" ? { ...each, status: "withdrawn" as const } : each,
    ),
  }));
  const at = makeSite(folder, { ...files, platforms }, "2026-11-28"),
    missed = missedChanges(at, at.collection.platforms[0]!);
  const { shown, left } = linesSince(
    missed.map((each) => ({ ...each, document: each.key, isLast: true })),
    "2025-01-01",
    new Set(),
  );
  expect(left).toBeGreaterThan(0);
  const place = shown.findIndex(({ isWithdrawn }) => isWithdrawn);
  expect(shown[place]?.key).toBe("procedure change-oxygen-cylinder");
  for (const before of shown.slice(0, place)) expect(before.again || before.isWithdrawn).toBe(true);
});

describe.skipIf(!site || !browserPath || !existsSync(join(site, "tern/away/index.html")))("the page", () => {
  let served: Served, browser: Browser, page: Page;
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
    page = await newQuietPage(browser);
    await page.goto(`${served.address}tern/away/`, { waitUntil: "load" });
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });
  const shown = () =>
    page.$$eval("[data-away=list] > li:not([hidden])", (all) => all.map((each) => each.dataset["document"]!));
  const say = (since: string) =>
    page.$eval(
      "input#away-since",
      (box, day) => {
        box.value = day;
        box.form!.dispatchEvent(new Event("input"));
      },
      since,
    );

  it("shows procedures of which an issue began after the day, by the issues on disk", async () => {
    const folder = resolve(import.meta.dirname, "../../procedures/issued/tern");
    const issued = readdirSync(folder).flatMap((name) => {
      if (!name.endsWith(".json") || name.startsWith("card-")) return [];
      const { content } = JSON.parse(readFileSync(join(folder, name), "utf8")) as { content: Issued };
      return content.kind === "procedure" && content.effective ? [content] : [];
    });
    expect(issued.length).toBeGreaterThan(20);
    for (const day of ["2026-09-20", "2026-06-01"]) {
      await say(day);
      // All of these began after the day, whether somebody knew an earlier issue or none.
      const expected = new Set(issued.filter(({ effective }) => effective > day).map(({ id }) => `procedure ${id}`));
      const found = (await shown()).filter((key) => key.startsWith("procedure"));
      expect(found.length, day).toBeGreaterThan(0);
      for (const key of found) expect([...expected], day).toContain(key);
      if ((await shown()).length < MOST_MISSED) expect(new Set(found)).toEqual(expected);
    }
  });

  it("keeps the day and the ticks on the device, and leads to a step that is there", async () => {
    await say("2026-01-01");
    await page.$eval("input[value='procedure seat-capsule']", (box) => box.click());
    expect(await shown()).toEqual(["procedure seat-capsule"]);
    await page.reload({ waitUntil: "load" });
    expect(await shown()).toEqual(["procedure seat-capsule"]);
    const address = await page.$eval("[data-away=list] > li:not([hidden]) .look-at a", (link) => link.href);
    await page.goto(address);
    expect(await page.$(new URL(address).hash)).not.toBeNull();
  });

  it("is the last change of each document without a script", async () => {
    const plain = await newQuietPage(browser);
    await plain.setJavaScriptEnabled(false);
    await plain.goto(`${served.address}tern/away/`, { waitUntil: "load" });
    const lines = await plain.$$eval("[data-away=list] > li:not([hidden])", (all) =>
      all.map((each) => each.dataset["document"]!),
    );
    expect(lines.length).toBeGreaterThan(5);
    expect(new Set(lines).size).toBe(lines.length);
    await plain.close();
  });
});
