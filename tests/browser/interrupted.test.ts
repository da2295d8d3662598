/**
 * A changeover interrupted in its middle, in a real browser with the clock moved over midnight: it stays open, or is
 * closed and opened again, while a temporary amendment begins, a revision takes effect or a newer set takes the place.
 * Nobody goes on at a step, or after one, that is no longer what it was without being told. Dates and words are
 * invented; that who was interrupted goes back and never on from memory is common practice, no source.
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { runHere } from "../commands/run-here.ts";
import { buildForTest } from "../builder/built-site.ts";
import { tellStory } from "../domain/force/eight-days.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { moveClock } from "./move-clock.ts";
import { SiteServer } from "./site-server.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

const PAIR = "sled/changeovers/vacuum-mattress--child-shell/",
  ASKED = "sled/changeovers/#from=vacuum-mattress&to=child-shell&step";
const AMENDED = "Warm both buckles with the hand, then open both bed straps.";
const head = (number: string, from: string, until: string) => `---
number: ${number}
title: Buckles of the batch of May
reason: Two buckles jammed in the cold
from: ${from}
until: ${until}
owner: Training officer
approved-by: Rescue lead
amends: [{ procedure: change-to-shell, revision: 1 }]
---
`;
/** Of the first step in June, and of the last in July. */
const FIRST = `${head("KRR-A7", "2026-06-08", "2026-06-19")}
:::step{replaces=open-straps by=tail critical takes="25 s" photo=bed}
${AMENDED}

::turn{fastening=bed-straps to=open}
::check[Bed straps]{by=leader answer="both open and warm"}
:::
`;
const LAST = `${head("KRR-A8", "2026-07-08", "2026-07-19")}
:::step{replaces=close-straps by=leader critical hold photo=bed}
Close both bed straps, and pull at each buckle.

::turn{fastening=bed-straps to=closed}
::check[Bed straps]{by=tail answer="both buckles closed, neither gives"}
:::
`;

