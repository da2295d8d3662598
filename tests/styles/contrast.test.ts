/**
 * Contrast of every pair of colours that the stylesheets put together, by day and by night, computed from the tokens
 * themselves.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

/** Relative luminance of `#rrggbb` (WCAG 2.2, definition of relative luminance). */
function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5]
    .map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255)
    .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}
/** Contrast ratio (WCAG 2.2, definition of contrast ratio); never rounded before it is compared. */
function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

const css = readFileSync(new URL("../../src/styles/tokens.css", import.meta.url), "utf8");
const tokensAfter = (selector: string): Record<string, string> => {
  const block = css.slice(css.indexOf("{", css.indexOf(selector)), css.indexOf("}", css.indexOf(selector)));
  return Object.fromEntries(
    [...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/g)].map(([, name, value]) => [name!, value!]),
  );
};
const themes = {
  day: tokensAfter(":root {"),
  "night by button": tokensAfter(':root[data-theme="night"]'),
  "night by device": tokensAfter(':root:not([data-theme="day"])'),
};

describe(
  "the formula (WCAG 2.2; ratios worked out by hand from its definition, on both sides of the thresholds 3, 4.5 " +
    "and 7)",
  () => {
    it.each([
      ["#000000", "#ffffff", 21],
      ["#767676", "#ffffff", 4.5422],
      ["#777777", "#ffffff", 4.4781],
      ["#949494", "#ffffff", 3.0335],
      ["#959595", "#ffffff", 2.9953],
      ["#595959", "#ffffff", 7.0047],
      ["#5a5a5a", "#ffffff", 6.8969],
      ["#ff0000", "#ffffff", 3.9985],
      ["#0000ff", "#ffffff", 8.5925],
      ["#ffff00", "#000000", 19.556],
    ])("%s on %s is %d", (one, other, ratio) => {
      expect(contrast(one, other)).toBeCloseTo(ratio, 4);
    });
  },
);

/** Text on its ground: WCAG 2.2, 1.4.6 (AAA), 7 : 1. */
const TEXT: readonly (readonly [string, string])[] = [
  ["ink", "ground"],
  ["ink", "plate"],
  ["soft", "ground"],
  ["soft", "plate"],
  ["rail-ink", "rail"],
  ["rail-soft", "rail"],
  ["rail", "rail-ink"],
  ["on-primer", "primer"],
  ["red", "ground"],
  ["red", "plate"],
  ["ground", "red"],
  ["ground", "block"],
  ["ground", "red-block"],
  ["on-amber", "amber"],
  ["no-ink", "no"],
];
/** Lines and shapes that mean something: WCAG 2.2, 1.4.11, 3 : 1. */
const SHAPES: readonly (readonly [string, string])[] = [
  ["line", "ground"],
  ["line", "plate"],
  ["red", "rail"],
  ["block", "ground"],
  ["red-block", "ground"],
  ["dl", "d0"],
  ["dl", "d1"],
  ["dl", "d2"],
  ["dl", "hot"],
  ["go", "ground"],
  ["go", "plate"],
];

describe.each(Object.entries(themes))("%s", (_, tokens) => {
  it("has every colour that is tested", () => {
    expect([...TEXT, ...SHAPES].flat().filter((name) => !(name in tokens))).toEqual([]);
  });
  it.each(TEXT)("reads %s on %s at 7 : 1 or more (WCAG 2.2, 1.4.6)", (text, ground) => {
    expect(contrast(tokens[text]!, tokens[ground]!)).toBeGreaterThanOrEqual(7);
  });
  it.each(SHAPES)("tells %s from %s at 3 : 1 or more (WCAG 2.2, 1.4.11)", (shape, ground) => {
    expect(contrast(tokens[shape]!, tokens[ground]!)).toBeGreaterThanOrEqual(3);
  });
});

it("is the same night by the button and by the device", () => {
  expect(themes["night by button"]).toEqual(themes["night by device"]);
});
