/**
 * A temporary amendment over its life as a story with the clock moved, in a real browser with the network cut: two
 * devices save the site, one the day before the amendment's first day and one on it, and neither goes on line again. On
 * the day before, its first day, its last day and the day after, what their pages show is what paper and command say on
 * that day. Dates and words are invented; that a temporary amendment has a number, a reason, an expiry and ends by
 * itself is common practice, no source.
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeOfflineFiles } from "../../src/build/offline.ts";
import { SiteFolder } from "../../src/site/site-folder.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { slipCode } from "../../src/domain/cards/amendment-slips.ts";
import { addressOfCode } from "../../src/domain/cards/check-address.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { sayInstruction } from "../../src/domain/words/say.ts";
import { Findings } from "../../src/findings/finding.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { runHere } from "../commands/run-here.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { buildForTest } from "../builder/built-site.ts";
import { moveClock } from "./move-clock.ts";
import { copyPart } from "./part-of-site.ts";
import { SiteServer } from "./site-server.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

const AMENDMENT = `---
number: KRR-A7
title: Buckles of the batch of May
reason: Two buckles jammed in the cold
from: 2026-06-08
until: 2026-06-19
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: 1 }]
---
:::warning
A jammed buckle is never forced.
:::

:::step{replaces=open-straps by=tail critical takes="25 s" photo=bed}
Warm both buckles with the hand, then open both bed straps.

::turn{fastening=bed-straps to=open}
::check[Bed straps]{by=leader answer="both open and warm"}
:::
`;
/** What was issued, and what the amendment puts in its place, as far as the tests look for it. */
const ISSUED = "Open both bed straps.",
  AMENDED = "Warm both buckles with the hand, then open both bed straps.",
  WARNING = "A jammed buckle is never forced.";

const DAYS = [
  { name: "the day before", day: "2026-06-07", runs: false, says: "Not yet effective: its first day is 8 Jun 2026." },
  { name: "its first day", day: "2026-06-08", runs: true, says: "" },
  { name: "its last day", day: "2026-06-19", runs: true, says: "" },
  { name: "the day after", day: "2026-06-20", runs: false, says: "Expired: its last day was 19 Jun 2026." },
] as const;

/** Pages on which the amendment stands. */
const PROCEDURE = "sled/procedures/change-to-shell/",
  CHANGEOVER = "sled/changeovers/vacuum-mattress--child-shell",
  CHANGED = ["sled/cards/child-shell/", "sled/cards/child-shell/card/", "sled/configurations/child-shell/"];
/** Whether a page is opened below: these, and whatever a check code leads to. */
const isOpened = (address: string) =>
  address.startsWith("C/") || [PROCEDURE, ...CHANGED].includes(address) || address.startsWith(`${CHANGEOVER}/`);

