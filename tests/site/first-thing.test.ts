/**
 * On each kind of page few words stand before the first useful thing, and every kind of page says which that is. The
 * bounds are what was reached and a tenth, in whole fives: this project's own (figures: `tests/bench/MEASURED.md`).
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { forScreens, openBrowser } from "./find-browser.ts";
import { type FirstThing, measureKinds } from "./look/first-thing.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
// `npm test` builds the demo first and says where it is.
const isThere = site !== undefined && browserPath !== undefined && existsSync(join(site, "index.html"));

/** Words by kind of page, of the demo. */
const THINGS: ReadonlyMap<string, FirstThing> = new Map([
  ["404.html", { what: "the first way on", at: ".mismatch a", most: 60 }],
  ["/", { what: "the first arrangement (the entry of a weight stands above the text)", at: ".hang h2 a", most: 0 }],
  ["C/*/", { what: "what to do with the card", at: ".acts-row a", most: 55 }],
  ["check/", { what: "the entry of a code", at: "input", most: 35 }],
  ["device/", { what: "keep it on this device", at: "button", most: 40 }],
  ["find/", { what: "the entry of words", at: "input", most: 15 }],
  ["folders/", { what: "the first folder", at: ".folder-list a", most: 30 }],
  ["folders/*/", { what: "the first card of the list", at: ".list-in-force tbody tr", most: 45 }],
  ["folders/*/audit/", { what: "the first circle", at: ".audit-table tbody tr", most: 95 }],
  ["folders/*/swap/", { what: "what is to be swapped", at: ".for", most: 10 }],
  ["glossary/", { what: "the first word", at: ".signals", most: 20 }],
  ["guide/", { what: "the first file", at: ".rule-list a", most: 90 }],
  ["guide/*/", { what: "a whole file", at: "pre", most: 80 }],
  ["guide/folders/", { what: "a whole file", at: "pre", most: 30 }],
  ["guide/incidents/", { what: "a whole file", at: "pre", most: 30 }],
  ["guide/reading/", { what: "a whole file", at: "pre", most: 30 }],
  ["guide/review/", { what: "a whole file", at: "pre", most: 30 }],
  ["guide/steps/", { what: "a step as it is written", at: "pre", most: 160 }],
  ["history/", { what: "the newest change", at: ".day-changes li", most: 90 }],
  ["incidents/", { what: "the newest incident", at: ".incidents h3", most: 40 }],
  ["review/", { what: "what is due", at: ".none, .review-rail", most: 50 }],
  ["rules/", { what: "the first rule", at: ".rule-list a", most: 70 }],
  ["rules/*/", { what: "the first rule", at: ".rule", most: 25 }],
  ["rules/bands/", { what: "the first rule", at: ".rule", most: 20 }],
  ["rules/card/", { what: "the first rule", at: ".rule", most: 20 }],
  ["*/amendments/", { what: "the first amendment", at: ".amendment-entry", most: 45 }],
  ["*/amendments/*/", { what: "the slip", at: ".amendment-slip", most: 60 }],
  ["*/away/", { what: "the day of leaving", at: "input", most: 45 }],
  ["*/bands/", { what: "the first band", at: ".bands tbody tr", most: 35 }],
  ["*/cards/", { what: "the first card", at: ".shelf a", most: 35 }],
  ["*/cards/*/", { what: "the first line", at: ".cl li", most: 160 }],
  ["*/cards/*/card/", { what: "print it", at: ".acts-row > *", most: 115 }],
  ["*/cards/*/card/*/", { what: "print it", at: ".acts-row > *", most: 115 }],
  ["*/cards/*/band/*/", { what: "print it", at: ".acts-row > *", most: 65 }],
  ["*/cards/*/with/*/", { what: "print it", at: ".acts-row > *", most: 145 }],
  ["*/cards/*/checker/", { what: "print it", at: ".acts-row > *", most: 50 }],
  ["*/cards/*/key/", { what: "print it", at: ".acts-row > *", most: 40 }],
  ["*/changeovers/", { what: "what stands now", at: "select", most: 10 }],
  ["*/changeovers/*/", { what: "step through it", at: ".acts-row > *", most: 70 }],
  ["*/changeovers/*/card/", { what: "print it", at: ".acts-row > *", most: 105 }],
  ["*/changeovers/print/", { what: "where to choose", at: "a", most: 45 }],
  ["*/configurations/", { what: "the first arrangement", at: ".shelf a", most: 5 }],
  ["*/configurations/*/", { what: "its card", at: ".acts-row > *", most: 95 }],
  ["*/configurations/*/notices/*/", { what: "what to do differently, in a sentence", at: ".for, h2", most: 40 }],
  ["*/options/*/notices/*/", { what: "what to do differently, in a sentence", at: ".for, h2", most: 40 }],
  ["*/procedures/*/notices/*/", { what: "what to do differently, in a sentence", at: ".for, h2", most: 45 }],
  ["*/configurations/*/review/", { what: "what changed", at: "h2", most: 85 }],
  ["*/options/*/review/", { what: "what changed", at: "h2", most: 105 }],
  ["*/procedures/*/review/", { what: "what changed", at: "h2", most: 90 }],
  ["*/procedures/*/proposed/*/review/", { what: "what changed", at: "h2", most: 105 }],
  ["*/configurations/*/revisions/*/", { what: "the first difference", at: ".was-is tbody tr, .loom .row", most: 130 }],
  ["*/options/*/revisions/*/", { what: "the first difference", at: ".was-is tbody tr, .loom .row", most: 100 }],
  ["*/procedures/*/revisions/*/", { what: "the first difference", at: ".was-is tbody tr, .loom .row", most: 135 }],
  ["*/drills/", { what: "the number of a drill", at: "input", most: 30 }],
  ["*/fastenings/*/", { what: "what it looks like", at: ".held-pair, .two", most: 30 }],
  ["*/items/", { what: "the first item", at: ".items-table tbody tr", most: 30 }],
  ["*/items/*/", { what: "where it lives", at: "h2", most: 65 }],
  ["*/options/*/", { what: "what it puts where", at: ".two tbody tr", most: 85 }],
  ["*/places/*/", { what: "where it is", at: ".spot, .two", most: 35 }],
  ["*/practise/", { what: "begin", at: ".acts-row > *", most: 35 }],
  ["*/practise/paper/", { what: "the first question", at: ".paper-questions li", most: 50 }],
  ["*/procedures/", { what: "the first procedure", at: ".shelf a", most: 30 }],
  ["*/procedures/*/", { what: "the first step", at: ".steps .step", most: 225 }],
  ["*/procedures/*/proposed/*/", { what: "the first step", at: ".steps .step", most: 210 }],
  ["*/procedures/*/history/", { what: "the newest revision", at: ".changes h3", most: 55 }],
  ["*/reading/", { what: "the first page", at: ".readings a", most: 15 }],
  ["*/reading/*/", { what: "its text", at: ".reading .prose", most: 30 }],
  ["*/ready/", { what: "the first look", at: ".tick-lines li", most: 80 }],
  ["*/ready/call/", { what: "the first arrangement", at: "tbody tr", most: 40 }],
  ["*/ready/endurance/", { what: "the first store", at: "tbody tr", most: 30 }],
  ["*/ready/restock/*/", { what: "the first thing to do", at: "tbody tr", most: 50 }],
  ["*/ready/state/", { what: "the card", at: ".state-card", most: 30 }],
  ["*/sign-off/", { what: "the first record", at: "tbody tr", most: 40 }],
  ["*/sign-off/*/", { what: "the first line", at: ".seen tbody tr:not(.warned)", most: 145 }],
  ["*/sign-off/configurations/*/", { what: "the first line", at: ".seen tbody tr:not(.warned)", most: 205 }],
  ["*/study/", { what: "the first document", at: ".lessons a", most: 50 }],
  ["*/study/*/", { what: "what is done", at: ".do", most: 125 }],
  ["*/tonight/", { what: "the first piece", at: ".piece-row", most: 45 }],
]);

describe.skipIf(!isThere)("before the first useful thing", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(() => browser?.close());

  it("stand few words, on every kind of page", async () => {
    const measured = await measureKinds(await browser.newPage(), site!, THINGS);
    console.log(
      measured
        .map(
          ({ kind, words, address }) => `${String(words).padStart(5)}  ${kind}: ${THINGS.get(kind)?.what} (${address})`,
        )
        .join("\n"),
    );
    expect(measured.length).toBeGreaterThan(50);
    expect(measured.filter(({ words }) => words === null).map(({ kind, address }) => `${kind} ${address}`)).toEqual([]);
    expect(
      measured.flatMap(({ kind, words, address }) =>
        words! > THINGS.get(kind)!.most
          ? [`${kind}: ${words} words before ${THINGS.get(kind)!.what} (${address})`]
          : [],
      ),
    ).toEqual([]);
    // No kind is listed that isn't there.
    expect([...THINGS.keys()].filter((kind) => !measured.some((each) => each.kind === kind))).toEqual([]);
  }, 120_000);
});
