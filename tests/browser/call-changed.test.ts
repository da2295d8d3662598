/**
 * The call changes in the middle of a changeover on the built demo, the network cut: the way from exactly there is what
 * the engine itself works out, is led through to its end, survives a reload, and the call may change again.
 */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { arrangementNamed } from "../../src/domain/states/changeover.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { plansBetween } from "../../src/domain/time/plans.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import { begunAt, plansFromHere } from "../../src/domain/tonight/from-here.ts";
import { MASS_PER_KG } from "../../src/schema/units.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { readCollection } from "../read-collection.ts";

/** The patient of the changeover that is stopped. */
const SEVEN = { weight: (72n * MASS_PER_KG) / 10n };
/** How many steps are done then: those that confirm the patient, and eight more. */
const STOP = 14;

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("the call has changed", () => {
  let served: Served, browser: Browser, page: Page;
  const stopped: string[] = [];
  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
  });
  beforeEach(async () => {
    await page?.close();
    stopped.length = 0;
    page = await newQuietPage(browser);
    await page.setViewport({ width: 390, height: 844 });
    page.on("console", (message) => message.type() === "error" && stopped.push(message.text()));
    page.on("pageerror", (error) => stopped.push(String(error)));
    await page.goto(served.address, { waitUntil: "load" });
    await page.evaluate(() => localStorage.clear());
  });
  const open = (address: string) => page.goto(served.address + address, { waitUntil: "load" });
  const text = (selector: string) =>
    page.$eval(selector, (place) =>
      (place as HTMLElement).hidden ? "" : (place as HTMLElement).innerText.replace(/\s+/g, " ").trim(),
    );
  const press = (selector: string) => page.$eval(selector, (place) => (place as HTMLElement).click());
  const goOn = async () => {
    await page.$$eval(".th-pin[aria-pressed=false]", (pins) => pins.forEach((pin) => (pin as HTMLElement).click()));
    await press(".th-next");
  };
  const change = async (label: string) => {
    await press(".th-changed button");
    await page.$$eval(
      ".th-choices a",
      (links, wanted) => links.find((link) => link.textContent === wanted)!.setAttribute("id", "way-on"),
      label,
    );
    await page.click("#way-on");
    await page.waitForSelector(".half-built:not([hidden])");
  };
  /** What the engine answers from the files, outside any browser: the texts of the steps, in the order of the walk. */
  const expected = async (
    pair: readonly [string, string],
    stop: number,
    to: string,
    next: Parameters<typeof plansFromHere>[4],
  ) => {
    const files = await readCollection(resolve(import.meta.dirname, "../../procedures"));
    const { platforms, service } = forceOn(files, "2026-11-28").collection,
      model = modelOf(platforms[0]!),
      roles = service.crew.map(({ id }) => id),
      [from, toward, end] = [...pair, to].map((name) => arrangementNamed(model, name)!);
    const inOrder = (changeover: NonNullable<ReturnType<typeof plansBetween>[number]["changeover"]>) =>
      planTimeline(changeover.steps, roles, model.platform, 0).steps.toSorted(
        (a, b) => a.start - b.start || a.index - b.index,
      );
    const { changeover } = plansBetween(model, service, from!, toward!, SEVEN)[0]!;
    const done = new Set(
      inOrder(changeover!)
        .slice(0, stop)
        .map(({ index }) => index),
    );
    const way = plansFromHere(model, service, begunAt(from!, changeover!.steps, done), end!, next)[0]!.changeover!;
    return { way, walk: inOrder(way).slice(0, -1) };
  };

  it("leads from exactly there to what the next patient needs, to the last step, without a network", async () => {
    const { way, walk } = await expected(["newborn-capsule", "child-cradle"], STOP, "newborn-capsule", {
      weight: (34n * MASS_PER_KG) / 10n,
    });
    expect(way.procedures.length).toBeGreaterThan(0);
    await open("tern/changeovers/newborn-capsule--child-cradle/#kg=7.2");
    await press("[data-step-through]");
    for (let step = 0; step < STOP; step += 1) await goOn();
    await change("Another patient");
    // The next patient is another one: no weight goes along.
    expect(new URL(page.url()).hash).not.toMatch(/kg=/);
    // The weight comes first: it decides which arrangement it is.
    expect(await text(".half-built")).toBe(
      `Half-built: ${STOP} steps done since newborn capsule. The way is worked out from exactly there. ` +
        "It stands in an arrangement again",
    );
    expect(await page.$$(".ask .next a")).toEqual([]);
    await page.type("#weight", "3.4");
    await press("[name=unit][value=kg]");
    if (await page.$eval(".sure", (place) => !(place as HTMLElement).hidden)) await press(".sure .yes");
    expect(await text(".answer")).toMatch(/^Newborn capsule/);
    await Promise.all([page.waitForNavigation(), press(".ask .next a.over")]);
    expect(await text(".half-built")).toMatch(
      new RegExp(`^Half-built: ${STOP} steps done since newborn capsule, the last of them step \\d`),
    );
    await page.setOfflineMode(true);
    expect(await text("#answer-of h2")).toBe("From here to newborn capsule");
    const address = page.url();
    await page.$$eval("#answer-of button", (all) =>
      (all.find((each) => each.textContent === "Step through it") as HTMLElement).click(),
    );
    const seen: string[] = [];
    while (!/th-count|th-end/.test(await page.$eval("#step", (place) => place.className))) {
      seen.push(await text(".th-no"));
      await goOn();
    }
    expect(seen).toEqual(walk.map(({ index }) => String(index + 1)));
    expect(await page.$$(".th-pin")).toHaveLength(way.parts.length);
    await goOn();
    expect(await text("#step")).toMatch(/The card decides: .*newborn capsule card/i);
    expect(address).toContain("begun=");
    await page.setOfflineMode(false);
  }, 120_000);

  it("marks what is walked back as worked out, keeps its place over a reload, and may change again", async () => {
    const { way } = await expected(["newborn-capsule", "child-cradle"], STOP, "newborn-capsule", "nobody");
    const back = way.steps.filter(({ procedure }) => procedure.id.startsWith("back/"));
    expect(back.length).toBeGreaterThan(0);
    await open("tern/changeovers/newborn-capsule--child-cradle/#kg=7.2");
    await press("[data-step-through]");
    for (let step = 0; step < STOP; step += 1) await goOn();
    // The platform waits in the newborn capsule: standing down leads there.
    await change("Stand down");
    expect(await text("#answer-of h2")).toBe("From here to newborn capsule");
    expect(await text("#answer-of .runs")).toContain("worked out, not written");
    await page.$$eval("#answer-of button", (all) =>
      (all.find((each) => each.textContent === "Step through it") as HTMLElement).click(),
    );
    expect(await text("#step")).toMatch(/Undo step \d+.*Worked out, not written/);
    await goOn();
    await page.reload({ waitUntil: "load" });
    expect(await text("#step h2")).toMatch(/^You were at step/);
    await press(".th-next");
    const undone = new URLSearchParams(new URL(page.url()).hash.slice(1)).get("begun")!;
    await change("Stand down");
    const again = new URLSearchParams(new URL(page.url()).hash.slice(1)).get("begun")!;
    // Step 3 was done, and is undone again.
    expect(undone).toMatch(/;unseat-capsule:1-3\/4-\d+$/);
    expect(again).toMatch(/;unseat-capsule:1-2\/3-\d+$/);
    expect(await text("#answer-of h2")).toBe("From here to newborn capsule");
    expect(stopped).toEqual([]);
  }, 120_000);

  it("asks for the weight before it answers for another patient", async () => {
    await open(
      "tern/changeovers/#from=newborn-capsule&begun=undress-capsule:1-6;unseat-capsule:1-3/4-6&to=child-cradle",
    );
    expect(await text("#answer-of")).toMatch(/^Which patient\? .*Enter the weight$/);
    expect(await page.$eval("#answer-of a", (link) => link.getAttribute("href"))).toMatch(
      /#from=newborn-capsule&begun=undress-capsule:1-6;unseat-capsule:1-3\/4-6$/,
    );
  });
  it("says so where the procedures are no longer those that were begun", async () => {
    await open("tern/changeovers/#from=newborn-capsule&begun=nothing-such:1-3/4&to=child-cradle");
    expect(await text("#answer-of")).toMatch(/^Not known here any more/);
  });
});
