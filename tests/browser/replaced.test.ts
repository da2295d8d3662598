/**
 * A revision that is issued for a later day, in a set of pages that was built before it: with the clock moved, in a
 * real browser, the old set says on and after that day what one that is built on the day says, and leads on from what
 * counts no more. Dates and words are invented; that nobody works unawares by a document that was replaced is
 * ISO 9001:2015, 7.5.3.2 (control of changes), from memory.
 */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addressOfCode } from "../../src/domain/cards/check-address.ts";
import { buildForTest } from "../builder/built-site.ts";
import { tellStory } from "../domain/force/eight-days.ts";
import type { Served } from "../../src/build/serve.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { serveKept } from "../site/look/serve-kept.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

const EVE = "2026-03-15",
  DAY = "2026-03-16";
const PROCEDURE = "sled/procedures/change-to-shell/",
  CHANGEOVER = "sled/changeovers/vacuum-mattress--child-shell/",
  CARD = "sled/cards/child-shell/";
/** Pages whose text is replaced, with what leads to the newer one. */
const REPLACED = [
  [PROCEDURE, `${PROCEDURE}proposed/2/`],
  ["sled/configurations/child-shell/", "sled/configurations/child-shell/proposed/2/"],
  [CARD, "sled/configurations/child-shell/proposed/2/"],
  [`${CARD}card/`, "sled/configurations/child-shell/proposed/2/"],
  [`${CARD}checker/`, "sled/configurations/child-shell/proposed/2/"],
  [CHANGEOVER, `${PROCEDURE}proposed/2/`],
  [`${CHANGEOVER}card/`, `${PROCEDURE}proposed/2/`],
  ["sled/changeovers/", `${PROCEDURE}proposed/2/`],
  ["folders/", "C/"],
  ["folders/ridge-hut/", "C/"],
  ["", "sled/configurations/child-shell/proposed/2/"],
] as const;
/** Pages of which a part, or the whole, is made of what is replaced. */
const MADE_OF_IT = [
  "bands/",
  "study/",
  "study/change-to-shell/",
  "practise/",
  "practise/paper/",
  "drills/",
  "tonight/",
  "away/",
  "items/child-shell/",
  "fastenings/bed-straps/",
  "places/bed/",
  "ready/",
  "ready/state/",
  "sign-off/",
  "sign-off/change-to-shell/",
  "sign-off/configurations/child-shell/",
] as const;
const OLD = /Since 16 Mar 2026 (?:part of )?this no longer counts\./;

