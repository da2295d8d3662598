/** Runs axe over pages in one browser: what breaks WCAG 2.2 AA, by page. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import puppeteer from "puppeteer-core";
import { BROWSER_FLAGS } from "./find-browser.ts";
import { newQuietPage } from "./quiet-page.ts";

/** A rule that a page breaks, with how many elements do and the first of them. */
export interface Violation {
  readonly page: string;
  readonly width: number;
  readonly theme: "day" | "night";
  readonly rule: string;
  readonly count: number;
  readonly first: string;
}

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const SCHEMES = { day: "light", night: "dark" } as const;

/**
 * Looks at each page at every width and in both themes; a page is opened once, then resized and darkened, as a reader
 * may do too. Fonts are awaited, and lazy pictures do not matter to the rules.
 */
export async function findViolations(
  browserPath: string,
  pages: readonly string[],
  widths: readonly number[],
): Promise<Violation[]> {
  const browser = await puppeteer.launch({ executablePath: browserPath, args: [...BROWSER_FLAGS] });
  const found: Violation[] = [];
  try {
    const tab = await newQuietPage(browser);
    // The strict policy of the pages forbids foreign scripts; axe comes in beside it.
    await tab.setBypassCSP(true);
    for (const page of pages) {
      await tab.goto(page, { waitUntil: "load" });
      await tab.evaluate(AXE);
      for (const theme of ["day", "night"] as const) {
        await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: SCHEMES[theme] }]);
        for (const width of widths) {
          await tab.setViewport({ width, height: 900 });
          const violations = (await tab.evaluate(
            `document.fonts.ready.then(() => axe.run({ runOnly: { type: "tag", values: ${JSON.stringify(TAGS)} }, ` +
              `resultTypes: ["violations"] })).then(({ violations }) => violations.map(({ id, nodes }) => ({ rule: ` +
              "id, count: nodes.length, first: nodes[0].html.slice(0, 160) })))",
          )) as Pick<Violation, "rule" | "count" | "first">[];
          found.push(...violations.map((violation) => ({ page, width, theme, ...violation })));
        }
      }
    }
  } finally {
    await browser.close();
  }
  return found;
}
