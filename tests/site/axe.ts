/** Runs axe over pages in one browser: what breaks WCAG 2.2 AA, by page. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import puppeteer from "puppeteer-core";
import { BROWSER_FLAGS } from "./find-browser.ts";

/** A rule that a page breaks, with how many elements do and the first of them. */
export interface Violation {
  readonly page: string;
  readonly rule: string;
  readonly count: number;
  readonly first: string;
}

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** Looks at each page at a width and in a theme. Fonts are awaited, and lazy pictures do not matter to the rules. */
export async function findViolations(
  browserPath: string,
  pages: readonly string[],
  width: number,
  theme: "light" | "dark",
): Promise<Violation[]> {
  const browser = await puppeteer.launch({ executablePath: browserPath, args: [...BROWSER_FLAGS] });
  const found: Violation[] = [];
  try {
    const tab = await browser.newPage();
    await tab.setViewport({ width, height: 900 });
    // The strict policy of the pages forbids foreign scripts; axe comes in beside it.
    await tab.setBypassCSP(true);
    await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: theme }]);
    for (const page of pages) {
      await tab.goto(page, { waitUntil: "load" });
      await tab.evaluate(AXE);
      const violations = (await tab.evaluate(
        `document.fonts.ready.then(() => axe.run({ runOnly: { type: "tag", values: ${JSON.stringify(TAGS)} }, ` +
          `resultTypes: ["violations"] })).then(({ violations }) => violations.map(({ id, nodes }) => ({ rule: ` +
          "id, count: nodes.length, first: nodes[0].html.slice(0, 160) })))",
      )) as Omit<Violation, "page">[];
      found.push(...violations.map((violation) => ({ page, ...violation })));
    }
  } finally {
    await browser.close();
  }
  return found;
}
