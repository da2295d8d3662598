/**
 * Every kind of page in a hand and under strain: what a finger presses, a narrow screen, letters twice as large, and
 * the reader's own colours.
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import puppeteer, { type Browser, type Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { BROWSER_FLAGS } from "./find-browser.ts";
import { pagesByKind } from "./page-kinds.ts";
import { newQuietPage } from "./quiet-page.ts";

const { RERIG_SITE: site, RERIG_BROWSER: browserPath } = process.env;
/** Side of a target in CSS px: WCAG 2.2, success criterion 2.5.5 (AAA). */
const LEAST = 44;
/** What a crew presses in gloves; common practice, no source. */
const GLOVED = 48;
const CREW = new Set(["/", "*/cards/*/", "*/cards/", "*/changeovers/*/", "*/changeovers/", "*/bands/"]);

// `npm test` builds the demo first and says where it is.
describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("every kind of page", () => {
  let served: Served, browser: Browser, page: Page;
  let kinds: readonly (readonly [kind: string, address: string])[];
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await puppeteer.launch({ executablePath: browserPath!, args: [...BROWSER_FLAGS] });
    page = await newQuietPage(browser);
    kinds = [...(await pagesByKind(site!))].map(([kind, [first]]) => [kind, first!] as const);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });

  /** What is wrong with the page of that address on each kind of page, after each of these ways to look at it. */
  const eachKind = async (
    ...looks: readonly ((kind: string) => Promise<readonly string[]>)[]
  ): Promise<readonly (readonly string[])[]> => {
    const found = looks.map((): string[] => []);
    for (const [kind, address] of kinds) {
      await page.goto(served.address + address, { waitUntil: "load" });
      for (const [at, look] of looks.entries())
        found[at]!.push(...(await look(kind)).map((each) => `${address}: ${each}`));
    }
    return found;
  };

  it("has targets of at least 44 px on a phone, 48 px on a crew's pages, except links within a sentence", async () => {
    await page.setViewport({ width: 390, height: 844, isMobile: true, hasTouch: true });
    const [small] = await eachKind((kind) => page.evaluate(smallTargets, CREW.has(kind) ? GLOVED : LEAST));
    expect(small).toEqual([]);
  }, 120_000);

  // Each page is opened once and looked at in three ways: opening it takes most of the time.
  describe("on a screen", () => {
    let narrow: readonly string[], magnified: readonly string[], lost: readonly string[];
    beforeAll(async () => {
      const client = await page.createCDPSession();
      const ownColours = (value: "active" | "none") =>
        client.send("Emulation.setEmulatedMedia", { features: [{ name: "forced-colors", value }] });
      await page.setViewport({ width: 1280, height: 900 });
      [narrow, magnified, lost] = (await eachKind(
        async () => {
          await ownColours("none");
          await page.setViewport({ width: 320, height: 640 });
          return page.evaluate(sidewaysParts);
        },
        async () => {
          await page.setViewport({ width: 640, height: 450, deviceScaleFactor: 2 });
          return page.evaluate(sidewaysParts);
        },
        async () => {
          await page.setViewport({ width: 1280, height: 900 });
          await ownColours("active");
          return page.evaluate(lostMarks);
        },
      )) as [string[], string[], string[]];
    }, 240_000);

    it("needs no sideways scrolling at 320 px (WCAG 2.2, success criterion 1.4.10)", () => expect(narrow).toEqual([]));

    it("needs none at 200 %: 1280 px magnified twice are 640 px (success criterion 1.4.4)", () =>
      expect(magnified).toEqual([]));

    it("keeps filled pins, marks of safety-critical steps and holds visible in the reader's own colours", async () => {
      expect(lost).toEqual([]);
      // The check itself: a mark whose filling is dropped is found.
      await page.evaluate(() => {
        const mark = document.createElement("i");
        mark.className = "x";
        mark.style.setProperty("background", "Canvas", "important");
        document.querySelector("main")!.append(mark);
      });
      expect(await page.evaluate(lostMarks)).toHaveLength(1);
    });
  });
});

/**
 * Links and controls smaller than asked. A link counts as within a sentence when words stand beside it (2.5.5,
 * exception "inline").
 */
function smallTargets(least: number): string[] {
  const words = (element: Element) => (element.textContent ?? "").replace(/\s+/g, " ").trim();
  return [
    ...document.querySelectorAll<HTMLElement>("a[href],button,select,summary,textarea,input,label:has(input)"),
  ].flatMap((target) => {
    if (
      !target.checkVisibility({ visibilityProperty: true }) ||
      target.matches("label input,.skip,.find-go") ||
      target.closest(".hide")
    )
      return [];
    const { width, height } = target.getBoundingClientRect();
    if (width === 0 || height === 0) return [];
    const block = target.closest("p,li,td,th,dd,dt,figcaption,caption,h1,h2,h3,h4,div")!,
      { display } = getComputedStyle(target);
    const isInSentence =
      (display === "inline" && words(block).length > words(target).length + 2) ||
      [...target.parentElement!.childNodes].some(
        (node) => node.nodeType === Node.TEXT_NODE && (node.textContent ?? "").trim().length > 2,
      );
    if (isInSentence && display.startsWith("inline")) return [];
    return width >= least - 0.5 && height >= least - 0.5
      ? []
      : [
          `${Math.round(width)} x ${Math.round(height)} ` +
            `px: ${target.tagName.toLowerCase()}.${target.className} “${words(target).slice(0, 30)}”`,
        ];
  });
}

/** What makes a page wider than the screen. Parts that scroll by themselves (a matrix) may be wider. */
function sidewaysParts(): string[] {
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= width) return [];
  const wide = [...document.querySelectorAll("main *")].filter(
    (part) => part.getBoundingClientRect().right > width + 1 && !part.closest(".scroll-x"),
  );
  return [
    `${document.documentElement.scrollWidth} px wide: ${wide
      .slice(0, 3)
      .map((part) => `${part.tagName.toLowerCase()}.${String(part.className)}`)
      .join(", ")}`,
  ];
}

/** Marks whose filling can't be told from the ground: filled pins, the tag of safety-critical steps, holds. */
function lostMarks(): string[] {
  return [...document.querySelectorAll<HTMLElement>("main .x,.rail .pin.own,main .crit,main .hold")].flatMap((mark) => {
    if (!mark.checkVisibility({ visibilityProperty: true })) return [];
    const style = getComputedStyle(mark),
      ground = getComputedStyle(document.body).backgroundColor;
    const isFilled = style.backgroundColor !== ground && style.backgroundColor !== "rgba(0, 0, 0, 0)";
    const isOutlined =
      mark.matches(".crit,.hold") && parseFloat(style.borderTopWidth) > 0 && style.borderTopStyle !== "none";
    return isFilled || isOutlined
      ? []
      : [`${mark.tagName.toLowerCase()}.${mark.className} “${(mark.textContent ?? "").trim().slice(0, 30)}”`];
  });
}