describe.skipIf(!browserPath)("what is replaced on a later day, in a set that was built before it", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-replaced-")),
    source = join(work, "collection");
  const folders = { old: join(work, "old"), anew: join(work, "new") };
  let servers: Record<keyof typeof folders, Served>, browser: Browser;
  /** A page for each day, in which one address is opened after the other. */
  const pages = new Map<string, Page>();

  beforeAll(async () => {
    await tellStory(source, async (day) => {
      if (day === "2026-02-23") await buildForTest({ collectionFolder: source, outFolder: folders.old, on: day });
      if (day === DAY) await buildForTest({ collectionFolder: source, outFolder: folders.anew, on: day });
    });
    servers = { old: await serveKept(folders.old), anew: await serveKept(folders.anew) };
    browser = await openBrowser(browserPath!);
  }, 600_000);
  afterAll(async () => {
    await browser?.close();
    servers?.old.server.close();
    servers?.anew.server.close();
    rmSync(work, { recursive: true, force: true });
  });

  const openOn = async (day: string, path: string, set: keyof typeof folders = "old"): Promise<Page> => {
    const page = pages.get(day) ?? (await newQuietPage(browser, day));
    pages.set(day, page);
    await page.goto(servers[set].address + path, { waitUntil: "load" });
    return page;
  };
  const seen = (page: Page, selector = "body") =>
    page.$eval(selector, (part) => (part as HTMLElement).innerText.replaceAll(/\s+/g, " "));

  it.each(REPLACED)(
    "%s counts until the day before, and from the day says first that it no longer does",
    async (path, to) => {
      const before = await openOn(EVE, path);
      expect(await seen(before)).not.toMatch(OLD);

      const page = await openOn(DAY, path);
      const told = await page.$eval("[data-lapsed]", (note) => ({
        isSeen: note.checkVisibility(),
        text: (note as HTMLElement).innerText.replaceAll(/\s+/g, " "),
        links: [...note.querySelectorAll("a")].flatMap((link) =>
          link.checkVisibility() ? link.pathname.slice(1) : [],
        ),
        // Title, text and, at home, the entry of a weight all come after it.
        isFirst: [...document.querySelectorAll("main h1, .title, form.ask")].every(
          (part) => (note.compareDocumentPosition(part) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0,
        ),
      }));
      expect(told).toMatchObject({ isSeen: true, isFirst: true });
      expect(told.text).toMatch(OLD);
      expect(told.text).toContain("This set of pages is older: it was made on 23 Feb 2026.");
      expect(told.links.filter((link) => link.startsWith(to))).not.toEqual([]);
      expect(told.links).toContain("device/");
      expect(await seen(page)).not.toContain("Until then this one counts");
      // On paper, too: and of a printed card nothing else.
      await page.emulateMediaType("print");
      expect(await page.$eval("[data-lapsed]", (note) => note.checkVisibility())).toBe(true);
      expect(await page.$$eval(".c-sheets", (all) => all.filter((each) => each.checkVisibility()).length)).toBe(0);
      await page.emulateMediaType();
    },
  );

  it("every page that is made of it says so from the day on, before anything else, and not before", async () => {
    for (const [day, isOld] of [
      [EVE, false],
      [DAY, true],
    ] as const) {
      const page = await openOn(day, "sled/");
      const said = new Map<string, boolean>();
      for (const path of MADE_OF_IT) {
        await page.goto(`${servers.old.address}sled/${path}`, { waitUntil: "load" });
        const first = await page.$eval("main", (main) => main.innerText.replaceAll(/\s+/g, " ").slice(0, 300));
        said.set(path, OLD.test(first));
      }
      expect(said).toEqual(new Map(MADE_OF_IT.map((path) => [path, isOld])));
    }
  }, 180_000);

  it("the page of what is issued for the day says that it is in force from it on", async () => {
    const eve = await openOn(EVE, `${PROCEDURE}proposed/2/`);
    expect(await seen(eve)).toContain("Proposed, not in force");
    const page = await openOn(DAY, `${PROCEDURE}proposed/2/`);
    const text = await seen(page);
    expect(text).not.toContain("Proposed, not in force");
    expect(text).toContain("In force since 16 Mar 2026");
  });

  it("a check of any card says on the day what a set says that was built on it", async () => {
    const list = async (set: keyof typeof folders) => {
      const page = await openOn(DAY, "check/", set);
      const states = await page.$$eval("a[data-code]", (links) =>
        links.map((link): [string, string] => [
          (link as HTMLElement).dataset["code"]!,
          link.querySelector<HTMLElement>("span:not([hidden])")!.innerText,
        ]),
      );
      return states;
    };
    const old = await list("old"),
      anew = new Map(await list("anew"));
    // A card of a changeover that is not made any more is not listed by the newer set.
    expect(old.map(([code]) => [code, anew.get(code) ?? "replaced"])).toEqual(old);
    expect(new Set(old.map(([, state]) => state))).toContain("replaced");

    for (const [each] of old) {
      if (!anew.has(each)) continue;
      const verdicts: string[][] = [];
      for (const set of ["old", "anew"] as const) {
        const page = await openOn(DAY, addressOfCode(each), set);
        verdicts.push(
          await page.$$eval("main h1", (all) =>
            all.flatMap((one) => (one.checkVisibility() ? one.innerText.trim() : [])),
          ),
        );
      }
      expect(verdicts[0], each).not.toEqual([]);
      expect(verdicts[0], each).toEqual(verdicts[1]);
    }
  });

  it("the code of the card in force on the eve is refused on the day, with the one that takes its place", async () => {
    const page = await openOn(EVE, CARD),
      code = await page.$eval(".card-band .code", (part) => (part as HTMLElement).innerText);
    const eve = await openOn(EVE, addressOfCode(code));
    expect(await seen(eve, "main")).toContain("Current");
    const day = await openOn(DAY, addressOfCode(code)),
      text = await seen(day, "main");
    const [, next = "none"] = /class="facts">.*?class="code"[^>]*>([^<]+)/s.exec(
      readFileSync(join(folders.anew, CARD, "index.html"), "utf8"),
    )!;
    expect(next).not.toBe(code);
    expect(text).toContain(next);
    expect(text).toContain("Replaced");
    expect(text).toContain("16 Mar 2026");
    expect(text).not.toContain("Current");
    expect(text).toContain("Fetch the newer set.");
  });

  it("the step-through of a changeover says it before its first step", async () => {
    const page = await openOn(DAY, CHANGEOVER);
    await page.click("[data-step-through]");
    await page.waitForSelector("#step [data-lapsed]", { visible: true, timeout: 60_000 });
    expect(await page.$("#step .th-stop")).toBeNull();
    expect(await seen(page, "#step")).toMatch(OLD);
  });
});
