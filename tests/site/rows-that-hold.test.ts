/**
 * Rows hold whatever is in them: eight arrangements with titles of 60 letters and compound words, one arrangement,
 * none; from the narrowest phone (WCAG 2.2, 1.4.10) to a large screen, with letters at 200 % (1.4.4), without pictures
 * and without a script. Nothing lies over anything, nothing is cut, no word is torn. The demo and crews of other sizes:
 * every-page.test.ts and crews.test.ts.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildForTest } from "../builder/built-site.ts";
import { forScreens, openBrowser } from "./find-browser.ts";
import { laidOver } from "./look/laid-over.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { oneOfEach } from "./look/representatives.ts";
import { serveKept } from "./look/serve-kept.ts";
import { sidewaysParts, tornWords } from "./look/strain.ts";
import { writeEight, writeEmpty, writeOne } from "./strained-collections.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
/** Pages that show the format, the same in every collection. */
const OF_AUTHORS = /^(?:guide|rules)\//;

/** How a page is met. */
interface Way {
  readonly width: number;
  /** The reader's own size of letters in px; a browser's is 16. */
  readonly letters?: number;
}

/** A phone and a desk are among the other ways. */
const FROM_320_TO_1920: readonly Way[] = [{ width: 1920 }, { width: 820 }, { width: 320 }],
  AT_200_PERCENT: readonly Way[] = [{ width: 1280, letters: 32 }],
  DESK_AND_PHONE: readonly Way[] = [{ width: 1280 }, { width: 320 }],
  PHONE: readonly Way[] = [{ width: 390 }];

describe.skipIf(!browserPath)("rows hold", () => {
  let work: string, browser: Browser;
  beforeAll(async () => {
    work = await mkdtemp(join(tmpdir(), "rerig-rows-"));
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    await rm(work, { recursive: true, force: true });
  });

  /** What the pages looked at so far have shown, with how many each element held; those of authors are left out. */
  const seen = new Set<string>();
  /** Pages of a site that show something which those of the collections before did not, chosen once for all ways. */
  const chosen = new Map<string, Promise<readonly string[]>>();
  function pagesOf(site: string): Promise<readonly string[]> {
    const known = chosen.get(site) ?? oneOfEach(site, (kind) => !OF_AUTHORS.test(kind), seen);
    chosen.set(site, known);
    return known;
  }

  /** What is wrong on these pages, each a line; `bare`: neither pictures nor scripts come. */
  async function lookOver(site: string, ways: readonly Way[], bare = false): Promise<string[]> {
    const served = await serveKept(site),
      page = await newQuietPage(browser),
      client = await page.createCDPSession(),
      found: string[] = [];
    await page.setJavaScriptEnabled(!bare);
    if (bare) {
      await client.send("Network.enable");
      await client.send("Network.setBlockedURLs", { urls: ["*.webp", "*.jpg", "*.png", "*.svg", "*.avif"] });
    }
    const addresses = await pagesOf(site);
    console.log(`${addresses.length} pages`);
    expect(addresses.length).toBeGreaterThan(3);
    for (const address of addresses) {
      await page.goto(`${served.address}${address}`, { waitUntil: "load" });
      for (const { width, letters = 16 } of ways) {
        await page.setViewport({ width, height: 900 });
        if (letters !== 16) await client.send("Page.setFontSizes", { fontSizes: { standard: letters } });
        for (const look of [laidOver, sidewaysParts, tornWords])
          found.push(
            ...(await page.evaluate(look)).map((each) => `${address} at ${width} px, letters of ${letters}: ${each}`),
          );
        if (letters !== 16) await client.send("Page.setFontSizes", { fontSizes: { standard: 16 } });
      }
    }
    await page.close();
    served.server.close();
    return found;
  }

  const collections: readonly (readonly [
    name: string,
    write: (folder: string) => Promise<void>,
    under: readonly (readonly [name: string, ways: readonly Way[], bare: boolean])[],
  ])[] = [
    [
      "eight arrangements in long words for a crew of four",
      writeEight,
      [
        ["from 320 to 1920 px, and with letters at 200 %", [...FROM_320_TO_1920, ...AT_200_PERCENT], false],
        ["without pictures and scripts", PHONE, true],
      ],
    ],
    ["a single arrangement", writeOne, [["on a desk and on the narrowest phone", DESK_AND_PHONE, false]]],
    ["a platform before any procedure", writeEmpty, [["on a desk and on the narrowest phone", DESK_AND_PHONE, false]]],
  ];
  describe.each(collections)("%s", (name, write, under) => {
    let site: string;
    beforeAll(async () => {
      const source = join(work, name.replaceAll(" ", "-"));
      site = `${source}-site`;
      await write(source);
      await buildForTest({ collectionFolder: source, outFolder: site });
    }, 300_000);
    it.each(under)("%s", async (_, ways, bare) => expect(await lookOver(site, ways, bare)).toEqual([]), 300_000);
  });

  it("and a torn word is seen, one that breaks at a hyphen is none", async () => {
    const page = await newQuietPage(browser);
    const seen = async (text: string, width: number) => {
      await page.setContent(`<p style="font:16px/1.4 sans-serif;width:${width}px;overflow-wrap:anywhere">${text}</p>`);
      return page.evaluate(tornWords);
    };
    expect(await seen("Checklist", 30)).not.toEqual([]);
    expect(await seen("Checklist", 300)).toEqual([]);
    expect(await seen("Check\u00adlist", 60)).toEqual([]);
    expect(await seen("two check lists", 60)).toEqual([]);
    await page.close();
  }, 60_000);
});
