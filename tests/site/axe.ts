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
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const SCHEMES = { day: "light", night: "dark" } as const;

/**
 * The rules of axe that look at colours (axe-core, rule descriptions: `color-contrast`, `link-in-text-block`), all
 * others read what stands on the page, how large and where. A theme changes colours only, so by night the page is asked
 * for these alone.
 */
const OF_COLOURS = ["color-contrast", "link-in-text-block"];

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
        const asked = theme === "day" ? { type: "tag", values: TAGS } : { type: "rule", values: OF_COLOURS };
        await tab.emulateMediaFeatures([{ name: "prefers-color-scheme", value: SCHEMES[theme] }]);
        for (const width of widths) {
          await tab.setViewport({ width, height: 900 });
          const violations = (await tab.evaluate(
            `document.fonts.ready.then(() => axe.run({ runOnly: ${JSON.stringify(asked)}, ` +
              `resultTypes: ["violations", "incomplete"] })).then(${String(whatCounts)})`,
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

/** What is read of a result of axe (its API documentation, "Results Object"). */
interface Result {
  readonly id: string;
  readonly impact: string | null;
  readonly tags: readonly string[];
  readonly nodes: readonly { readonly html: string }[];
}

/**
 * Runs in the page. What counts of axe's results: whatever breaks WCAG, what is serious or critical of its best
 * practice, and what is serious or critical and which it could not decide ("incomplete"), except contrasts: those over
 * a drawing or under a pin nobody can work out.
 */
function whatCounts({ violations, incomplete }: { violations: readonly Result[]; incomplete: readonly Result[] }) {
  const isGrave = ({ impact }: Result) => impact === "serious" || impact === "critical";
  return [
    ...violations.filter((each) => !each.tags.includes("best-practice") || isGrave(each)),
    ...incomplete.filter((each) => isGrave(each) && each.id !== "color-contrast"),
  ].map(({ id, nodes }) => ({ rule: id, count: nodes.length, first: nodes[0]?.html.slice(0, 160) ?? "" }));
}
