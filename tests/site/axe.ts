/** Asks axe about a page that is open: what breaks WCAG 2.2 AA, and what else of it counts here. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "puppeteer-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/**
 * The rules of axe that look at colours (axe-core, rule descriptions: `color-contrast`, `link-in-text-block`), all
 * others read what stands on the page, how large and where. A theme changes colours only, so by night the page is asked
 * for these alone.
 */
const OF_COLOURS = ["color-contrast", "link-in-text-block"];
const ASKED = { all: { type: "tag", values: TAGS }, colours: { type: "rule", values: OF_COLOURS } } as const;

/** Puts axe into the page, which must not hold it to its policy (`setBypassCSP`). */
export async function bringAxe(page: Page): Promise<void> {
  await page.evaluate(AXE);
}

/**
 * What breaks a rule on the page as it stands, a line for each rule; empty if nothing does. Fonts are awaited, and lazy
 * pictures do not matter to the rules. Of what rules could load beside the page only sound and film count
 * (`no-autoplay-audio`): style sheets are for a rule that is not asked.
 */
export async function askAxe(page: Page, asked: keyof typeof ASKED): Promise<readonly string[]> {
  const options = {
    runOnly: ASKED[asked],
    resultTypes: ["violations", "incomplete"],
    selectors: false,
    preload: { assets: ["media"] },
  };
  return (await page.evaluate(
    `document.fonts.ready.then(() => axe.run(${JSON.stringify(options)})).then(${String(whatCounts)})`,
  )) as string[];
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
  ].map(({ id, nodes }) => `${id}, ${nodes.length} times, first ${nodes[0]?.html.slice(0, 160) ?? ""}`);
}
