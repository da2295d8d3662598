/**
 * Rows hold whatever is in them: eight arrangements with titles of 60 letters and compound words, one arrangement,
 * none; from the narrowest phone (WCAG 2.2, 1.4.10) to a large screen, with letters at 200 % (1.4.4), without pictures
 * and without a script. Nothing lies over anything, nothing is cut, no word is torn. The demo and crews of other sizes:
 * every-page.test.ts and crews.test.ts.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer, { type Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite } from "../../src/build/serve.ts";
import { buildForTest } from "../builder/built-site.ts";
import { BROWSER_FLAGS, forScreens } from "./find-browser.ts";
import { laidOver } from "./look/laid-over.ts";
import { pagesByKind } from "./look/page-kinds.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { sidewaysParts, tornWords } from "./look/strain.ts";
import { writeEight, writeEmpty, writeOne } from "./strained-collections.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
/** Pages that show the format, the same in every collection. */
const OF_AUTHORS = /^(?:guide|rules)\//;

/** How a page is met. */
interface Way {
  readonly widths: readonly number[];
  /** The reader's own size of letters in px; a browser's is 16. */
  readonly letters?: number;
  /** Neither pictures nor scripts come. */
  readonly bare?: boolean;
}

describe.skipIf(!browserPath)("rows hold", () => {
  let work: string, browser: Browser;
  beforeAll(async () => {
    work = await mkdtemp(join(tmpdir(), "rerig-rows-"));
    browser = await puppeteer.launch({ executablePath: browserPath!, args: [...BROWSER_FLAGS] });
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    await rm(work, { recursive: true, force: true });
  });

  /** What is wrong on one page of each kind, each a line. */
  async function lookOver(site: string, { widths, letters = 16, bare = false }: Way): Promise<string[]> {
    const served = await serveSite(site, 0),
      page = await newQuietPage(browser),
      client = await page.createCDPSession(),
      found: string[] = [];
    await client.send("Page.setFontSizes", { fontSizes: { standard: letters } });
    await page.setJavaScriptEnabled(!bare);
    if (bare) {
      await client.send("Network.enable");
      await client.send("Network.setBlockedURLs", { urls: ["*.webp", "*.jpg", "*.png", "*.svg", "*.avif"] });
    }
    for (const [kind, [address]] of await pagesByKind(site)) {
      if (OF_AUTHORS.test(kind)) continue;
      await page.goto(`${served.address}${address}`, { waitUntil: "load" });
      for (const width of widths) {
        await page.setViewport({ width, height: 900 });
        for (const look of [laidOver, sidewaysParts, tornWords])
          found.push(...(await page.evaluate(look)).map((each) => `${address} at ${width} px: ${each}`));
      }
    }
    await page.close();
    served.server.close();
    return found;
  }

  const ways: Readonly<Record<string, Way>> = {
    // A phone and a desk are among the other ways.
    "from 320 to 1920 px": { widths: [1920, 820, 320] },
    "with letters at 200 %": { widths: [1280], letters: 32 },
    "without pictures and scripts": { widths: [390], bare: true },
    "on a desk and on the narrowest phone": { widths: [1280, 320] },
  };
  describe.each([
    ["eight arrangements in long words for a crew of four", writeEight, Object.keys(ways).slice(0, 3)],
    ["a single arrangement", writeOne, ["on a desk and on the narrowest phone"]],
    ["a platform before any procedure", writeEmpty, ["on a desk and on the narrowest phone"]],
  ] as const)("%s", (name, write, under) => {
    let site: string;
    beforeAll(async () => {
      const source = join(work, name.replaceAll(" ", "-"));
      site = `${source}-site`;
      await write(source);
      await buildForTest({ collectionFolder: source, outFolder: site });
    }, 300_000);
    it.each(under)("%s", async (way) => expect(await lookOver(site, ways[way]!)).toEqual([]), 300_000);
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