describe.skipIf(!browserPath)("a temporary amendment in a saved set", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-amended-")),
    source = join(work, "collection");
  let files: Collection;

  beforeAll(async () => {
    cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), source, { recursive: true });
    mkdirSync(join(source, "sled/amendments"));
    writeFileSync(join(source, "sled/amendments/buckles.mdx"), AMENDMENT);
    expect((await runHere(["issue", "--procedures", source], "2026-01-12")).status).toBe(0);
    const findings = new Findings();
    files = await loadCollection(source, findings);
    expect(findings.list).toEqual([]);
  }, 60_000);
  afterAll(() => rmSync(work, { recursive: true, force: true }));

  const said = new Map<string, Promise<{ readonly paper: string; readonly stdout: string }>>();
  /** What card and command say of the changeover on a day: the same whenever a device saved the site. */
  const saidOn = (day: string) => {
    const known =
      said.get(day) ??
      (async () => {
        const { collection } = forceOn(files, day),
          paper = changeoverCards(
            collection,
            collection.platforms[0]!,
          )("vacuum-mattress--child-shell")
            .map((card) => JSON.stringify(card, (_key, value: unknown) => (typeof value === "bigint" ? "" : value)))
            .join(),
          { stdout } = await runHere(
            ["changeover", "--from=vacuum-mattress", "--to=child-shell", "--weight=20 kg", "--procedures", source],
            day,
          );
        return { paper, stdout };
      })();
    said.set(day, known);
    return known;
  };

  describe.each(["2026-06-07", "2026-06-08"])("saved on %s, and never on line again", (savedOn) => {
    let server: SiteServer, browser: Browser;
    const wrong: string[] = [];

    beforeAll(async () => {
      const whole = join(work, `whole-${savedOn}`);
      await buildForTest({ collectionFolder: source, outFolder: whole, on: savedOn });
      server = new SiteServer(join(work, savedOn));
      // That a device saves all files of a set is asked in offline.test.ts.
      await copyPart(whole, server.folder, { isOpened });
      await writeOfflineFiles(new SiteFolder(server.folder, ""), forceOn(files, savedOn).collection, savedOn);
      await server.start();
      browser = await openBrowser(browserPath!);
      const page = await browser.newPage();
      await page.goto(`${server.address}device/`, { waitUntil: "load" });
      await page.waitForFunction(
        () => /Saved on this device/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
        { timeout: 120_000, polling: 200 },
      );
      await page.close();
      await server.stop();
    }, 240_000);
    afterAll(async () => {
      await browser?.close();
      await server?.stop();
      expect(wrong).toEqual([]);
    });

    const openOn = async (day: string, path: string): Promise<Page> => {
      const page = await browser.newPage();
      page.on("pageerror", (error) => wrong.push(String(error)));
      await page.evaluateOnNewDocument(moveClock, day);
      await page.goto(server.address + path, { waitUntil: "domcontentloaded" });
      return page;
    };
    /** The check code of the card in force of an arrangement, as the list of codes has it. */
    const codeOnCheckPage = async (page: Page, title: string): Promise<string> => {
      await page.goto(`${server.address}check/`, { waitUntil: "domcontentloaded" });
      return page.$$eval(
        "main section section",
        (parts, wanted) =>
          parts
            .find((part) => part.querySelector("h3")?.textContent === wanted)!
            .querySelector<HTMLElement>("a[data-code]")!.dataset["code"]!,
        title,
      );
    };
    /** What can be seen of a page, as one text. */
    const seen = (page: Page) => page.$eval("main", (main) => (main as HTMLElement).innerText.replaceAll(/\s+/g, " "));

    it.each(DAYS)("$name: the procedure's step is the one that paper and command say", async ({ day, runs, says }) => {
      const { collection } = forceOn(files, day),
        platform = collection.platforms[0]!;
      const [step] = platform.procedures.find(({ id }) => id === "change-to-shell")!.steps;
      const page = await openOn(day, PROCEDURE);
      const shown = await page.$eval("#step-1", (place) => {
        const words = (selector: string) =>
          [...place.querySelectorAll<HTMLElement>(selector)].map(({ innerText }) => innerText.replaceAll(/\s+/g, " "));
        return {
          do: words(".words-of > .do").join(),
          check: words(".acts-of .check").join(),
          who: words(".who").join(),
        };
      });
      expect(shown.do).toContain(sayInstruction(step!));
      expect(shown.do.includes(AMENDED)).toBe(runs);
      expect(shown.check).toContain(step!.checks[0]!.answer);
      expect(shown.who).toBe(runs ? "Tail" : "Leader");
      // One step 1 can be seen, at one place.
      expect(await page.$$eval("ol.steps > li", (all) => all.filter((each) => each.checkVisibility()).length)).toBe(
        platform.procedures.find(({ id }) => id === "change-to-shell")!.steps.length,
      );
      const text = await seen(page);
      expect(text.split(WARNING).length - 1).toBe(day > "2026-06-19" ? 0 : 1);
      expect(text).toContain("Temporary amendment KRR-A7 Effective from 8 Jun 2026, expires after 19 Jun 2026.");
      if (says) expect(text).toContain(says);
      else expect(text).not.toMatch(/Not yet effective|Expired/);
      await page.close();

      const { paper, stdout } = await saidOn(day);
      expect(paper.includes(AMENDED.slice(0, -1))).toBe(runs);
      expect(stdout.includes(AMENDED)).toBe(runs);
      expect(stdout.includes(ISSUED) || runs).toBe(true);
    });

    it.each(DAYS)("$name: card, checklist and configuration say it, or that it is over", async ({ day, says }) => {
      const page = await openOn(day, CHANGED[0]!);
      for (const path of [...CHANGED, addressOfCode(await codeOnCheckPage(page, "Child shell"))]) {
        await page.goto(server.address + path, { waitUntil: "domcontentloaded" });
        const text = await seen(page);
        expect(text, path).toContain("Temporary amendment KRR-A7");
        if (says) expect(text, path).toContain(says);
        else expect(text, path).not.toMatch(/Not yet effective|Expired/);
        expect(text.includes(WARNING), path).toBe(day <= "2026-06-19");
      }
      await page.close();
    });

    it.each(DAYS)("$name: the code of its slip is answered with what has become of the slip", async ({ day, runs }) => {
      const { collection } = forceOn(files, "2026-06-08"),
        code = slipCode(collection.platforms[0]!.amendments![0]!);
      const page = await openOn(day, "check/");
      const state = await page.$eval(`a[data-code="${code}"]`, (link) =>
        (link as HTMLElement).innerText.replaceAll(/\s+/g, " "),
      );
      expect(state).toContain(runs ? "current" : day < "2026-06-08" ? "not yet in force" : "expired: take it out");
      await page.type("#code", code);
      await Promise.all([page.waitForNavigation(), page.keyboard.press("Enter")]);
      expect(new URL(page.url()).pathname).toMatch(/sled\/amendments\/buckles\/$/);
      await page.close();
    });

    it.each(DAYS)(
      "$name: the changeover, its card of steps and the step-through hold it, or none does",
      async ({ day, runs }) => {
        const page = await openOn(day, `${CHANGEOVER}/`);
        await page.$$eval("main details", (folds) =>
          folds.forEach((fold) => ((fold as HTMLDetailsElement).open = true)),
        );
        const all = await seen(page),
          note = await page.$eval("aside.amendment", (place) =>
            (place as HTMLElement).innerText.replaceAll(/\s+/g, " "),
          );
        expect(all.split(WARNING).length - 1).toBe(runs || day === savedOn ? 1 : 0);
        // The picture of who does what when, too, is that of the day.
        expect(all.replace(note, "").includes("Warm both buckles")).toBe(runs);
        const steps = await page.$$eval("ol.steps > li", (list) =>
          list
            .filter((each) => each.checkVisibility())
            .map((each) => each.querySelector<HTMLElement>(".do")!.innerText),
        );
        expect(steps.filter((step) => step.includes("open both bed straps") || step.includes(ISSUED))).toHaveLength(1);
        expect(steps.some((step) => step.includes(AMENDED))).toBe(runs);

        await page.click("[data-step-through]");
        await page.waitForSelector(".th-stop", { visible: true });
        const stop = await page.$eval("#step", (place) => (place as HTMLElement).innerText.replaceAll(/\s+/g, " "));
        expect([stop.includes(AMENDED), stop.includes(WARNING), stop.includes("both open and warm")]).toEqual([
          runs,
          runs,
          runs,
        ]);
        if (!runs) expect(stop).toContain(ISSUED);

        await page.goto(`${server.address}${CHANGEOVER}/card/`, { waitUntil: "domcontentloaded" });
        const card = await page.$$eval(".c-sheets", (sets) =>
          sets.flatMap((each) =>
            each.checkVisibility() ? (each as HTMLElement).innerText.replaceAll(/\s+/g, " ") : [],
          ),
        );
        expect(card).toHaveLength(1);
        const said = ["Warm both buckles", WARNING, "temporary amendment that expires after 19 Jun 2026"];
        expect(said.map((words) => card[0]!.includes(words))).toEqual(said.map(() => runs));
        expect(card[0]!.includes("Check code")).toBe(!runs);
        await page.close();
      },
    );

    it.each(DAYS)("$name: what the device works out by itself holds it, or not", async ({ day, runs }) => {
      const page = await openOn(day, "sled/changeovers/#from=vacuum-mattress&to=child-shell");
      await page.waitForFunction(
        () => /both bed straps/.test(document.getElementById("answer-of")?.textContent ?? ""),
        {
          timeout: 60_000,
        },
      );
      const answer = await page.$eval("#answer-of", (place) => place.textContent!.replaceAll(/\s+/g, " "));
      expect(answer.includes(AMENDED)).toBe(runs);
      await page.goto("about:blank");
      await page.goto(`${server.address}sled/changeovers/print/#from=vacuum-mattress&to=child-shell`);
      await page.waitForFunction(() => /bed straps/.test(document.getElementById("card-sheets")?.textContent ?? ""), {
        timeout: 60_000,
      });
      const card = await page.$eval("#card-sheets", (place) => place.textContent!);
      expect([card.includes("Warm both buckles"), card.includes("jammed")]).toEqual([runs, runs]);
      await page.close();
    });

    it("a page that is left open past midnight goes on by the new day", async () => {
      const page = await openOn("2026-06-19", PROCEDURE);
      expect(await page.$eval("#step-1", (place) => (place as HTMLElement).innerText)).toContain(AMENDED);
      await page.evaluate(moveClock, "2026-06-20");
      await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
      expect(await page.$eval("#step-1 .words-of > .do", (place) => (place as HTMLElement).innerText)).toContain(
        ISSUED,
      );
      await page.close();
    });

    it("prints a slip of one leaf, A5", async () => {
      const page = await openOn("2026-06-10", "sled/amendments/buckles/");
      const pdf = Buffer.from(await page.pdf({ preferCSSPageSize: true })).toString("latin1");
      expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
      await page.close();
    });
  });
});
