/** One look at a page: opened once, then resized, darkened and touched, while everything is asked of it. */
import type { CDPSession, Page } from "puppeteer-core";
import { askAxe, askColours, bringAxe } from "./axe.ts";
import { laidOver } from "./laid-over.ts";
import { askMarkup } from "./markup.ts";
import { lostMarks, sidewaysParts, smallTargets } from "./strain.ts";

/** CSS px: the narrowest screen of WCAG 2.2 (1.4.10), a phone, two breadths between, a desk. */
export const WIDTHS = [1280, 860, 700, 390, 320] as const;
/** Widths at which axe looks, in both themes. */
const AXE_WIDTHS: readonly number[] = [1280, 390];
/** Widths of a quick look: a desk and the narrowest phone. */
const QUICK_WIDTHS = [1280, 320] as const;
/** CSS px: what a reader who sees badly may set as the size of letters; common practice, no source. */
const LARGE = 24;

/** Runs in the page. Opens what is folded; says whether anything was. */
function unfold(): boolean {
  const folded = document.querySelectorAll<HTMLDetailsElement>("details:not([open])");
  for (const fold of folded) fold.open = true;
  return folded.length > 0;
}

/** What is wrong with a page, each a line; empty where nothing is. */
export interface Looks {
  /** Words over words, under pictures, cut off: `laidOver` at every width. */
  readonly laidOver: readonly string[];
  /** What breaks WCAG 2.2 AA by day and by night. */
  readonly day: readonly string[];
  readonly night: readonly string[];
  /** What breaks it in the markup, by HTML_CodeSniffer. */
  readonly markup: readonly string[];
  /** Wider than a screen of 320 px. */
  readonly narrow: readonly string[];
  /** Wider than a screen of 1280 px magnified twice. */
  readonly magnified: readonly string[];
  /** Wider than a phone of 390 px whose reader has set letters half as large again as a browser's own 16 px. */
  readonly large: readonly string[];
  /** Marks that the reader's own colours lose. */
  readonly lost: readonly string[];
  /** Targets that a finger misses. */
  readonly small: readonly string[];
}

/**
 * Opens the address and looks at it in every way. `least` is the side of a target in CSS px, `asked` what axe was asked
 * of colours (`askColours`); `spoil` changes the page once it is open. The page must have no policy (`setBypassCSP`).
 */
export async function lookAt(
  page: Page,
  client: CDPSession,
  address: string,
  least: number,
  asked: Set<number>,
  spoil: () => void = () => {},
): Promise<Looks> {
  const found: { [Key in keyof Looks]: string[] } = {
    laidOver: [],
    day: [],
    night: [],
    markup: [],
    narrow: [],
    magnified: [],
    large: [],
    lost: [],
    small: [],
  };
  const colours = (scheme: "light" | "dark", forced: "none" | "active" = "none") =>
    client.send("Emulation.setEmulatedMedia", {
      features: [
        { name: "prefers-color-scheme", value: scheme },
        { name: "forced-colors", value: forced },
      ],
    });
  await colours("light");
  await page.setViewport({ width: WIDTHS[0], height: 900 });
  await page.goto(address, { waitUntil: "load" });
  await page.evaluate(spoil);
  await bringAxe(page);
  for (const width of WIDTHS) {
    await page.setViewport({ width, height: 900 });
    const say = (each: string) => `at ${width} px: ${each}`;
    found.laidOver.push(...(await page.evaluate(laidOver)).map(say));
    // As it comes, and with all that is folded opened: nothing is passed because it was folded.
    if (await page.evaluate(unfold)) found.laidOver.push(...(await page.evaluate(laidOver)).map(say));
    if (!AXE_WIDTHS.includes(width)) continue;
    found.day.push(...(await askAxe(page)).map(say), ...(await askColours(page, asked)).map(say));
    await colours("dark");
    found.night.push(...(await askColours(page, asked)).map(say));
    await colours("light");
  }
  await page.setViewport({ width: 320, height: 640 });
  found.narrow.push(...(await page.evaluate(sidewaysParts)));
  await page.setViewport({ width: 640, height: 450, deviceScaleFactor: 2 });
  found.magnified.push(...(await page.evaluate(sidewaysParts)));
  await page.setViewport({ width: 1280, height: 900 });
  await colours("light", "active");
  found.lost.push(...(await page.evaluate(lostMarks)));
  await colours("light");
  // Late, when what the page fetches by itself has come.
  found.markup.push(...(await askMarkup(page)));
  await page.setViewport({ width: 390, height: 844 });
  // By the protocol: a viewport with touch would open the page anew.
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: true });
  if (!(await page.evaluate(() => matchMedia("(pointer: coarse)").matches))) found.small.push("there is no finger");
  found.small.push(...(await page.evaluate(smallTargets, least)));
  await client.send("Page.setFontSizes", { fontSizes: { standard: LARGE } });
  const letters = await page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize));
  if (letters !== LARGE) found.large.push(`letters of ${letters} px where the reader asked for ${LARGE}`);
  found.large.push(...(await page.evaluate(sidewaysParts)));
  await client.send("Page.setFontSizes", { fontSizes: { standard: 16 } });
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: false });
  return found;
}

/**
 * A quick look at a page that shows something which the page of its kind that is looked at does not: colours in both
 * themes, what lies over what and is too wide, at a desk and on the narrowest phone, all that is folded opened. Each
 * line is something wrong. The page must have no policy, and `asked` is as in `lookAt`.
 */
export async function lookQuickly(
  page: Page,
  client: CDPSession,
  address: string,
  asked: Set<number>,
): Promise<readonly string[]> {
  const found: string[] = [];
  const scheme = (value: "light" | "dark") =>
    client.send("Emulation.setEmulatedMedia", { features: [{ name: "prefers-color-scheme", value }] });
  await scheme("light");
  await page.setViewport({ width: QUICK_WIDTHS[0], height: 900 });
  await page.goto(address, { waitUntil: "load" });
  await bringAxe(page);
  await page.evaluate(unfold);
  for (const width of QUICK_WIDTHS) {
    await page.setViewport({ width, height: 900 });
    for (const look of [laidOver, sidewaysParts])
      found.push(...(await page.evaluate(look)).map((each) => `at ${width} px: ${each}`));
  }
  for (const theme of ["light", "dark"] as const) {
    await scheme(theme);
    found.push(...(await askColours(page, asked)).map((each) => `${theme}: ${each}`));
  }
  return found;
}
