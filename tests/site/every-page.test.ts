/**
 * Every kind of page by day and by night, at every width, in a hand and under strain: what axe finds, words that lie
 * over one another, what a finger presses, a narrow screen, letters twice as large, the reader's own colours. Of each
 * kind it is the page that shows most; a kind that shows nothing which others do not, and what else only other pages
 * show, is looked at quickly. Pages are chosen by representatives.ts; all of them, in every way, by RERIG_EVERY=1.
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Browser, CDPSession, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Served } from "../../src/build/serve.ts";
import { forScreens, openBrowser } from "./find-browser.ts";
import { lookAt, lookQuickly, preparePage, type Looks } from "./look/look-at.ts";
import { pagesByKind } from "./look/page-kinds.ts";
import { newQuietPage } from "./look/quiet-page.ts";
import { choosePages } from "./look/representatives.ts";
import { serveKept } from "./look/serve-kept.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
/** Side of a target in CSS px: WCAG 2.2, success criterion 2.5.5 (AAA). */
const LEAST = 44;
/** What a crew presses in gloves; common practice, no source. */
const GLOVED = 48;
const CREW = new Set(["/", "*/cards/*/", "*/cards/", "*/changeovers/*/", "*/changeovers/", "*/bands/"]);

// `npm test` builds the demo first and says where it is.
const isThere = site !== undefined && browserPath !== undefined && existsSync(join(site, "index.html"));
const nothing = { ofKinds: [], others: [], signatures: 0, onKinds: 0 };
const chosen = isThere ? await choosePages(site, await pagesByKind(site)) : nothing;

describe.skipIf(!isThere)("every kind of page", () => {
  let served: Served, browser: Browser, page: Page, client: CDPSession;
  const asked = new Set<number>();
  beforeAll(async () => {
    served = await serveKept(site!);
    browser = await openBrowser(browserPath!);
    page = await newQuietPage(browser);
    await preparePage(page);
    client = await page.createCDPSession();
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });

  it("is looked at, and each two classes and states of an element, each within each of what it stands in", () => {
    expect(new Set(chosen.ofKinds.map(([kind]) => kind)).size).toBeGreaterThan(50);
    const { onKinds, signatures, others } = chosen;
    console.log(`${signatures} signatures, ${onKinds} on pages of each kind, the rest on ${others.length} more`);
    expect(signatures).toBeGreaterThan(2000);
  });

  it.each(chosen.others.map(([address, isOfKind]) => [address, isOfKind ? "its kind" : "a part", isOfKind] as const))(
    "%s, looked at for %s, breaks nothing at a glance",
    async (address, _why, isOfKind) =>
      expect(await lookQuickly(page, client, served.address + address, asked, isOfKind)).toEqual([]),
  );

  describe.each(chosen.ofKinds)("%s: %s", (kind, address) => {
    let looks: Looks;
    beforeAll(async () => {
      looks = await lookAt(page, client, served.address + address, CREW.has(kind) ? GLOVED : LEAST, asked);
    }, 120_000);

    it("breaks nothing of WCAG 2.2 AA that axe can tell, by day", () => expect(looks.day).toEqual([]));
    it("nor by night", () => expect(looks.night).toEqual([]));
    it("nor in its markup, by HTML_CodeSniffer", () => expect(looks.markup).toEqual([]));
    it("keeps words and pictures apart, from the narrowest phone to a desk", () => expect(looks.laidOver).toEqual([]));
    it("has targets of at least 44 px on a phone, 48 px on a crew's pages, except links within a sentence", () =>
      expect(looks.small).toEqual([]));
    it("needs no sideways scrolling at 320 px (WCAG 2.2, success criterion 1.4.10)", () =>
      expect(looks.narrow).toEqual([]));
    it("needs none at 200 %: 1280 px magnified twice are 640 px (success criterion 1.4.4)", () =>
      expect(looks.magnified).toEqual([]));
    it("needs none on a phone whose reader has set larger letters (1.4.4; technique C14)", () =>
      expect(looks.large).toEqual([]));
    it("keeps filled pins, marks of safety-critical steps and holds visible in the reader's own colours", () =>
      expect(looks.lost).toEqual([]));
  });

  it("is not passed with one defect of each sort in it", async () => {
    const { day, night, ...others } = await lookAt(page, client, `${served.address}rules/`, LEAST, asked, () => {
      const plant = (tag: string, text: string, style: string, holder = document.querySelector("main")!) => {
        const part = document.createElement(tag);
        part.textContent = text;
        part.style.cssText = style;
        holder.append(part);
        return part;
      };
      plant("p", "Pull the pin", "position:absolute;top:300px;left:10px");
      plant("p", "Push the pin", "position:absolute;top:304px;left:30px");
      plant("button", "Go", "width:20px;height:20px;min-width:0;min-height:0;padding:0;color:#000;background:#fff");
      plant("p", "Pale by day", "color:light-dark(#ccc,#fff);background:light-dark(#fff,#000)");
      plant(
        "p",
        "Dim by night",
        "color:light-dark(#000,#333);background:light-dark(#fff,#000);color-scheme:light dark",
      );
      // What a look at colours alone might pass: paint around the text, and ground that is not its parent's.
      plant("p", "Faint with its parent", "color:#000", plant("div", "", "opacity:.3;color-scheme:only light"));
      const dark = plant("div", "", "position:relative;height:60px;color-scheme:only light;background:#fff");
      plant("div", "", "position:absolute;inset:0;background:#111", dark);
      plant("p", "Dark on a dark neighbour", "position:absolute;top:4px;left:4px;margin:0;color:#333", dark);
      const said = plant("p", "Turn it until ", "color:#000;background:#fff;color-scheme:only light");
      const link = plant("a", "this way", "color:#222;text-decoration:none;font-weight:inherit", said);
      link.setAttribute("href", "#this-way");
      plant("p", "Wider than a screen", "width:700px;max-width:none;white-space:nowrap");
      plant("i", "Hold", "background:Canvas !important").className = "x";
      const picture = document.createElement("img");
      picture.src = "data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=";
      document.querySelector("main")!.append(picture);
    });
    const all = (lines: readonly string[]) => lines.join("\n");
    expect(all(day)).toMatch(/at 1280 px: color-contrast/);
    expect(all(day)).toMatch(/at 390 px: color-contrast/);
    for (const pale of ["Pale by day", "Faint with its parent", "Dark on a dark neighbour"])
      for (const width of [1280, 390])
        expect(
          day.filter((line) => line.includes(`at ${width} px: color-contrast`) && line.includes(pale)),
        ).not.toEqual([]);
    expect(all(day)).toMatch(/link-in-text-block.*this way/);
    expect(all(day)).toMatch(/at 390 px: image-alt/);
    expect(all(night)).toMatch(/at 1280 px: color-contrast.*Dim by night/);
    expect(all(night)).toMatch(/at 390 px: color-contrast.*Dim by night/);
    expect(all(others.markup)).toMatch(/H37: Img element missing an alt/);
    expect(all(others.laidOver)).toMatch(/lie over one another.*Pull the pin.*Push the pin/);
    for (const width of [1280, 860, 700, 390, 320]) expect(all(others.laidOver)).toContain(`at ${width} px: lie over`);
    expect(all(others.small)).toMatch(/^20 x 20 px: button.*Go/m);
    expect(all(others.narrow)).toContain("px wide");
    expect(all(others.magnified)).toContain("px wide");
    expect(all(others.large)).toContain("px wide");
    expect(all(others.lost)).toContain("Hold");
  }, 120_000);
});
