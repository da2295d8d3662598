/** Asks axe about a page that is open: what breaks WCAG 2.2 AA, and what else of it counts here. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "puppeteer-core";
import { contrastOf } from "./contrast-of.ts";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/**
 * The rules of axe that look at colours (axe-core, rule descriptions: `color-contrast`, `link-in-text-block`); all
 * others read what stands on the page, how large and where. A theme changes colours only, so by night the page is asked
 * about colours alone.
 */
const OF_COLOURS = ["color-contrast", "link-in-text-block"];

/** Puts axe into the page that is open, which must not hold it to its policy (`setBypassCSP`). */
export async function bringAxe(page: Page): Promise<void> {
  await page.evaluate(AXE);
}

/** Has axe in every page that is opened from now on: sent to the browser once and not with each page. */
export async function keepAxe(page: Page): Promise<void> {
  await page.evaluateOnNewDocument(AXE);
}

/**
 * What breaks a rule on the page as it stands, a line for each rule; empty if nothing does. Fonts are awaited, and lazy
 * pictures do not matter to the rules. Of what rules could load beside the page only sound and film count
 * (`no-autoplay-audio`): style sheets are for a rule that is not asked. All rules are asked at once, since axe reads
 * the page and lays it out on its grid for each time that it is asked. `asked` as for `askColours`.
 */
export function askAxe(page: Page, asked: Set<number>): Promise<readonly string[]> {
  return ask(page, asked, {
    runOnly: { type: "tag", values: TAGS },
    preload: { assets: ["media"] },
  });
}

/**
 * Runs in the page. What is pressed that is not plainly large enough (WCAG 2.2, success criterion 2.5.8: 24 px each
 * way), or shares its area with another. A link within a sentence is excepted there. About all others axe, which lays
 * the whole page out on a grid for it, is not asked.
 */
function doubtfulTargets(): Element[] {
  const LEAST = 24;
  const all = [...document.querySelectorAll("a[href],button,input,select,textarea,summary,[tabindex],[role]")]
    .filter((element) => element.checkVisibility({ visibilityProperty: true }))
    .map((element) => ({ element, box: element.getBoundingClientRect() }))
    .sort((a, b) => a.box.top - b.box.top);
  const isInSentence = (element: Element) =>
    element.matches("a[href]") &&
    getComputedStyle(element).display === "inline" &&
    [...element.parentElement!.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.nodeValue!.trim());
  const doubtful = new Set<Element>();
  all.forEach(({ element, box }, at) => {
    if ((box.width < LEAST || box.height < LEAST) && !isInSentence(element)) doubtful.add(element);
    for (const other of all.slice(at + 1)) {
      if (other.box.top >= box.bottom) break;
      const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
      if (across <= 0 || element.contains(other.element) || other.element.contains(element)) continue;
      doubtful.add(element).add(other.element);
    }
  });
  return [...doubtful];
}

/**
 * What breaks a rule of colours, likewise. Texts whose contrast is plainly enough by the formula (`doubtfulColours`)
 * need no axe. It is asked about all others, once for all pages that are given the same `asked`: those that have
 * colour, font, all that is painted around them, and their names and classes in common look alike on every page.
 * Whatever is wrong, it is asked about again.
 */
export function askColours(page: Page, asked: Set<number>): Promise<readonly string[]> {
  return ask(page, asked, { runOnly: { type: "rule", values: OF_COLOURS }, preload: false });
}

/** What axe is asked (its API documentation, "Options Parameter"). */
interface Options {
  readonly runOnly: { readonly type: "tag" | "rule"; readonly values: readonly string[] };
  readonly preload: false | { readonly assets: readonly string[] };
}

async function ask(page: Page, asked: Set<number>, options: Options): Promise<readonly string[]> {
  const doubtful = `(${String(doubtfulColours)})(${JSON.stringify([...asked])}, ${String(contrastOf)})`,
    targets = options.runOnly.type === "tag" ? `(${String(doubtfulTargets)})()` : "[]",
    whole = { ...options, resultTypes: ["violations", "incomplete"], selectors: false, elementRef: true };
  const { found, fine } = (await page.evaluate(
    `document.fonts.ready.then(() => (${String(askAbout)})(${doubtful}, ${targets}, ${JSON.stringify(whole)}))` +
      `.then(({ fine, ...result }) => ({ fine, found: (${String(whatCounts)})(result) }))`,
  )) as { found: string[]; fine: number[] };
  for (const each of fine) asked.add(each);
  return found;
}

