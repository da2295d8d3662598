/**
 * Records in a real browser, on the demo's site that `npm test` builds: the box for a check code, notices and sheets on
 * paper, the calendar and the feed as they are served.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { XMLParser, XMLValidator } from "fast-xml-parser";
import ICAL from "ical.js";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Served, serveSite } from "../../src/build/serve.ts";
import { isValidCode } from "../../src/domain/cards/check-code.ts";
import { openBrowser } from "./find-browser.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { coverOf, isEveryPageAsked, readShown } from "./look/representatives.ts";

const { RERIG_SITE: site, RERIG_BROWSER: browserPath } = process.env;
/** Addresses of pages below the site that end in a folder of that name and a number. */
const numbered = (name: string) =>
  readdirSync(site!, { recursive: true, encoding: "utf8" })
    .filter((file) => new RegExp(`/${name}/\\d+/index\\.html$`).test(file))
    .map((file) => file.replace(/index\.html$/, ""))
    .sort();

describe.skipIf(!site || !browserPath)("records", () => {
  let browser: Browser, served: Served;
  beforeAll(async () => {
    [browser, served] = await Promise.all([openBrowser(browserPath!), serveSite(site!, 0)]);
  });
  afterAll(async () => {
    await browser.close();
    served.server.close();
  });
  const open = async (path: string, scripts = true): Promise<Page> => {
    const page = await newQuietPage(browser);
    await page.setJavaScriptEnabled(scripts);
    await page.goto(`${served.address}${path}`, { waitUntil: "load" });
    return page;
  };
  /** Sides of A4 of a page below the site, opened in a page that is there. */
  const countPages = async (page: Page, path: string) => {
    await page.goto(`${served.address}${path}`, { waitUntil: "load" });
    const bytes = await page.pdf({ format: "A4", printBackground: true });
    const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: true, verbosity: 0 });
    const { numPages } = await task.promise;
    await task.destroy();
    return numPages;
  };
  /** What runs over a sheet is long, or shows what others do not: the ten longest, and all that any shows. */
  const longestAndCover = async (paths: readonly string[]) => {
    if (isEveryPageAsked) return paths;
    const pages = await readShown(site!, paths);
    const longest = pages.toSorted((a, b) => b.elements - a.elements).slice(0, 10);
    return [...new Set([...longest, ...coverOf(pages)])].map(({ address }) => address);
  };
  const codes = () => readdirSync(join(site!, "C"));
  const type = async (page: Page, text: string) => {
    await page.$eval("#code", (input) => {
      (input as HTMLInputElement).value = "";
    });
    await page.type("#code", text);
    await page.keyboard.press("Enter");
  };

  it("have a page for every code, and every code is a valid one", () => {
    expect(codes().length).toBeGreaterThan(3);
    for (const code of codes()) expect(isValidCode(code), code).toBe(true);
  });

  it(
    "have a page for the code of each changeover's card and of each card for a part of a configuration's " +
      "patients, which says that it is current",
    async () => {
      const list = await open("check/", false);
      const current = await list.$$eval("a[data-code]", (links) =>
        links
          .map((link) => [(link as HTMLAnchorElement).getAttribute("href")!, link.textContent!] as const)
          .filter(([, text]) => /current/.test(text) && / to .*kg|only /.test(text)),
      );
      await list.close();
      expect(current.filter(([, text]) => text.includes("only ")).length).toBeGreaterThan(1);
      expect(current.filter(([, text]) => !text.includes("only ")).length).toBeGreaterThan(1);
      for (const [href] of current) {
        const html = readFileSync(join(site!, href.replace("../", ""), "index.html"), "utf8");
        expect(/<h1[^>]*>(.*?)<\/h1>/s.exec(html)![1]).toContain("Current");
      }
    },
  );

  it("open the card's page from a code typed small, with blanks, O for 0 and I for 1", async () => {
    const page = await open("check/");
    const code = codes().find((each) => /[01]/.test(each)) ?? codes()[0]!;
    await Promise.all([
      page.waitForNavigation(),
      type(
        page,
        code
          .toLowerCase()
          .replaceAll("0", "o")
          .replaceAll("1", "i")
          .replace(/^(....)/, "$1 "),
      ),
    ]);
    expect(new URL(page.url()).pathname).toBe(`/C/${code}/`);
    await page.close();
  });

  it("say which symbol is wrong, and that the last one does not fit", async () => {
    const page = await open("check/");
    const said = () => page.$eval("#code-said", ({ textContent }) => textContent!);
    await type(page, "7K3UQS");
    expect(await said()).toContain("Symbol 4, “U”");
    const code = codes()[0]!,
      wrong = `${code.slice(0, 5)}${code[5] === "7" ? "8" : "7"}`;
    await type(page, wrong);
    expect(await said()).toContain("does not fit");
    expect(await page.$eval("#code", (input) => input.getAttribute("aria-invalid"))).toBe("true");
    await page.close();
  });

  // The newborn's second edition differs by what the program says more: no document brought it.
  it("name reasons of a replaced card only where a document changed", () => {
    const pages = codes().map((code) => readFileSync(join(site!, "C", code, "index.html"), "utf8"));
    expect(pages.filter((html) => html.includes("who is never without an option"))).not.toEqual([]);
    expect(pages.filter((html) => /<ol class="leads">\s*<\/ol>/.test(html))).toEqual([]);
  });

  it("list every code without scripts, where the box is not shown", async () => {
    const page = await open("check/", false);
    expect(await page.$$eval("a[data-code]", (links) => links.length)).toBeGreaterThanOrEqual(codes().length);
    expect(await page.$eval("check-code", (box) => (box as HTMLElement).offsetHeight)).toBe(0);
    await page.close();
  });

  it(
    "print each notice on one sheet of A4 (a rewriting on two), and so the audit sheet and swap pack of each folder",
    { timeout: 300_000 },
    async () => {
      const folders = readdirSync(join(site!, "folders"), { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .flatMap(({ name }) => [`folders/${name}/audit/`, `folders/${name}/swap/`]);
      const notices = numbered("notices").filter((path) => !path.endsWith("/1/"));
      expect(notices.length).toBeGreaterThan(5);
      // A notice of a whole rewriting (more than eight changed steps) may go on to a second sheet, nothing else may.
      const over: string[] = [],
        page = await newQuietPage(browser);
      const chosen = await longestAndCover(notices);
      expect(chosen.length).toBeGreaterThan(5);
      for (const path of [...chosen, ...folders]) {
        const count = await countPages(page, path),
          changed = readFileSync(join(site!, path, "index.html"), "utf8").match(/class="where"/g)?.length ?? 0;
        if (count > (changed > 8 ? 2 : 1)) over.push(`${path}: ${count}`);
      }
      expect(over).toEqual([]);
    },
  );

  // Held against the page's own first line. From a reader's look at the demo; no outside source.
  it("ask in a notice's heading for something else to be done only where something is", () => {
    const found = { asked: 0, read: 0 };
    for (const path of numbered("notices")) {
      const html = readFileSync(join(site!, path, "index.html"), "utf8"),
        heading = /<h1[^>]*>([^<]*)<\/h1>/.exec(html)![1]!;
      const nothing = html.includes(">Nothing is done differently.</p>");
      if (heading.includes("do this differently")) found.asked += 1;
      if (nothing) found.read += 1;
      expect(nothing && heading.includes("do this differently"), path).toBe(false);
      expect(nothing, path).toBe(heading.trim().endsWith(": read this"));
    }
    expect(found.asked).toBeGreaterThan(0);
    expect(found.read).toBeGreaterThan(0);
  });

  it("tell calendars the review dates and readers the issues, in files that general parsers read", () => {
    const calendar = new ICAL.Component(ICAL.parse(readFileSync(join(site!, "review.ics"), "utf8")));
    const events = calendar.getAllSubcomponents("vevent").map((component) => new ICAL.Event(component));
    expect(events.length).toBeGreaterThan(10);
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
    for (const { startDate } of events)
      expect([startDate.isDate, /^\d{4}-\d{2}-\d{2}$/.test(startDate.toString())]).toEqual([true, true]);
    const text = readFileSync(join(site!, "issues.atom"), "utf8");
    expect(XMLValidator.validate(text)).toBe(true);
    const { entry } = (
      new XMLParser({ ignoreAttributes: false }).parse(text) as {
        feed: { entry: { id: string; updated: string; link: { "@_href": string } }[] };
      }
    ).feed;
    expect(new Set(entry.map(({ id }) => id)).size).toBe(entry.length);
    const dates = entry.map(({ updated }) => updated);
    expect(dates).toEqual([...dates].sort().reverse());
    for (const { link } of entry)
      expect(readFileSync(join(site!, new URL(link["@_href"]).pathname, "index.html"), "utf8")).toContain("<h1");
  });
});
