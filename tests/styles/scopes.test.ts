/**
 * A sheet of one kind of page styles nothing of another by accident: a class that stands alone as a selector in one
 * sheet is not named by another (a hold of the changeovers once spread a refusal on the home page over the whole page).
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";

const folder = join(import.meta.dirname, "../../src/styles/pages");
/** One thing wherever it stands: drawn in one sheet, placed or coloured by others. */
const SHARED = new Set(
  (
    "band-line between blk card-bands changed check choice counts crit do gate grid-x hole kind lanes lim-row line " +
    "loom none num only-for paper-who parts peg pegs photo plan plate rule said-of score screen-only step " +
    "swap threads tick-lines through two verdict wait"
  ).split(" "),
);

const selectorsOf = (sheet: string): string[] =>
  [...sheet.replace(/\/\*.*?\*\//gs, "").matchAll(/([^{}]+)\{/g)]
    .map(([, selector]) => selector!.trim())
    .filter((selector) => !/^(@|from$|to$|\d+%)/.test(selector))
    .flatMap((selector) => selector.split(/,(?![^(]*\))/))
    .map((selector) => selector.trim());

it("lets no class of one sheet leak into another", () => {
  const sheets = readdirSync(folder)
    .filter((file) => file.endsWith(".css"))
    .map((file) => ({ file, selectors: selectorsOf(readFileSync(join(folder, file), "utf8")) }));
  const naming = (name: string) =>
    sheets
      .filter(({ selectors }) => selectors.some((selector) => new RegExp(`\\.${name}(?![\\w-])`).test(selector)))
      .map(({ file }) => file);
  const leaks = sheets.flatMap(({ file, selectors }) =>
    selectors.flatMap((selector) => {
      const name = /^\.([a-zA-Z][\w-]*)(?:::?[\w-]+(?:\([^)]*\))?)*$/.exec(selector)?.[1];
      const others = name && !SHARED.has(name) ? naming(name).filter((other) => other !== file) : [];
      return others.map((other) => `.${name} of ${file} and ${other}`);
    }),
  );
  expect([...new Set(leaks)]).toEqual([]);
  // The list holds nothing that is not needed.
  expect([...SHARED].filter((name) => naming(name).length < 2)).toEqual([]);
});
