/**
 * Nothing lies over anything and no word is cut, whoever the crew is: pages of a collection for crews of one, three and
 * four, from the narrowest phone to a desk; the demo's, whose crew are two, in every-page.test.ts.
 */
import { readFileSync } from "node:fs";
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildForTest } from "../builder/built-site.ts";
import { forScreens, openBrowser } from "./find-browser.ts";
import { laidOver } from "./look/laid-over.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { fileOf, isEveryPageAsked, markupOf, oneOfEach } from "./look/representatives.ts";
import { serveKept } from "./look/serve-kept.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
/** CSS px: a desk, a small window, the narrowest phone. */
const WIDTHS = [1280, 700, 320] as const;
/** CSS px between the margins of A5 (ISO 216: 148 mm). */
const A5_WIDTH = 514;
/** Kinds of page on which the roles of a crew stand beside one another; the others don't know how many they are. */
const OF_A_CREW = /^\*\/(procedures|changeovers|cards|configurations|options|sign-off|study|practise|\*\/\*\/review)/;
const ROLES = ["lead: Head flyer", "second: Stagehand", "third: Fly operator", "fourth: Stage manager"];

describe.skipIf(!browserPath)("words and pictures keep apart", () => {
  let work: string, browser: Browser, page: Page;
  beforeAll(async () => {
    work = await mkdtemp(join(tmpdir(), "rerig-crews-"));
    browser = await openBrowser(browserPath!);
    page = await newQuietPage(browser);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    await rm(work, { recursive: true, force: true });
  });

  /** The pages of crews before, without their words: one that is made alike is not looked at again. */
  const seen = new Set<string>();
  const lookOver = async (site: string): Promise<string[]> => {
    const served = await serveKept(site),
      found: string[] = [],
      addresses = (await oneOfEach(site, (kind) => OF_A_CREW.test(kind))).filter((address) => {
        const before = seen.size;
        return seen.add(markupOf(readFileSync(join(site, fileOf(address)), "utf8"))).size > before || isEveryPageAsked;
      });
    console.log(`${addresses.length} pages`);
    expect(addresses.length).toBeGreaterThan(3);
    for (const first of addresses) {
      await page.goto(`${served.address}${first}`, { waitUntil: "load" });
      for (const width of WIDTHS) {
        await page.setViewport({ width, height: 900 });
        const here = await page.evaluate(laidOver);
        found.push(...here.map((each) => `${first} at ${width} px: ${each}`));
      }
    }
    served.server.close();
    return found;
  };

  /**
   * What lies over something on the first printed changeover of a site, its steps unfolded as they are for print, and
   * on every printed procedure.
   */
  const overOnA5 = async (site: string): Promise<string[]> => {
    const served = await serveKept(site),
      names = (await readdir(site, { recursive: true })).filter((name) => name.endsWith("/index.html")).sort(),
      pages = [
        names.find((name) => /^[^/]+\/changeovers\/[^/]+--[^/]+\/index\.html$/.test(name))!,
        ...names.filter((name) => /^[^/]+\/procedures\/[^/]+\/index\.html$/.test(name)),
      ],
      found: string[] = [];
    expect(pages.length).toBeGreaterThan(2);
    await page.setViewport({ width: A5_WIDTH, height: 900 });
    for (const name of pages) {
      await page.goto(`${served.address}${name}`, { waitUntil: "load" });
      await page.emulateMediaType("print");
      await page.$$eval("details", (all) => {
        for (const each of all) each.open = true;
      });
      const lines = await page.$$eval(".step .do", (all) => all.filter((each) => each.getClientRects().length > 0));
      found.push(...(await page.evaluate(laidOver)).map((each) => `${name} on A5: ${each}`));
      await page.emulateMediaType();
      expect(lines.length, name).toBeGreaterThan(0);
    }
    served.server.close();
    return found;
  };

  // The largest first: of the others those pages that are made otherwise.
  it.each([4, 1, 3])(
    "on every kind of page for a crew of %i",
    async (people) => {
      const source = join(work, `crew-${people}`),
        site = join(work, `site-${people}`);
      await cp(resolve(import.meta.dirname, "../fixtures/collections/theatre"), source, { recursive: true });
      await putOnCrew(source, people);
      await buildForTest({ collectionFolder: source, outFolder: site });
      expect(await lookOver(site)).toEqual([]);
      expect(await overOnA5(site)).toEqual([]);
    },
    240_000,
  );

  it("says so where something does: words over words, under a picture, beyond the screen, cut by a box", async () => {
    await page.goto("about:blank");
    await page.setViewport({ width: 390, height: 800 });
    await page.setContent(
      `<!doctype html><style>body{margin:0;font:16px/1.4 sans-serif}p,img{position:absolute;margin:0}</style>
      <p style="top:20px;left:10px">Pull the pin</p><p style="top:24px;left:30px">Push the pin</p>
      <p style="top:100px;left:10px">Do not lift</p><img alt="" style="top:100px;left:40px;width:90px;height:90px">
      <p style="top:300px;left:360px;width:120px">Two people lift</p>
      <div style="position:absolute;top:400px;width:60px;height:20px;overflow:hidden">both&nbsp;locked</div>
      <p style="top:500px;left:10px">Nothing is wrong here</p>`,
    );
    const found = await page.evaluate(laidOver);
    expect(found.map((each) => each.split(":")[0])).toEqual([
      "reaches beyond the screen",
      "is cut off",
      "lie over one another",
      "lies over or under img.",
    ]);
  });
});

/**
 * Gives a copy of the collection a crew of so many: what both did is done by all, or by the one who is there. Short
 * steps become very short ones, whose blocks in the lanes are the lowest.
 */
async function putOnCrew(folder: string, people: number): Promise<void> {
  for (const name of await readdir(folder, { recursive: true })) {
    if (!/\.(mdx|yaml)$/.test(name) || name.includes("issued")) continue;
    const file = join(folder, name),
      text = await readFile(file, "utf8");
    const crew = text.replace(
      /crew:\s+lead: Head flyer\s+second: Stagehand\s+/,
      `crew: { ${ROLES.slice(0, people).join(", ")} }\n`,
    );
    const brief = crew.replace(/takes="\d+ s"/g, 'takes="6 s"');
    const done =
      people === 1 ? brief.replace(/by(=|: )(second|both)/g, "by$1lead") : brief.replace(/by(=|: )both/g, "by$1all");
    await writeFile(file, name === "service.yaml" ? crew : done);
  }
}
