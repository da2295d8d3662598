/**
 * Cards and changeovers in the languages that are made by machine (from the right; of long words), and for crews of
 * one, three and four: nothing is cut off, runs over its column or over what stands beside it. Needs Chromium.
 */
import { join, resolve } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings } from "../../src/findings/finding.ts";
import { formatOf } from "../../src/paper/card-format.ts";
import { packHtml } from "../../src/paper/card-pack.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { findBrowser } from "../../src/paper/find-browser.ts";
import { speakFor } from "../../src/words/words.ts";
import { openBrowser } from "../site/find-browser.ts";
import { addMachineMade, FROM_RIGHT, LONG } from "../words/machine-made.ts";

const browserPath = process.env["RERIG_BROWSER"] ?? findBrowser();
const root = resolve(import.meta.dirname, "../..");

describe.skipIf(!browserPath)("cards and a changeover", () => {
  let browser: Browser;
  beforeAll(async () => {
    addMachineMade();
    browser = await openBrowser(browserPath!);
  });
  afterAll(() => browser.close());

  it.each([
    ["from the right", "procedures", FROM_RIGHT],
    ["of long words", "procedures", LONG],
    ["for a crew of one", "tests/fixtures/collections/ward", "en-GB"],
    ["for a crew of three", "tests/fixtures/collections/surgery", "en-GB"],
    ["for a crew of four", "tests/fixtures/collections/crate", "en-GB"],
  ])(
    "%s have all their words whole and in their own place",
    async (_, folder, language) => {
      const { collection } = forceOn(await loadCollection(join(root, folder), new Findings()), "2026-11-28");
      const spoken = { ...collection, service: { ...collection.service, language } };
      speakFor(spoken.service);
      const { id: platform, configurations } = spoken.platforms[0]!;
      const [from, to] = configurations.filter(({ status }) => status === "approved").map(({ id }) => id);
      const cards = [{ platform }, { platform, changeover: [`${from}--${to}`] }].flatMap(
        (asked) => requestCards(spoken, asked).requests,
      );
      expect(cards.length).toBeGreaterThan(1);
      const page = await browser.newPage();
      await page.emulateMediaType("print");
      await page.setContent(await packHtml({ title: "Cards", language, format: formatOf("a5"), cards }), {
        waitUntil: "load",
      });
      const { seen, over } = await page.evaluate(async () => {
        await document.fonts.ready;
        const texts = [...document.querySelectorAll<HTMLElement>(".c-side:not(.c-blank) *:not(svg):not(svg *)")].filter(
          (each) => !each.classList.contains("hide") && each.clientWidth > 0,
        );
        const wide = texts.filter((each) => each.scrollWidth > each.clientWidth + 1);
        const high = [...document.querySelectorAll(".c-col")].filter(
          (each) => each.scrollHeight > each.clientHeight + 1,
        );
        return {
          seen: texts.length,
          over: [...wide, ...high].map(({ className, textContent }) => [className, textContent]),
        };
      });
      await page.close();
      expect(seen).toBeGreaterThan(50);
      expect(over).toEqual([]);
    },
    120_000,
  );
});
