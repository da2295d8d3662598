/**
 * Spaces come from one scale, so that gaps of one rank are equal on every page. Common practice, no source. What makes
 * room for a drawn thing (a pin and its lane, a bar that follows the screen) is as wide as that thing, and listed.
 * And nothing moves for whoever asked for less motion (WCAG 2.2, 2.3.3).
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { expect, it } from "vitest";

const source = resolve(import.meta.dirname, "../../src");

/** CSS px between things on a screen: the line within a row, the row, the group, the part of a page. */
const SCALE = [2, 4, 8, 12, 16, 24, 32, 48, 64];
/** By style sheet, CSS px that another thing on the page gives. */
const ROOM_FOR: Readonly<Record<string, readonly number[]>> = {
  "base.css": [76], // the bar at the foot of a phone
  "foot.css": [84], // the same, for what is scrolled to
  "home.css": [88, -1], // the same and a row; a line over the line of the scale
  "lanes.css": [84, 72, 60, 44, -44, -34], // the same; a pin of 44 px beside its text, under the middle of a hold
  "changeover-page.css": [60], // a pin beside its text
  "card.css": [-1], // a line over a line
  "changeover.css": [72], // the minutes of the score
  "drawings.css": [-72], // the same
  "step-through.css": [150], // the buttons at the foot of a phone
  "ready.css": [72], // three places deep
  "desk.css": [60, 50], // the number of a step
  "parts.css": [46], // the line of a time rail
  "records.css": [120], // the names of the values of a row
  "tonight.css": [1232], // the width of a page
  "top.css": [-28, -3], // two pins side by side, half of a clash
  "touch.css": [-9, -13], // what a line of text is lower than a finger
};
/** Running text is spaced by its letters. */
const BY_LETTERS = /(?:em|ch|%)$/;

it("has nine spaces on screens", () => {
  const others: string[] = [],
    used = new Set<number>();
  let count = 0;
  for (const folder of ["styles", "desk/styles"])
    for (const name of readdirSync(join(source, folder), { recursive: true, encoding: "utf8" })) {
      if (!name.endsWith(".css") || ["print.css", "pages-print.css"].includes(basename(name))) continue;
      const sheet = readFileSync(join(source, folder, name), "utf8").replace(/\/\*[^]*?\*\//g, "");
      for (const [said, , value] of sheet.matchAll(
        /(?<=[{;\s])((?:scroll-)?(?:margin|padding)(?:-[a-z-]+)?|(?:row-|column-)?gap):([^;{}]*)/g,
      ))
        for (const [space, figure] of value!.replace(/(?:calc|max)\(.*\)/g, "").matchAll(/(-?\d*\.?\d+)[a-z%]+/g)) {
          if (BY_LETTERS.test(space) || space.endsWith("mm")) continue;
          count++;
          if (space.endsWith("px") && SCALE.includes(Math.abs(Number(figure)))) used.add(Math.abs(Number(figure)));
          else if (!ROOM_FOR[basename(name)]?.includes(Number(figure))) others.push(`${name}: ${said}`);
        }
    }
  expect(others).toEqual([]);
  expect(count).toBeGreaterThan(1000);
  expect([...used].sort((a, b) => a - b)).toEqual(SCALE);
});

it("moves nothing but for those who have not asked for less motion", () => {
  const moving: string[] = [];
  let asked = 0;
  for (const folder of ["styles", "desk/styles"])
    for (const name of readdirSync(join(source, folder), { recursive: true, encoding: "utf8" })) {
      if (!name.endsWith(".css")) continue;
      const sheet = readFileSync(join(source, folder, name), "utf8"),
        spared = sheet.replace(/@media \(prefers-reduced-motion: no-preference\) \{[^]*?\n\}/g, () => (asked++, ""));
      for (const [said] of spared.matchAll(/\b(?:transition|animation|scroll-behavior|@keyframes)\b[^;]*/g))
        moving.push(`${name}: ${said}`);
    }
  for (const folder of ["browser", "desk/browser"])
    for (const name of readdirSync(join(source, folder), { recursive: true, encoding: "utf8" })) {
      if (!name.endsWith(".ts")) continue;
      const script = readFileSync(join(source, folder, name), "utf8");
      for (const [said] of script.matchAll(/behavior: ?"smooth"|\.animate\(|startViewTransition/g))
        moving.push(`${name}: ${said}`);
    }
  expect(asked).toBe(1);
  expect(moving).toEqual([]);
});
