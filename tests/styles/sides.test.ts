/**
 * Pages stand on the side of their language: what is on a side of a text is said by where a line begins and ends (CSS
 * Logical Properties Level 1, section 4), so that a page from the right is the same page turned round. Left and right
 * are for what is drawn or cut to measure, whatever the language.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { towardsRight } from "../../src/build/trim-styles.ts";

const source = resolve(import.meta.dirname, "../../src");

/** What keeps its left and right, by the selector's beginning, and why. */
const DRAWN: readonly (readonly [RegExp, string])[] = [
  [/^(?:\.home )?\.rail\b(?!-)|^\.needle\b/, "the scale of weights: as in a drawing it grows to the right"],
  [/^\.danger-(?:bands|lane|bar|scale)\b|^\.shelf-scale s/, "weights again, above the same scale"],
  [/^\.score-stages span/, "stands over a drawing, whose own coordinates begin at the left (SVG 2, 8.2)"],
  [/^\.handle\b|^\.spot\b/, "stands on a photo, where its mark was put"],
  [/^\.c-side$|^\.c-a6/, "the leaf's hole is punched where it is, in whatever language"],
];
const ONE_SIDED =
  /^(?:(?:padding|margin|border|scroll-margin|scroll-padding)-(?:left|right)(?:-\w+)?|left|right|border-(?:top|bottom)-(?:left|right)-radius)$/;

/** Parts of a value, parted at blanks outside brackets. */
const partsOf = (value: string) =>
  value.replace(/\([^()]*(?:\([^()]*(?:\([^()]*\)[^()]*)*\)[^()]*)*\)/g, "()").split(/\s+/);

/** Whether a declaration says which side, left or right. */
function saysSide(property: string, value: string): boolean {
  if (ONE_SIDED.test(property)) return true;
  if (/^(?:text-align|float|clear)$/.test(property)) return /^(?:left|right)$/.test(value);
  const [, right, , left] = partsOf(value.replace(/ *!important$/, ""));
  return (
    /^(?:padding|margin|inset|border-(?:width|style|color))$/.test(property) && left !== undefined && left !== right
  );
}

/** What in a sheet is on a side of its own, and stands in none of the drawings. */
function sidesIn(sheet: string): { readonly selector: string; readonly said: string }[] {
  const rules = [...sheet.replace(/\/\*.*?\*\//gs, "").matchAll(/([^{}]+)\{([^{}]*)\}/g)];
  return rules.flatMap(([, selector, body]) =>
    [...body!.matchAll(/([\w-]+):\s*([^;]+);/g)]
      .filter(([, property, value]) => !selector!.trim().startsWith("@") && saysSide(property!, value!.trim()))
      .map(([said]) => ({ selector: selector!.trim(), said })),
  );
}

const found = ["styles", "desk/styles"].flatMap((folder) =>
  readdirSync(join(source, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".css"))
    .flatMap((name) => sidesIn(readFileSync(join(source, folder, name), "utf8")).map((each) => ({ name, ...each }))),
);

it("says left and right in drawings alone", () => {
  const isDrawn = (selector: string) =>
    selector.split(",").every((each) => DRAWN.some(([begins]) => begins.test(each.trim())));
  expect(found.filter(({ selector }) => !isDrawn(selector))).toEqual([]);
});

it.each(DRAWN)("%s: %s", (begins) => expect(found.some(({ selector }) => begins.test(selector))).toBe(true));

it("sees every way in which a sheet may say a side", () => {
  const sheet = `.a { padding-left: 1px; left: 0; text-align: right; padding: 0 1px 0 2px; }
.b { padding-inline-start: 1px; padding: 0 1px; margin: 0 calc(1px + (2px * 3)) 0 calc(1px + (2px * 4)); }
.c { border-left-width: 2px; text-align: start; margin: 0 2px 1px 2px; border-width: 0 0 0 4px !important; }`;
  expect(sidesIn(sheet).map(({ selector, said }) => `${selector} ${said}`)).toEqual([
    ".a padding-left: 1px;",
    ".a left: 0;",
    ".a text-align: right;",
    ".a padding: 0 1px 0 2px;",
    ".c border-left-width: 2px;",
    ".c border-width: 0 0 0 4px !important;",
  ]);
});

it("is shorter in a page from the left, and the same", () =>
  expect(
    towardsRight(
      ".a{padding-inline-start:1px;border-inline-end-width:2px;inset-inline-start:0;transition:inset-inline-start 1s}" +
        ".b{padding-block:8px;padding-inline:0 12px;margin-block:1px 2px;margin-inline:3px auto!important}" +
        ".c{padding-block:1px;padding-inline:calc(1px + 2px) 0;margin-inline:auto}",
    ),
  ).toBe(
    ".a{padding-left:1px;border-right-width:2px;left:0;transition:inset-inline-start 1s}" +
      ".b{padding:8px 12px 8px 0;margin-block:1px 2px;margin-inline:3px auto!important}" +
      ".c{padding-block:1px;padding-inline:calc(1px + 2px) 0;margin-inline:auto}",
  ));