/**
 * Runs in the page. Texts and links that a look alone does not pass, each with a number for how it looks, without those
 * whose number is `known`. A text is passed if it lies within a ground of one colour, on nothing but grounds of one
 * colour, and its contrast is enough (WCAG 2.2, success criterion 1.4.3; definition "large scale": 24 px, or
 * 18.66 px bold); a link is if it is underlined, or no other words are beside it.
 */
function doubtfulColours(known: readonly number[], contrast: typeof contrastOf): Map<Element, number> {
  const isKnown = new Set(known);
  // FNV-1a from either end: among some thousand looks two alike are one chance in 10^9.
  const hash = (text: string) => {
    let [a, b] = [0x811c9dc5, 0x811c9dc5];
    for (let at = 0; at < text.length; at++) {
      a = Math.imul(a ^ text.charCodeAt(at), 0x01000193);
      b = Math.imul(b ^ text.charCodeAt(text.length - 1 - at), 0x01000193);
    }
    return (a >>> 0) * 2 ** 21 + (b >>> 11);
  };
  type Colour = readonly [red: number, green: number, blue: number, alpha: number];
  const colours = new Map<string, Colour | undefined>();
  /** Of `rgb(…)`, as nearly all computed colours are written; `undefined` of others. */
  const colourOf = (text: string): Colour | undefined => {
    if (!colours.has(text)) {
      const [, red, green, blue, alpha = "1"] = /^rgba?\((\d+), (\d+), (\d+)(?:, ([\d.]+))?\)$/.exec(text) ?? [];
      colours.set(text, red === undefined ? undefined : [Number(red), Number(green), Number(blue), Number(alpha)]);
    }
    return colours.get(text);
  };
  const over = (above: Colour, below: Colour): Colour => {
    const mix = (at: 0 | 1 | 2) => above[at] * above[3] + below[at] * (1 - above[3]);
    return [mix(0), mix(1), mix(2), 1];
  };
  interface Ground {
    /** What each element around it paints, from the outermost. */
    readonly painted: string;
    /** The colour that lies under its text, if it is one colour, and the element that brings it. */
    readonly colour?: Colour;
    readonly by?: Element;
  }
  const grounds = new Map<Element | null, Ground>([[null, { painted: "" }]]);
  const groundOf = (element: Element | null): Ground => {
    const before = grounds.get(element);
    if (before) return before;
    const around = groundOf(element!.parentElement),
      style = getComputedStyle(element!),
      painted = [style.backgroundColor, style.backgroundImage, style.opacity, style.filter, style.mixBlendMode],
      own = colourOf(style.backgroundColor);
    const isPlain = painted.slice(1).join() === "none,1,none,normal" && style.clipPath === "none" && own !== undefined;
    // Out of its place it may lie over anything: then only a ground of its own is known.
    const isPlaced =
      !/^(?:static|relative)$/.test(style.position) || style.transform !== "none" || style.translate !== "none";
    const below = isPlaced ? undefined : around.colour;
    const ground =
      !isPlain || (own[3] < 1 && !below)
        ? {}
        : own[3] === 0
          ? { colour: below!, by: around.by! }
          : { colour: own[3] === 1 ? own : over(own, below!), by: element! };
    grounds.set(element, { painted: `${around.painted}>${painted.join()}`, ...ground });
    return grounds.get(element)!;
  };
  const isEnough = (element: Element, { color, fontSize, fontWeight, textShadow }: CSSStyleDeclaration) => {
    const { colour: below, by } = groundOf(element),
      letters = colourOf(color);
    if (!below || !by || !letters || textShadow !== "none") return false;
    const [one, other] = [element.getBoundingClientRect(), by.getBoundingClientRect()];
    if (
      one.left < other.left - 1 ||
      one.right > other.right + 1 ||
      one.top < other.top - 1 ||
      one.bottom > other.bottom + 1
    )
      return false;
    const size = parseFloat(fontSize),
      isLarge = size >= 24 || (size >= 18.66 && Number(fontWeight) >= 700);
    return contrast(over(letters, below), below) >= (isLarge ? 3 : 4.5);
  };
  /** Whether other words than links stand in the block of a link. */
  const isAmongWords = (link: Element) => {
    let block = link.parentElement!;
    while (/^inline/.test(getComputedStyle(block).display)) block = block.parentElement!;
    const count = (each: Element) => (each.textContent ?? "").replace(/\s+/g, "").length;
    return count(block) > [...block.querySelectorAll("a[href]")].reduce((sum, each) => sum + count(each), 0);
  };
  // Classes with a number in them are places on a rail or in a grid.
  const nameOf = (element: Element) =>
    `${element.tagName}.${[...element.classList].filter((name) => !/\d/.test(name)).join(".")}`;
  const doubtful = new Map<Element, number>();
  for (const element of document.querySelectorAll("body *")) {
    const isText =
      element.matches("input,select,textarea") ||
      [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.nodeValue!.trim() !== "");
    const isLink = element.matches("a[href],[role=link]");
    if ((!isText && !isLink) || !element.checkVisibility({ visibilityProperty: true })) continue;
    const style = getComputedStyle(element);
    const isTold = !isLink || style.textDecorationLine === "underline" || !isAmongWords(element);
    if (isTold && (!isText || isEnough(element, style))) continue;
    const around = element.parentElement!,
      looks = ({ color, font, textShadow, textDecoration, border }: CSSStyleDeclaration) =>
        [color, font, textShadow, textDecoration, border].join(),
      all = [nameOf(element), nameOf(around), nameOf(around.parentElement!), groundOf(element).painted];
    const look = hash([...all, looks(style), looks(getComputedStyle(around))].join(";"));
    if (!isKnown.has(look)) doubtful.set(element, look);
  }
  return doubtful;
}

