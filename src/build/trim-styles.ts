/** Leaves out of a minified stylesheet the rules that a set of pages can't use. */
import { recent } from "../domain/words/recent.ts";

/** What a stylesheet is made of, in its order: text that stays, selectors with their rule, or a condition over such. */
type Part =
  | string
  | {
      readonly selectors: readonly { readonly text: string; readonly classes: readonly string[] }[];
      readonly body: string;
    }
  | { readonly condition: string; readonly parts: readonly Part[] };

/** A build trims the same stylesheet for each kind of page. */
const partsOnce = recent<readonly Part[]>(2);

interface TrimmedStyles {
  readonly screen: string;
  /** What is for paper alone: a sheet that is loaded after the screen's, and by no screen. */
  readonly paper: string;
}

/**
 * The stylesheet without rules whose selectors ask for a class or an element of ours (`check-code`) that `has`
 * denies. What stands in brackets (`:not(.x)`,
 * `:has(.y)`)
 * counts as met; at-rules other than conditions (`@font-face`, `@page`, `@keyframes`) and rules with nested ones stay
 * whole.
 */
export function trimStyles(css: string, has: (className: string) => boolean): TrimmedStyles {
  const parts = partsOnce(css, () => partsOf(css)),
    trimmed = (isWanted: (part: Part) => boolean) => trimParts(parts.filter(isWanted), has);
  return { screen: trimmed((part) => !isForPaper(part)), paper: trimmed(isForPaper) };
}

const isForPaper = (part: Part): boolean =>
  typeof part === "object" && "condition" in part && /^@media print\b/.test(part.condition);

function trimParts(parts: readonly Part[], has: (className: string) => boolean): string {
  return parts
    .map((part) => {
      if (typeof part === "string") return part;
      if ("condition" in part) {
        const inner = trimParts(part.parts, has);
        return inner && `${part.condition}{${inner}}`;
      }
      const selectors = part.selectors.filter(({ classes }) => classes.every(has));
      return selectors.length ? `${selectors.map(({ text }) => text).join(",")}{${part.body}}` : "";
    })
    .join("");
}

function partsOf(css: string): Part[] {
  const parts: Part[] = [];
  let at = 0;
  while (at < css.length) {
    const brace = endOf(css, at, "{;");
    if (brace >= css.length || css[brace] === ";") {
      parts.push(css.slice(at, brace + 1));
      at = brace + 1;
      continue;
    }
    const prelude = css.slice(at, brace),
      close = closing(css, brace),
      body = css.slice(brace + 1, close);
    if (/^@(media|supports|layer|container)\b/.test(prelude.trim()))
      parts.push({ condition: prelude, parts: partsOf(body) });
    else if (prelude.trim().startsWith("@")) parts.push(`${prelude}{${body}}`);
    else
      parts.push({
        selectors: splitSelectors(prelude).map((text) => ({ text, classes: classesIn(text) })),
        body: tightened(body),
      });
    at = close + 1;
  }
  return parts;
}

/**
 * Without the blank that minifying leaves before the value of a custom property; it means nothing (CSS Custom
 * Properties Level 1, section 2).
 */
const tightened = (body: string): string => body.replace(/(^|[;{])(--[\w-]+): +/g, "$1$2:");

/**
 * A minified stylesheet for pages that are read from the left: what begins and ends with the line is said by left and
 * right (CSS Logical Properties Level 1, section 4), which is the same there, and shorter.
 */
export function towardsRight(css: string): string {
  return css
    .replace(
      /(?<=[{;])(padding|margin)-block:([\w.-]+)(?: ([\w.-]+))?;\1-inline:([\w.-]+) ([\w.-]+)(?=[;}])/g,
      (_, property: string, top: string, bottom: string | undefined, left: string, right: string) =>
        `${property}:${top} ${right} ${bottom ?? top} ${left}`,
    )
    .replace(/(?<=[{;])(padding|margin|border)-inline-(start|end)(?=[:-])/g, (_, property: string, side: Side) => {
      return `${property}-${SIDES[side]}`;
    })
    .replace(/(?<=[{;])inset-inline-(start|end)(?=:)/g, (_, side: Side) => SIDES[side]);
}

type Side = keyof typeof SIDES;
const SIDES = { start: "left", end: "right" } as const;

/**
 * The words of a minified script that may be classes which it sets: any but names of members and keys (`a.step`,
 * `{step:…}`) and the words of a sentence (four or more of letters alone; nothing is given so many classes at once).
 */
export function possibleClasses(script: string): string[] {
  const code = script.replace(/(?<![\w.-])(?:[A-Za-z’']+ ){3,}[A-Za-z’']+(?![\w-])/g, " ");
  return [...code.matchAll(/(?<![\w.-])[A-Za-z_][\w-]*(?![\w:-])/g)].map(([word]) => word);
}

/** Index of the first of the signs outside strings and round brackets; the length if there is none. */
function endOf(css: string, from: number, signs: string): number {
  let depth = 0;
  for (let at = from; at < css.length; at += 1) {
    const sign = css[at]!;
    if (sign === '"' || sign === "'") at = endOfString(css, at);
    else if (sign === "(") depth += 1;
    else if (sign === ")") depth -= 1;
    else if (sign === "\\") at += 1;
    else if (depth === 0 && signs.includes(sign)) return at;
  }
  return css.length;
}

function endOfString(css: string, from: number): number {
  let at = from + 1;
  while (at < css.length && css[at] !== css[from]) at += css[at] === "\\" ? 2 : 1;
  return at;
}

/** Index of the brace that closes the one at `open`. */
function closing(css: string, open: number): number {
  let depth = 0;
  for (let at = open; at < css.length; at += 1) {
    const sign = css[at]!;
    if (sign === '"' || sign === "'") at = endOfString(css, at);
    else if (sign === "\\") at += 1;
    else if (sign === "{") depth += 1;
    else if (sign === "}" && (depth -= 1) === 0) return at;
  }
  return css.length;
}

/** Selectors of a list, parted at commas outside brackets. */
function splitSelectors(list: string): string[] {
  const selectors: string[] = [];
  let from = 0;
  while (from <= list.length) {
    const comma = endOf(list, from, ",");
    selectors.push(list.slice(from, comma));
    from = comma + 1;
  }
  return selectors;
}

/** Classes and elements of ours that a selector asks for, outside brackets. */
function classesIn(selector: string): string[] {
  let bare = selector;
  while (/\([^()]*\)/.test(bare)) bare = bare.replace(/\([^()]*\)/g, "");
  bare = bare.replace(/\[[^\]]*\]/g, "");
  return [
    ...[...bare.matchAll(/\.((?:[\w-]|[^\x00-\x7f]|\\.)+)/g)].map(([, name]) => name!.replace(/\\(.)/g, "$1")),
    ...[...bare.matchAll(/(?<![\w.#:\\-])[a-z]+(?:-[a-z]+)+/g)].map(([name]) => name),
  ];
}