describe.skipIf(!browserPath)("a changeover interrupted over midnight", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-interrupted-"));
  const [amended, old, anew] = ["amended", "old", "new"].map((name) => join(work, name)) as [string, string, string];
  const server = new SiteServer(amended);
  let browser: Browser, page: Page;

  beforeAll(async () => {
    const source = join(work, "collection");
    cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), source, { recursive: true });
    mkdirSync(join(source, "sled/amendments"));
    writeFileSync(join(source, "sled/amendments/first.mdx"), FIRST);
    writeFileSync(join(source, "sled/amendments/last.mdx"), LAST);
    const procedure = join(source, "sled/change-to-shell.mdx"),
      text = readFileSync(procedure, "utf8");
    writeFileSync(
      procedure,
      text.replace(":::step{by=leader critical hold", ":::step{#close-straps by=leader critical hold"),
    );
    expect((await runHere(["issue", "--procedures", source], "2026-01-12")).status).toBe(0);
    await buildForTest({ collectionFolder: source, outFolder: amended, on: "2026-06-01" });
    const story = join(work, "story");
    await tellStory(story, async (day) => {
      if (day === "2026-02-23") await buildForTest({ collectionFolder: story, outFolder: old, on: day });
      if (day === "2026-03-16") await buildForTest({ collectionFolder: story, outFolder: anew, on: day });
    });
    await server.start();
    browser = await openBrowser(browserPath!);
  }, 600_000);
  afterAll(async () => {
    await browser?.close();
    await server.stop();
    rmSync(work, { recursive: true, force: true });
  });
  beforeEach(async () => {
    await page?.browserContext().close();
    page = await newQuietPage(await browser.createBrowserContext(), "2026-01-20");
  });

  const open = async (path: string, moment: string) => {
    await page.evaluateOnNewDocument(moveClock, moment);
    await page.goto("about:blank");
    await page.goto(server.address + path, { waitUntil: "load" });
    await page.waitForFunction(() => !(document.querySelector("#step") as HTMLElement).hidden);
  };
  const said = () => page.$eval("#step", (place) => (place as HTMLElement).innerText.replaceAll(/\s+/g, " "));
  const press = (selector: string) => page.$eval(selector, (place) => (place as HTMLElement).click());
  const goOn = async () => {
    await page.$$eval(".th-pin[aria-pressed=false]", (pins) => pins.forEach((pin) => (pin as HTMLElement).click()));
    await press(".th-next");
  };
  /** Goes on until a step says this, and past it. */
  const goPast = async (words: string) => {
    for (let step = 0; step < 30; step += 1) {
      const isIt = (await said()).includes(words);
      await goOn();
      if (isIt) return;
    }
    throw new Error(`No step says ${words}`);
  };
  const number = () => page.$eval(".th-no", (place) => Number(place.textContent));

  it.each([
    ["of the pair", `${PAIR}#step`],
    ["that was asked for", ASKED],
  ])("%s, left open: a step that is done and was amended meanwhile is said, and it leads back", async (_, path) => {
    server.folder = amended;
    await open(path, "2026-06-07T23:50");
    await goPast("Open both bed straps.");
    const before = await number();
    await page.evaluate(moveClock, "2026-06-08T00:10");
    await goOn();
    expect(await said()).toMatch(/Steps that you have done are no longer the same as at 00:10/);
    expect(await said()).toContain(AMENDED);
    expect(await page.$(".th-no")).toBeNull();
    await press(".th-next");
    expect(await number()).toBeLessThan(before);
    await goPast(AMENDED);
  });

  it("closed and opened again: the same, though the numbers of the steps are the same", async () => {
    server.folder = amended;
    await open(`${PAIR}#step`, "2026-06-07T23:50");
    await goPast("Open both bed straps.");
    await goOn();
    await open(`${PAIR}#step`, "2026-06-08T00:10");
    expect(await said()).toMatch(/Steps that you have done are no longer the same as at 23:50/);
    expect(await said()).toContain(AMENDED);
    expect(await said()).not.toContain("Nothing came between");
  });

  it("of which only steps to come were amended: these are said, and it goes on as ever", async () => {
    server.folder = amended;
    await open(`${PAIR}#step`, "2026-07-07T23:50");
    await goPast("Open both bed straps.");
    await open(`${PAIR}#step`, "2026-07-08T00:10");
    expect(await said()).toContain("You were at");
    expect(await said()).toMatch(
      /Steps that are still to come are no longer the same\. As they stand now: .*pull at each/,
    );
    await press(".th-next");
    await goPast("pull at each buckle");
  });

  it("opened again on the same text: only whether anything came between is asked", async () => {
    server.folder = amended;
    await open(`${PAIR}#step`, "2026-06-07T22:50");
    await goPast("Open both bed straps.");
    await open(`${PAIR}#step`, "2026-06-07T23:50");
    expect(await said()).toContain("You were at");
    expect(await said()).not.toContain("no longer the same");
  });

  it("in a newer set with another revision: it says so, and does not begin at step 1 without a word", async () => {
    server.folder = old;
    await open(`${PAIR}#step`, "2026-03-15T23:50");
    for (let step = 0; step < 5; step += 1) await goOn();
    server.folder = anew;
    await open(`${PAIR}#step`, "2026-03-16T00:10");
    expect(await said()).toMatch(/no longer the same/);
    await press(".th-next");
    await page.reload({ waitUntil: "load" });
    expect(
      await page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("rerig-walk/"))),
    ).toHaveLength(1);
  });

  it("left open on a set of before: that it counts no more is said between two steps", async () => {
    server.folder = old;
    await open(`${PAIR}#step`, "2026-03-15T23:50");
    for (let step = 0; step < 3; step += 1) await goOn();
    await page.evaluate(moveClock, "2026-03-16T00:10");
    await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
    await goOn();
    expect(await said()).toMatch(/Since 16 Mar 2026 this no longer counts/);
  });

  it("left open while a newer set comes onto the device: it is said at the next step, and leads on in it", async () => {
    // One that keeps the set, as a crew's does.
    page = await page.browserContext().newPage();
    server.folder = old;
    await open(`${PAIR}#step`, "2026-03-15T23:50");
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null, { timeout: 60_000 });
    for (let step = 0; step < 3; step += 1) await goOn();
    expect(await said()).not.toMatch(/newer set/);
    server.folder = anew;
    await page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
    await page.waitForFunction(() => document.querySelector("saved-on-device button"), { timeout: 60_000 });
    await goOn();
    expect(await said()).toMatch(/A newer set is ready\. ?Use it now/);
    await Promise.all([page.waitForNavigation({ timeout: 60_000 }), press("#step .note button")]);
    await page.waitForFunction(() => !(document.querySelector("#step") as HTMLElement).hidden);
    expect(await said()).toMatch(/no longer the same/);
  }, 200_000);
});
