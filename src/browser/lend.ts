/** What the script in the head of every page lends to all other scripts of the page (`site/assets.ts`). */
import * as heard from "../words/heard.ts";
import * as long from "../words/long-words.ts";
import * as out from "./tonight/out-store.ts";
import * as spoken from "../schema/spoken.ts";

/**
 * Lends the words of the page, how its language writes numbers and dates, where long words break and what is out of
 * service: once, before any other script runs.
 */
export function lend(): void {
  (globalThis as { rerigLent?: unknown }).rerigLent = { heard, long, out, spoken };
}