/**
 * Runs in the page. What axe says of it, of colours about the doubtful elements alone and of targets about these; and
 * the looks of those that are fine or that it can't tell of.
 */
async function askAbout(doubtful: ReadonlyMap<Element, number>, targets: readonly Element[], options: Options) {
  interface Found {
    readonly id: string;
    readonly impact: string | null;
    readonly tags: readonly string[];
    readonly nodes: readonly { readonly element: Element; readonly html: string }[];
  }
  interface Axe {
    configure(spec: { rules: readonly { id: string; selector: string; enabled?: boolean }[] }): void;
    run(options: unknown): Promise<Record<"violations" | "incomplete", readonly Found[]>>;
  }
  const { axe } = globalThis as unknown as { axe: Axe };
  if (options.runOnly.type === "rule" && doubtful.size === 0) return { violations: [], incomplete: [], fine: [] };
  const [colour, target] = ["data-colour-asked", "data-target-asked"];
  axe.configure({
    rules: [
      { id: "color-contrast", selector: `[${colour}]` },
      { id: "link-in-text-block", selector: `a[href][${colour}],[role=link][${colour}]` },
      { id: "target-size", selector: `[${target}]`, enabled: true },
    ],
  });
  for (const element of doubtful.keys()) element.setAttribute(colour, "");
  for (const element of targets) element.setAttribute(target, "");
  const { violations, incomplete } = await axe.run(options);
  for (const element of doubtful.keys()) element.removeAttribute(colour);
  for (const element of targets) element.removeAttribute(target);
  const wrong = new Set(
    violations
      .filter(({ id }) => id === "color-contrast" || id === "link-in-text-block")
      .flatMap(({ nodes }) => nodes.map(({ element }) => doubtful.get(element))),
  );
  const withoutMarks = (html: string) => html.replaceAll(` ${colour}=""`, "").replaceAll(` ${target}=""`, "");
  const plain = (each: Found) => ({ ...each, nodes: each.nodes.map(({ html }) => ({ html: withoutMarks(html) })) });
  return {
    violations: violations.map(plain),
    incomplete: incomplete.map(plain),
    fine: [...new Set(doubtful.values())].filter((look) => !wrong.has(look)),
  };
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
  ].map(
    ({ id, nodes }) =>
      `${id}, ${nodes.length} times, first ${nodes
        .slice(0, 6)
        .map(({ html }) => html.slice(0, 160))
        .join(", ")}`,
  );
}
