/**
 * How much stands before the first useful thing of a page: what a crew in a hurry or a new starter reads, or scrolls
 * past, before what they came for. Which thing that is, is this project's own judgement (common practice, no source).
 */
import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "puppeteer-core";
import { pagesByKind } from "./page-kinds.ts";

/** What is useful on a page of a kind: in words, where it stands (CSS), and how many words may stand before it. */
export interface FirstThing {
  readonly what: string;
  readonly at: string;
  readonly most: number;
}

/**
 * Runs in a browser, on pages as text: how many words of `main` stand before the thing; `null` where it isn't there.
 * What is said for a reading voice alone, printed, drawn or folded away does not count.
 */
function countBefore(pages: readonly (readonly [html: string, at: string])[]): readonly (number | null)[] {
  return pages.map(([html, at]) => {
    const main = new DOMParser().parseFromString(html, "text/html").querySelector("main")!,
      thing = main.querySelector(at);
    if (!thing) return null;
    const isUnseen = (part: Element) =>
      !part.contains(thing) &&
      (part.matches("script, style, template, noscript, svg, [hidden], [aria-hidden=true], .hide, .paper") ||
        (part.matches("details:not([open]) > *") && part.localName !== "summary"));
    let said = "";
    const walk = (node: Node): boolean => {
      if (node === thing) return true;
      if (node instanceof Element && isUnseen(node)) return false;
      if (node.nodeType === Node.TEXT_NODE) said += ` ${node.textContent}`;
      return [...node.childNodes].some(walk);
    };
    walk(main);
    return said.split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
  });
}

/** Of each kind its worst page among those looked at: the two heaviest, and five taken evenly; most words first. */
export async function measureKinds(
  page: Page,
  site: string,
  things: ReadonlyMap<string, FirstThing>,
): Promise<readonly { readonly kind: string; readonly address: string; readonly words: number | null }[]> {
  const looked = [...(await pagesByKind(site))].flatMap(([kind, addresses]) => {
    const fileOf = (address: string) =>
      join(site, address.endsWith(".html") ? address : join(address === "/" ? "" : address, "index.html"));
    const heaviest = [...addresses].sort((a, b) => statSync(fileOf(b)).size - statSync(fileOf(a)).size).slice(0, 2),
      some = addresses.filter((_, at) => at % Math.ceil(addresses.length / 5) === 0);
    return [...new Set([...heaviest, ...some])].map((address) => ({ kind, address, file: fileOf(address) }));
  });
  const counts = await page.evaluate(
    countBefore,
    looked.map(({ kind, file }) => [readFileSync(file, "utf8"), things.get(kind)?.at ?? "nothing"] as const),
  );
  const measured = looked
    .map(({ kind, address }, at) => ({ kind, address, words: counts[at]! }))
    .sort((a, b) => (b.words ?? Infinity) - (a.words ?? Infinity));
  return measured.filter(({ kind }, at) => measured.findIndex((other) => other.kind === kind) === at);
}
