/**
 * Sizes of type follow the reader's own default (WCAG 2.2, 1.4.4; technique C14: sizes in units of the text): on
 * screen none is in pixels. Papers have millimetres and points, and are not asked.
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { expect, it } from "vitest";

const source = resolve(import.meta.dirname, "../../src"),
  folders = ["styles", "desk/styles"];

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
