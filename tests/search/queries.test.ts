/**
 * Search on the built demo, in Chromium: of the queries written down beforehand, 97 % have a right page among the first
 * three results and 85 % as the first; what is not there gives nothing. Online, without a network, and from a folder.
 */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { answerFrom, type FindList, type QueryAnswer } from "../../src/domain/find/answer.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import * as groups from "./queries.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { isEveryPageAsked } from "../site/look/representatives.ts";
import { readSiteList } from "./site-list.ts";
import { EVERYDAY, EVERYDAY_MISSPELT, NOT_IN_EVERYDAY } from "./everyday-queries.ts";
import { HARDER, NOT_THERE } from "./harder-queries.ts";
import { HURRIED, NOT_IN_A_HURRY } from "./hurried-queries.ts";
import { NIGHT, NOT_IN_NIGHT } from "./night-queries.ts";
import { FOURTH_WRITER, NOT_OF_FOURTH_WRITER, NOT_OF_THIRD_WRITER, THIRD_WRITER } from "./later-pair-queries.ts";
import { FIRST_PAIR, NOT_IN_FIRST_PAIR, NOT_IN_SECOND_PAIR, SECOND_PAIR } from "./pair-queries.ts";
import { NOT_IN_THIRD_TEAM, THIRD_TEAM } from "./third-team-queries.ts";
import { FIRST_TEAM, NOT_IN_FIRST_TEAM, NOT_IN_SECOND_TEAM, SECOND_TEAM } from "./team-queries.ts";
import { FIRST_VOICES, NOT_IN_FIRST, NOT_IN_SECOND, SECOND_VOICES } from "./voices-queries.ts";
import { NOT_WRITTEN_OF, WRITTEN_BY_CREW, WRITTEN_BY_EDUCATOR, WRITTEN_BY_STARTER } from "./written-queries.ts";
import { type Asked, LOOKED_AT, ONLY_MEASURED, UNSEEN } from "./fresh-queries.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
// Agreed for this program; no source.
const AMONG_THREE = 0.97,
  FIRST = 0.85;
const ASKED = [
  ...groups.PLAIN,
  ...groups.CODES,
  ...groups.OTHER_NAMES,
  ...groups.FRESH,
  ...groups.CREW,
  ...groups.LATER,
  ...groups.MISSPELT,
  ...groups.MORE_MISSPELT,
];
/** All sets of queries, and of things that are not there. */
const EVERY_SET: readonly (readonly Asked[])[] = [
    ...[ASKED, LOOKED_AT, ONLY_MEASURED, UNSEEN, HARDER, FIRST_VOICES, SECOND_VOICES, EVERYDAY, EVERYDAY_MISSPELT],
    ...[NIGHT, HURRIED, FIRST_TEAM, SECOND_TEAM, THIRD_TEAM, FIRST_PAIR, SECOND_PAIR],
    ...[WRITTEN_BY_CREW, WRITTEN_BY_STARTER, WRITTEN_BY_EDUCATOR],
  ],
  NOWHERE: readonly (readonly string[])[] = [
    ...[groups.ABSENT, NOT_THERE, NOT_IN_FIRST, NOT_IN_SECOND, NOT_IN_EVERYDAY, NOT_IN_NIGHT, NOT_IN_A_HURRY],
    ...[NOT_IN_FIRST_TEAM, NOT_IN_SECOND_TEAM, NOT_IN_THIRD_TEAM, NOT_WRITTEN_OF],
    ...[NOT_IN_FIRST_PAIR, NOT_IN_SECOND_PAIR],
  ];
/** Pages about a document, or about the program. */
const isBehind = (address: string) => /^C\/|^rules\/|\/(revisions|notices|history)\/|\/sign-off\/./.test(address);

/** Pages that are meant by themselves, and not what stands under their address. */
const OVERVIEWS: ReadonlySet<string> = new Set(["cards", "study", "sign-off"]);

