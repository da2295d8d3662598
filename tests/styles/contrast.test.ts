/**
 * Contrast of every pair of colours that the stylesheets put together, by day and by night, computed from the tokens
 * themselves.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { INKS } from "../../procedures/tern/photos/_drawing/engine/ink.ts";
import { materials, type Paint } from "../../procedures/tern/photos/_drawing/engine/raster.ts";
import { contrastOf } from "../site/look/contrast-of.ts";

/** Red, green and blue of `#rrggbb`. */
const parts = (colour: string) => [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
const contrast = (one: string, other: string) => contrastOf(parts(one), parts(other));
/** Relative luminance: black has none, so the contrast with it says that of the other. */
const luminance = (colour: string) => contrast(colour, "#000000") * 0.05 - 0.05;

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

describe("the demo's drawings by night (WCAG 2.2, 1.4.11: 3 : 1)", () => {
  const hex = (colour: readonly number[]) => `#${colour.map((part) => part.toString(16).padStart(2, "0")).join("")}`;
  const { night, day } = INKS;
  /** A paint's tones: lit, middle, turned away. */
  const tones = (paint: Paint) =>
    night.tones.slice(materials.indexOf(paint) * 4, materials.indexOf(paint) * 4 + 3).map(hex);
  const surfaces: readonly Paint[] = ["body", "deck", "metal", "soft", "linen", "web", "grip", "dark", "hole"];
  const heroes: readonly Paint[] = ["hero", "heroDeep", "heroGlass"];
  const meanings: readonly Paint[] = ["signal", "good", "amber", "yellow", "blue", "pad"];

  it("are drawn in the inks of the pages", () => {
    for (const [{ ground, red }, tokens] of [
      [day, themes.day],
      [night, themes["night by device"]],
    ] as const)
      expect([ground, red].map(hex)).toEqual([tokens["plate"], tokens["go"]]);
    expect(hex(day.ink)).toBe(themes.day["ink"]);
  });
  it.each([...surfaces, "screen", "glass", "shade", ...heroes] as const)("show lines on %s", (paint) => {
    for (const tone of tones(paint)) expect(contrast(hex(night.ink), tone), tone).toBeGreaterThanOrEqual(3);
  });
  it("show the red arrow on its dark edge", () =>
    expect(contrast(hex(night.red), hex(night.ground))).toBeGreaterThanOrEqual(3));
  it.each(meanings)("tell %s from the part that it stands on", (paint) => {
    for (const part of ["body", "deck", "metal", "soft", "dark", "hole"] as const)
      expect(contrast(tones(paint)[0]!, tones(part)[0]!), part).toBeGreaterThanOrEqual(3);
  });
  it.each(["redOnWhite", "greenOnWhite"] as const)("tell %s on a white dial", (paint) =>
    expect(contrast(tones(paint)[0]!, tones("pad")[0]!)).toBeGreaterThanOrEqual(3),
  );
  it("keep a dark lamp darker than a lit one, and white lighter than black", () => {
    for (const lit of ["good", "amber"] as const)
      expect(luminance(tones(lit)[0]!)).toBeGreaterThan(5 * luminance(tones("hole")[0]!));
    expect(contrast(tones("pad")[0]!, tones("dark")[0]!)).toBeGreaterThanOrEqual(7);
  });
});
