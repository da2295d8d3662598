/**
 * Sizes of type follow the reader's own default (WCAG 2.2, 1.4.4; technique C14: sizes in units of the text): on
 * screen none is in pixels. Papers have millimetres and points, and are not asked.
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { expect, it } from "vitest";

const source = resolve(import.meta.dirname, "../../src"),
  folders = ["styles", "desk/styles"];

it("has nine sizes of type on screens, and a larger one for the entry of a weight alone", () => {
  const sizes = readdirSync(join(source, "styles"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".css") && !["print.css", "pages-print.css", "card.css"].includes(basename(name)))
    .flatMap((name) => [
      ...readFileSync(join(source, "styles", name), "utf8").matchAll(
        /(?:^|[\s{;])font(?:-size)?:(?:[^;{}/(]*?\s)?(\d*\.?\d+)rem/g,
      ),
    ])
    .map(([, rem]) => Number(rem));
  expect(sizes.length).toBeGreaterThan(300);
  expect([...new Set(sizes)].sort((a, b) => a - b)).toEqual([
    0.875, 1, 1.125, 1.25, 1.375, 1.625, 1.875, 2.5, 3.5, 4.5,
  ]);
});

it("gives no size of type on screen in pixels", () => {
  const sheets = folders
    .flatMap((folder) =>
      readdirSync(join(source, folder), { recursive: true, encoding: "utf8" }).map((name) => join(folder, name)),
    )
    .filter((name) => name.endsWith(".css") && !["print.css", "pages-print.css", "card.css"].includes(basename(name)));
  expect(sheets.length).toBeGreaterThan(15);
  const sizes = sheets.flatMap((name) =>
    [...readFileSync(join(source, name), "utf8").matchAll(/(?:^|[\s{;])(font|font-size|line-height):([^;{}]*);/g)].map(
      ([, property, value]) => `${name} ${property}:${value}`,
    ),
  );
  expect(sizes.length).toBeGreaterThan(300);
  expect(sizes.filter((size) => /\dpx\b/.test(size.replace(/calc\([^)]*\)/g, "")))).toEqual([]);
});