/** Whether an address is of one of these ids; histories, notices and forms are about them and not of them. */
function isOneOf(address: string, ids: readonly string[]): boolean {
  if (ids.some((id) => OVERVIEWS.has(id) && address === `tern/${id}/`)) return true;
  if (/history|revisions|notices|sign-off|review|study/.test(address)) return false;
  const words = address.split("/");
  return ids.some((id) =>
    id === "chooser" ? address === "" || address === "tern/bands/" : !OVERVIEWS.has(id) && words.includes(id),
  );
}

// `npm test` builds the demo first and says where it is; alone, there is nothing to search.
describe.skipIf(!site || !browserPath || !existsSync(join(site, "find/index.html")))("search", () => {
  let served: Served, browser: Browser, page: Page, list: FindList;
  beforeAll(async () => {
    list = readSiteList(site!);
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
    page = await newQuietPage(browser);
    await page.goto(`${served.address}find/`, { waitUntil: "networkidle0" });
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });

  /** Addresses of all results of each query on the page, in their order; all are asked in one go. */
  async function shownFor(queries: readonly string[], on: Page = page): Promise<string[][]> {
    return on.evaluate(async (texts: readonly string[]) => {
      const count = document.querySelector(".found-count")!,
        box = document.querySelector<HTMLInputElement>("#find-page")!,
        root = new URL(document.querySelector<HTMLElement>("form.finder")!.dataset["home"]!, location.href).pathname,
        answers: string[][] = [];
      // Hundreds of lists of results that nobody looks at need not be laid out and painted.
      document.body.style.display = "none";
      for (const text of texts) {
        count.textContent = "";
        box.value = text;
        box.form!.requestSubmit();
        const began = performance.now();
        while (count.textContent === "") {
          if (performance.now() - began > 10_000) throw new Error(`No answer to “${text}” in ten seconds`);
          await new Promise((done) => setTimeout(done));
        }
        const links = [...document.querySelectorAll<HTMLAnchorElement>(".found h2 a")];
        answers.push(links.map((link) => new URL(link.href).pathname.slice(root.length).replace(/index\.html$/, "")));
      }
      document.body.style.display = "";
      return answers;
    }, queries);
  }

  const resultsOf = async (typed: string): Promise<string[]> => (await shownFor([typed]))[0]!;

  const answered = new Map<string, QueryAnswer>();
  /** What a query is answered with from the list alone. */
  const answer = (query: string) => {
    const known = answered.get(query) ?? answerFrom(list, query);
    answered.set(query, known);
    return known;
  };
  const listAnswers = (query: string) => answer(query).found.map(({ entry }) => entry.address);
  /** Whether the list leaves a query to the index: it has nothing, and does not say that there is nothing. */
  const isLeftToIndex = (query: string) => answer(query).found.length === 0 && !answer(query).isNothing;

  /**
   * The same without the page, from what the page answers from, by whom it asks; the page itself where the list leaves
   * a query to the index. That the page shows just this is asked below.
   */
  async function answersOf(queries: readonly string[]): Promise<string[][]> {
    const left = queries.filter(isLeftToIndex),
      shown = new Map((await shownFor(left)).map((addresses, at) => [left[at]!, addresses]));
    return queries.map((query) => shown.get(query) ?? listAnswers(query));
  }

  /** What is missed, of how many, and what is first that should not be. */
  async function judge() {
    const late: string[] = [],
      notFirst: string[] = [],
      behind: string[] = [];
    const answers = await answersOf(ASKED.map(([typed]) => typed));
    for (const [number, [typed, ...right]] of ASKED.entries()) {
      const found = answers[number]!;
      const at = found.findIndex((address) => right.includes(address));
      if (at < 0 || at > 2) late.push(`${typed}: ${found.slice(0, 3).join(" ")}`);
      if (at !== 0) notFirst.push(`${typed}: ${found.slice(0, 3).join(" ")}`);
      if (found[0] && isBehind(found[0]) && !right.includes(found[0])) behind.push(`${typed}: ${found[0]}`);
    }
    return { late, notFirst, behind };
  }

  it("answers the queries of crews and new starters, and puts no history, form, old card or rule first", async () => {
    expect(ASKED.length).toBeGreaterThanOrEqual(120);
    expect(new Set(ASKED.map(([typed]) => typed)).size).toBe(ASKED.length);
    const { late, notFirst, behind } = await judge();
    expect(behind).toEqual([]);
    expect(late.length / ASKED.length, late.join("\n")).toBeLessThanOrEqual(1 - AMONG_THREE);
    expect(notFirst.length / ASKED.length, notFirst.join("\n")).toBeLessThanOrEqual(1 - FIRST);
  }, 120_000);

  it("shows on the page what is answered without it, of every ninth query of all sets", async () => {
    const all = [...new Set([...EVERY_SET.flatMap((set) => set.map(([typed]) => typed)), ...NOWHERE.flat()])],
      typed = all.filter((query, at) => !isLeftToIndex(query) && (isEveryPageAsked || at % 9 === 0));
    expect(all.length).toBeGreaterThan(1300);
    expect(typed.length).toBeGreaterThan(120);
    const shown = await shownFor(typed);
    for (const [at, query] of typed.entries()) expect(shown[at], query).toEqual(listAnswers(query));
  }, 240_000);

  it("answers them alike on a site opened from a folder, and without a network", async () => {
    const folder = await newQuietPage(browser);
    await folder.goto(`file://${join(site!, "find/index.html")}`, { waitUntil: "load" });
    const alone = await newQuietPage(browser);
    await alone.goto(`${served.address}find/`, { waitUntil: "networkidle0" });
    await alone.setOfflineMode(true);
    // Every ninth: the list that answers is the same file.
    const typed = ASKED.filter((_, at) => at % 9 === 0).map(([text]) => text),
      online = await shownFor(typed);
    // Where the titles, names and steps give fewer, the index adds behind them.
    for (const other of [folder, alone]) {
      for (const [at, answer] of (await shownFor(typed, other)).entries()) {
        const found = answer.slice(0, 3);
        expect(found, typed[at]).toEqual(online[at]!.slice(0, 3).slice(0, found.length));
        expect(found.length, typed[at]).toBeGreaterThan(0);
      }
    }
    await folder.close();
    await alone.close();
  }, 240_000);

  /** Share of queries with a right page among the first three, and as the first. */
  async function shareOf(asked: readonly Asked[], isRight = isOneOf) {
    let three = 0,
      first = 0;
    const answers = await answersOf(asked.map(([typed]) => typed));
    for (const [number, [, ...right]] of asked.entries()) {
      const found = answers[number]!;
      const at = found.findIndex((address) => isRight(address, right));
      if (at >= 0 && at < 3) three += 1;
      if (at === 0) first += 1;
    }
    return { three: three / asked.length, first: first / asked.length };
  }

  /** Those of the queries that are answered at all. */
  async function answeredOf(queries: readonly string[]): Promise<string[]> {
    const answers = await answersOf(queries);
    return queries.filter((_, at) => answers[at]!.length > 0);
  }

  // What was agreed (97 % and 85 %) is not reached on these. Before anything was mended 63 and 43 % on the first group,
  // 74 and 49 % on the second; 89 and 76 %, 99 and 77 %, 98 and 88 % on the third now (84 and 66 %, 93 and 74 %, 94 and
  // 76 % before the points of each sign were fitted). The floors keep it from getting worse.
  it("answers most queries of people who have never seen it", async () => {
    const looked = await shareOf(LOOKED_AT),
      measured = await shareOf(ONLY_MEASURED),
      unseen = await shareOf(UNSEEN);
    expect(looked.three).toBeGreaterThanOrEqual(0.87);
    expect(looked.first).toBeGreaterThanOrEqual(0.74);
    expect(measured.three).toBeGreaterThanOrEqual(0.97);
    expect(measured.first).toBeGreaterThanOrEqual(0.75);
    expect(unseen.three).toBeGreaterThanOrEqual(0.95);
    expect(unseen.first).toBeGreaterThanOrEqual(0.86);
  }, 240_000);

  // A fourth person, further from the words of the service: 78 and 57 % before anything was mended, 86 and 69 % before
  // the points were fitted, 89 and 76 % now; 2 of 20 things that are not there are answered (6, then 5). What was
  // agreed is 97 and 85 %, and none.
  it("answers the queries of a stranger no worse than it did", async () => {
    const harder = await shareOf(HARDER);
    expect(harder.three).toBeGreaterThanOrEqual(0.87);
    expect(harder.first).toBeGreaterThanOrEqual(0.74);
    const answered = await answeredOf(NOT_THERE);
    expect(answered.length, answered.join(", ")).toBeLessThanOrEqual(1);
  }, 240_000);

  // Two sets kept apart for long, used since to fit the points: 87 and 80 % on the first, 88 and 75 % on the second
  // (77 and 70 %, 83 and 68 % at first); none of 20 that are not there are answered (5 of each at first). What was
  // agreed is 97 and 85 %, and none.
  it.each([
    ["first", FIRST_VOICES, NOT_IN_FIRST, 0.85, 0.78],
    ["second", SECOND_VOICES, NOT_IN_SECOND, 0.87, 0.73],
  ] as const)(
    "answers the %s set of queries of three voices no worse than it did",
    async (_, asked, absent, leastInThree, leastFirst) => {
      const { three, first } = await shareOf(asked, (address, right) => right.includes(address));
      expect(three).toBeGreaterThanOrEqual(leastInThree);
      expect(first).toBeGreaterThanOrEqual(leastFirst);
      const answered = await answeredOf(absent);
      expect(answered).toEqual([]);
    },
    240_000,
  );

  // Written before the search was looked at. Of each list the odd ones may guide a change (93 and 77 % now, 85 and 57 %
  // at first), the even ones are only measured and nobody has looked at them (88 and 72 % now, 82 and 65 % at first).
  // Misspelt: 90 and 90 %, 100 and 90 %; 1 and none of 10 that are not there are answered. What was agreed is 97 and
  // 85 %, and none.
  it.each([
    ["odd", 0, 0.86, 0.75, 0],
    ["even", 1, 0.86, 0.7, 0],
  ] as const)(
    "answers the %s half of the everyday queries no worse than it did",
    async (_, rest, leastInThree, leastFirst, mostAnswered) => {
      const half = <T>(all: readonly T[]) => all.filter((_, at) => at % 2 === rest),
        isRight = (address: string, right: readonly string[]) => right.includes(address);
      const asked = await shareOf(half(EVERYDAY), isRight);
      expect(asked.three).toBeGreaterThanOrEqual(leastInThree);
      expect(asked.first).toBeGreaterThanOrEqual(leastFirst);
      const misspelt = await shareOf(half(EVERYDAY_MISSPELT), isRight);
      expect(misspelt.three).toBeGreaterThanOrEqual(0.9);
      expect(misspelt.first).toBeGreaterThanOrEqual(0.8);
      const answered = await answeredOf(half(NOT_IN_EVERYDAY));
      expect(answered.length, answered.join(", ")).toBeLessThanOrEqual(mostAnswered);
    },
    240_000,
  );

  // Of one night: 80 and 62 % before a query was read for what it composes (4 of 15 that are not there answered), 100
  // and 90 % now (1). Of a hurry 95 and 88 % at first (5 of 15), 97 and 88 % now (none). Of two teams the first guided
  // what was changed last (82 and 67 %, 9 of 20 answered, at first; 93 and 83 %, 5, now), the second did not (72 and
  // 63 %, 7 of 20; 73 and 68 %, 6): what was agreed, 97 and 85 % and none, is far from what a stranger meets. A third,
  // measured when the work had ended: 75 and 70 % (of a crew's 80 and 80), 3 of 20; 80 and 75 % now.
  // To answer nothing where no page says two thirds of a few words in one place has its price: of 309 things that are
  // not there 13 fewer are answered, of 880 that are there 9 more are not.
  it.each([
    ["one night", NIGHT, NOT_IN_NIGHT, 0.98, 0.88, 1],
    ["a hurry", HURRIED, NOT_IN_A_HURRY, 0.95, 0.86, 0],
    ["one team", FIRST_TEAM, NOT_IN_FIRST_TEAM, 0.91, 0.81, 5],
    ["another team", SECOND_TEAM, NOT_IN_SECOND_TEAM, 0.71, 0.66, 6],
    ["a third team", THIRD_TEAM, NOT_IN_THIRD_TEAM, 0.78, 0.73, 3],
    ["one pair of writers", FIRST_PAIR, NOT_IN_FIRST_PAIR, 0.9, 0.75, 2],
    ["the other of them", SECOND_PAIR, NOT_IN_SECOND_PAIR, 0.91, 0.76, 1],
    ["another writer", THIRD_WRITER, NOT_OF_THIRD_WRITER, 0.96, 0.75, 1],
    ["one with gloves on", FOURTH_WRITER, NOT_OF_FOURTH_WRITER, 0.91, 0.73, 4],
  ] as const)(
    "answers the queries of %s no worse than it did",
    async (_, asked, absent, leastInThree, leastFirst, mostAnswered) => {
      const { three, first } = await shareOf(asked, (address, right) => right.includes(address));
      expect(three).toBeGreaterThanOrEqual(leastInThree);
      expect(first).toBeGreaterThanOrEqual(leastFirst);
      const answered = await answeredOf(absent);
      expect(answered.length, answered.join(", ")).toBeLessThanOrEqual(mostAnswered);
    },
    240_000,
  );

  // By another writer, before pages had questions of their own: crews 95 and 85 %, starters 75 and 65 %, educators 50
  // and 45 %. With the questions, before anybody looked at a query: 82 and 72 % of all, of educators 70 and 65 % (a
  // page's two addresses not yet counted as one). Looked at several times since, so that these are no figures of an
  // unseen set: 95 and 95, 80 and 75, 80 and 80 % now; 3 of 20 that are not there are answered, as before. A set that
  // nobody had read when all was done: 72 and 67 % without the questions, 82 and 73 % with them (educators 35 and 35,
  // 65 and 55 %).
  it("answers the queries of crews, starters and educators by another writer no worse than it did", async () => {
    const isRight = (address: string, right: readonly string[]) => right.includes(address);
    for (const [asked, leastInThree, leastFirst] of [
      [WRITTEN_BY_CREW, 0.9, 0.9],
      [WRITTEN_BY_STARTER, 0.75, 0.7],
      [WRITTEN_BY_EDUCATOR, 0.75, 0.75],
    ] as const) {
      const { three, first } = await shareOf(asked, isRight);
      expect(three).toBeGreaterThanOrEqual(leastInThree);
      expect(first).toBeGreaterThanOrEqual(leastFirst);
    }
    const answered = await answeredOf(NOT_WRITTEN_OF);
    expect(answered.length, answered.join(", ")).toBeLessThanOrEqual(3);
  }, 240_000);

  it("answers a weight with the page that chooses, and takes the weight there", async () => {
    for (const [typed, kg, at] of [
      ["3.2kg", "3.2", 0],
      ["40 kg teenager", "40", 0],
      ["8 lb 9 oz baby", "3.883884668125", 0],
      // Whose page it is says no weight: five kilograms are no newborn capsule's any more.
      ["baby exactly 5 kilos", "5", 0],
      ["5kg exactly capsule or cradle", "5", 0],
      ["capsule for 950 g", "0.95", 0],
      ["newborn capsule 6 kg", "6", 0],
      ["strap child 12 kg", "12", 1],
    ] as const) {
      await resultsOf(typed);
      const link = await page.$$eval(".found h2 a", (links, n) => links[n]?.href ?? "", at);
      const { hash, pathname } = new URL(link);
      expect(new URLSearchParams(hash.slice(1)).get("kg"), typed).toBe(kg);
      expect(new URL(served.address).pathname, typed).toBe(pathname);
    }
    // A weight that may be two is asked there, and not guessed here.
    await resultsOf("capsule for 1,250 kg");
    const [path, hash] = await page.$eval(".found h2 a", (link) => [new URL(link.href).pathname, link.hash]);
    expect([path, hash]).toEqual([new URL(served.address).pathname, ""]);
    await resultsOf("capsule 12 pins");
    expect(await page.$$eval(".found h2 a", (links) => links.some(({ hash }) => hash.includes("kg=")))).toBe(false);
  }, 30_000);

  it("finds nothing where there is nothing, and says so", async () => {
    expect(groups.ABSENT.length).toBeGreaterThanOrEqual(20);
    const found: string[] = [];
    for (const typed of groups.ABSENT) {
      const links = await resultsOf(typed);
      if (links.length > 0) found.push(`${typed}: ${links.slice(0, 2).join(" ")}`);
      const said = (await page.$eval(".found-count", (place) => place.textContent)) ?? "";
      if (!said.includes("Nothing found")) found.push(`${typed}: ${said}`);
    }
    expect(found).toEqual([]);
  }, 60_000);

  it("says that a thing beside a weight is nowhere, and names the page that chooses beside that", async () => {
    expect(await resultsOf("adrenalin dose 12 kg")).toEqual([]);
    expect(await page.$eval(".found-count", (place) => place.textContent)).toMatch(
      /“adrenalin” stands nowhere.*Nothing found/,
    );
    expect(await page.$eval(".found-count a", (link) => [new URL(link.href).pathname, link.hash])).toEqual([
      new URL(served.address).pathname,
      "#kg=12",
    ]);
  }, 20_000);

  it("shows what the rest of the words find, if that is asked for", async () => {
    await resultsOf("chest drain");
    await page.click(".found-count button");
    await page.waitForFunction(() => document.querySelector(".found h2 a"), { timeout: 10_000, polling: 5 });
  }, 20_000);

  it("opens the step that answers", async () => {
    await resultsOf("head flap");
    const [address] = await page.$$eval(".found h2 a", (links) =>
      links.map((link) => link.href).filter((href) => href.includes("#step-")),
    );
    expect(address).toContain("tern/procedures/");
    const step = await newQuietPage(browser);
    await step.goto(address!);
    expect(await step.$eval(new URL(address!).hash, (place) => place.textContent)).toMatch(/head flap/i);
    await step.close();
    // What is looked at on a lever's page is no step of it.
    await resultsOf("four green collars");
    const said = await page.$$eval(".found li", (all) =>
      all.filter((one) => one.querySelector("a")!.href.includes("/fastenings/")).map((one) => one.textContent),
    );
    expect(said.join()).toContain("Capsule pins four green collars");
    expect(said.join()).not.toMatch(/Step\s*:/);
  }, 20_000);

  // A ratio, since machines differ: what is typed is answered from the list, while the index is still asked.
  it("answers as one types: within 50 ms, or what a bare question to the index takes on a slow machine", async () => {
    const typed = groups.CREW.map(([text]) => text);
    // A text: the test runner rewrites imports in functions.
    await page.evaluate('import("/pagefind/pagefind.js").then((index) => void (globalThis.index = index))');
    const [own, bare] = await page.evaluate(async (queries) => {
      const middle = (times: number[]) => times.sort((a, b) => a - b)[times.length >> 1]!;
      const count = document.querySelector(".found-count")!;
      const box = document.querySelector<HTMLInputElement>("#find-page")!;
      const index = (globalThis as unknown as { index: { search(query: string): Promise<unknown> } }).index;
      const times: { own: number[]; bare: number[] } = { own: [], bare: [] };
      for (const query of queries) {
        count.textContent = "";
        box.value = query;
        const start = performance.now();
        box.form!.requestSubmit();
        while (count.textContent === "") await new Promise((done) => setTimeout(done));
        times.own.push(performance.now() - start);
        const asked = performance.now();
        await index.search(query);
        times.bare.push(performance.now() - asked);
      }
      return [middle(times.own), middle(times.bare)] as const;
    }, typed);
    process.stdout.write(`As one types: ${own.toFixed(1)} ms; a bare question to the index: ${bare.toFixed(1)} ms\n`);
    expect(own).toBeLessThanOrEqual(Math.max(50, 2 * bare));
  }, 60_000);

  it("says so when it has put a word right, and lets the reader insist", async () => {
    await resultsOf("newbron capsule");
    expect(await page.$eval(".found-count", (place) => place.textContent)).toContain(
      "Showing results for newborn capsule",
    );
    expect(await page.$eval(".found-count button", (button) => button.textContent)).toContain("newbron capsule");
  }, 20_000);
});
