/** One look at a page: opened once, then resized, darkened and touched, while everything is asked of it. */
import type { CDPSession, Page } from "puppeteer-core";
import { leaveOutAlike } from "./alike.ts";
import { askAxe, askColours, keepAxe } from "./axe.ts";
import { laidOver } from "./laid-over.ts";
import { askMarkup, keepSniffer } from "./markup.ts";
import { lostMarks, sidewaysParts, smallTargets } from "./strain.ts";

/** CSS px: the narrowest screen of WCAG 2.2 (1.4.10), a phone, two breadths between, a desk; from the narrowest. */
export const WIDTHS = [320, 390, 700, 860, 1280] as const;
/** Widths at which axe looks, in both themes; from the one at which a page stands after `WIDTHS`. */
const AXE_WIDTHS: readonly number[] = [1280, 390];
/** Widths of a quick look: a desk and the narrowest phone. */
const QUICK_WIDTHS = [1280, 320] as const;
/** CSS px: twice a browser's own size of letters (WCAG 2.2, 1.4.4, asks for 200 %). */
const LARGE = 32;

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
  /** Wider than a phone of 390 px whose reader has set letters twice as large as a browser's own 16 px. */
  readonly large: readonly string[];
  /** Marks that the reader's own colours lose. */
  readonly lost: readonly string[];
  /** Targets that a finger misses. */
  readonly small: readonly string[];
}

/** Makes a page ready for looks: without the site's policy, which forbids foreign scripts, and with these beside it. */
export async function preparePage(page: Page): Promise<void> {
  await page.setBypassCSP(true);
  await keepAxe(page);
  await keepSniffer(page);
}

/**
 * Opens the address in a page made ready (`preparePage`) and looks at it in every way. `least` is the side of a target
 * in CSS px, `asked` what axe was asked of colours (`askColours`); `spoil` changes the page once it is open. Each width
 * and each theme lays the page out and paints it anew: each is met once, from the narrowest width. Axe and
 * HTML_CodeSniffer are asked at the end, without what is made like its neighbours (`leaveOutAlike`).
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
  for (const width of WIDTHS) {
    if (width !== WIDTHS[0]) await page.setViewport({ width, height: 900 });
    const say = (each: string) => `at ${width} px: ${each}`;
    found.laidOver.push(...(await page.evaluate(laidOver)).map(say));
    // As it comes, and with all that is folded opened: nothing is passed because it was folded.
    if (await page.evaluate(unfold)) found.laidOver.push(...(await page.evaluate(laidOver)).map(say));
    if (width === 320) found.narrow.push(...(await page.evaluate(sidewaysParts)));
    if (width !== 390) continue;
    const held = await lookInHand(page, client, least);
    found.small.push(...held.small);
    found.large.push(...held.large);
    await page.setViewport({ width: 640, height: 450, deviceScaleFactor: 2 });
    found.magnified.push(...(await page.evaluate(sidewaysParts)));
  }
  await colours("light", "active");
  found.lost.push(...(await page.evaluate(lostMarks)));
  await colours("light");
  // Last, when what the page fetches by itself has come, and when all that is looked at whole is done.
  found.markup.push(...(await leaveOutAlike(page)), ...(await askMarkup(page)));
  for (const width of AXE_WIDTHS) {
    if (width !== WIDTHS.at(-1)) await page.setViewport({ width, height: 900 });
    const say = (each: string) => `at ${width} px: ${each}`;
    found.day.push(...(await askAxe(page, asked)).map(say));
    await colours("dark");
    found.night.push(...(await askColours(page, asked)).map(say));
    await colours("light");
  }
  return found;
}

/** What a finger misses on a phone, targets of at least `least` CSS px, and what is too wide in large letters. */
async function lookInHand(page: Page, client: CDPSession, least: number): Promise<Pick<Looks, "small" | "large">> {
  // By the protocol: a viewport with touch would open the page anew.
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: true });
  const isFinger = await page.evaluate(() => matchMedia("(pointer: coarse)").matches),
    small = await page.evaluate(smallTargets, least);
  await client.send("Page.setFontSizes", { fontSizes: { standard: LARGE } });
  // What rests on the size of letters (queries in em, scripts that watch a size) follows with the next frames.
  await page.evaluate(
    () => new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => done()))),
  );
  const letters = await page.evaluate(() => parseFloat(getComputedStyle(document.documentElement).fontSize)),
    wide = await page.evaluate(sidewaysParts);
  await client.send("Page.setFontSizes", { fontSizes: { standard: 16 } });
  await client.send("Emulation.setTouchEmulationEnabled", { enabled: false });
  return {
    small: isFinger ? small : ["there is no finger", ...small],
    large: letters === LARGE ? wide : [`letters of ${letters} px where the reader asked for ${LARGE}`, ...wide],
  };
}

/**
 * A quick look at a page that shows something which no page looked at in every way does: colours in both themes, what
 * lies over what and is too wide, at a desk and on the narrowest phone, all that is folded opened; where `isOfKind`,
 * all that axe and HTML_CodeSniffer say too. Each line is something wrong. The page is made ready, and `asked` is as in
 * `lookAt`.
 */
export async function lookQuickly(
  page: Page,
  client: CDPSession,
  address: string,
  asked: Set<number>,
  isOfKind: boolean,
): Promise<readonly string[]> {
  const found: string[] = [];
  const scheme = (value: "light" | "dark") =>
    client.send("Emulation.setEmulatedMedia", {
      features: [
        { name: "prefers-color-scheme", value },
        { name: "forced-colors", value: "none" },
      ],
    });
  await scheme("light");
  await page.setViewport({ width: QUICK_WIDTHS[0], height: 900 });
  await page.goto(address, { waitUntil: "load" });
  await page.evaluate(unfold);
  for (const width of QUICK_WIDTHS) {
    if (width !== QUICK_WIDTHS[0]) await page.setViewport({ width, height: 900 });
    for (const look of [laidOver, sidewaysParts])
      found.push(...(await page.evaluate(look)).map((each) => `at ${width} px: ${each}`));
  }
  found.push(...(await leaveOutAlike(page)));
  const ask = isOfKind ? askAxe : askColours;
  found.push(...(await ask(page, asked)).map((each) => `by day: ${each}`));
  if (isOfKind) found.push(...(await askMarkup(page)));
  await scheme("dark");
  found.push(...(await askColours(page, asked)).map((each) => `by night: ${each}`));
  return found;
}
