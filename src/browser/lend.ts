/** What the script in the head of every page lends to all other scripts of the page (`site/assets.ts`). */
import * as heard from "../words/heard.ts";
import * as spoken from "../schema/spoken.ts";

/** Lends the words of the page, and how its language writes numbers and dates: once, before any other script runs. */
export function lend(): void {
  (globalThis as { [LENT]?: unknown })[LENT] = { heard, spoken };
}

const LENT = Symbol.for("rerig.lent");
