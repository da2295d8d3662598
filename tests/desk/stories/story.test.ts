/**
 * A new educator at the desk, in a real browser: from the starter collection to a procedure of six steps with a move,
 * turns and a check, without typing any syntax; what is changed elsewhere meanwhile is never lost. The collection is
 * invented; what the file says is compared with what an author would write by hand.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contentHash } from "../../../src/desk/disk/keep-states.ts";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { forScreens, openBrowser } from "../../site/find-browser.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);

describe.skipIf(!browserPath)("a new educator at the desk", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-story-")),
    folder = join(work, "ours"),
    file = join(folder, "trolley/lock-the-deck.mdx");
  let desk: Desk, browser: Browser, page: Page;
  let actions = 0;
  const wrong: string[] = [];
  beforeAll(async () => {
    cpSync(resolve(import.meta.dirname, "../../../src/starter"), folder, { recursive: true });
    desk = await openDesk(folder, 0);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    await page.setViewport({ width: 1280, height: 900 });
    await page.setBypassCSP(true);
    page.on("pageerror", (error) => wrong.push(String(error)));
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    rmSync(work, { recursive: true });
  });

  const press = async (selector: string) => {
    actions += 1;
    await page.locator(selector).click();
  };
  const type = async (selector: string, text: string) => {
    actions += 1;
    await page.locator(selector).click();
    await page.keyboard.type(text);
  };
  const choose = async (selector: string, value: string) => {
    actions += 1;
    await page.select(selector, value);
  };
  /** Till the file says it, the desk has said it, and the live page has been loaded again. */
  const saved = async (what: RegExp) => {
    await expect.poll(() => readFileSync(file, "utf8"), { timeout: 60_000 }).toMatch(what);
    await page.waitForFunction(() => document.querySelector("#said")?.textContent === "Saved", { timeout: 60_000 });
  };
  /** Till the screen shows a state of the file that another editor has written. */
  const heard = (text: string) =>
    page.waitForFunction(
      (hash) => document.querySelector<HTMLElement>("[data-file]")?.dataset["hash"] === hash,
      { timeout: 60_000 },
      contentHash(text),
    );
  const stepsShown = (count: number) =>
    page.waitForFunction(
      (wanted) => document.querySelectorAll("li.step").length === wanted,
      { timeout: 60_000 },
      count,
    );

  it("begins a procedure and writes six steps, without any syntax and without the command line", async () => {
    const began = Date.now();
    await page.goto(desk.address, { waitUntil: "load" });
    await press("#new-trolley summary");
    await type("#new-trolley [name=title]", "Lock the deck");
    await type("#new-trolley [name=code]", "OUR-9");
    await type("#new-trolley [name=purpose]", "Leaves the empty deck locked.");
    await Promise.all([page.waitForNavigation(), press("#new-trolley button[type=submit]")]);
    const steps = [
      "Bring the small seat to the trolley.",
      "Press the lever up with a flat hand.",
      "Set the small seat down on the deck.",
      "Press the lever down until it clicks.",
      "Pull on the small seat with both hands.",
      "Say “locked” to the others.",
    ];
    for (const [at, text] of steps.entries()) {
      if (at === 0) await press("#insert-end summary");
      else if ((await page.$("#insert-end[open]")) === null) await press("#insert-end summary");
      await type("#insert-end textarea", text);
      await press("#insert-end button[type=submit]");
      await saved(new RegExp(text.slice(0, 12)));
      await stepsShown(at + 1);
    }
    await press("#step-2 > details > summary");
    await press("#add-2 > summary");
    await choose("#add-2 form:nth-of-type(2) [name=turn]", "deck-lever released");
    await press("#add-2 form:nth-of-type(2) button");
    await saved(/::turn\{fastening=deck-lever to=released\}/);
    await press("#step-4 > details > summary");
    await press("#step-4 .ticks input");
    await saved(/\{by=both critical\}\nPress the lever down/);
    await press("#add-4 > summary");
    await type("#add-4 form:nth-of-type(3) [name=text]", "Deck lever");
    await type("#add-4 form:nth-of-type(3) [name=answer]", "down, no red");
    await press("#add-4 form:nth-of-type(3) button");
    await saved(/::check\[Deck lever\]\{answer="down, no red"\}/);
    const minutes = (Date.now() - began) / 60_000;
    console.info(`${actions} actions, ${minutes.toFixed(1)} min in all, the machine's time included`);
    expect(readFileSync(file, "utf8")).toMatch(/^---\ntitle: Lock the deck\ncode: OUR-9\nrevision: 1\nstatus: draft\n/);
    // The live page says it too, in its frame.
    const frame = await (await page.$("#page iframe"))!.contentFrame();
    await frame.waitForFunction(() => document.body?.innerText.includes("Pull on the small seat"), { timeout: 60_000 });
  }, 600_000);

  it("puts a step in its place, takes a change back, and does it again", async () => {
    const before = readFileSync(file, "utf8");
    await page.evaluate(() =>
      document.querySelectorAll("details[name=step]").forEach((each) => each.removeAttribute("open")),
    );
    await press("#step-6 > details > summary");
    await press('#step-6 button[aria-label="Move up: step 6"]');
    await expect.poll(() => readFileSync(file, "utf8"), { timeout: 60_000 }).not.toBe(before);
    const after = readFileSync(file, "utf8");
    expect(after.indexOf("Say “locked”")).toBeLessThan(after.indexOf("Pull on"));
    await press("[data-again=undo]");
    await expect.poll(() => readFileSync(file, "utf8"), { timeout: 60_000 }).toBe(before);
    await press("[data-again=redo]");
    await expect.poll(() => readFileSync(file, "utf8"), { timeout: 60_000 }).toBe(after);
  }, 300_000);

  it("puts nothing that was begun at a step into another one, when the steps are moved meanwhile", async () => {
    await page.goto(`${desk.address}procedures/trolley/lock-the-deck/`, { waitUntil: "load" });
    const before = readFileSync(file, "utf8"),
      warning = "#add-3 form.warning";
    await press("#step-3 > details > summary");
    await press("#add-3 > summary");
    await type(`${warning} textarea`, "Fingers");
    await press("#step-2 > details > summary");
    await press('#step-2 button[aria-label="Move up: step 2"]');
    await saved(/lever up[^]*Bring the small seat/);
    await press('#step-2 > details button[aria-label="Move down: step 2"]');
    await saved(/Set the small seat[^]*Bring the small seat/);
    const moved = readFileSync(file, "utf8");
    await page.waitForFunction(() => document.querySelector("main")?.getAttribute("aria-busy") === "false");
    // What was third is second: what was begun there stands at another step.
    await press("#step-3 > details > summary");
    await press(`${warning} button`);
    await page.waitForFunction(() =>
      document.querySelector("#said.grave")?.textContent?.startsWith("Not saved: the steps"),
    );
    expect(readFileSync(file, "utf8")).toBe(moved);
    expect(await page.$eval(`${warning} textarea`, (each) => (each as HTMLTextAreaElement).value)).toBe("Fingers");
    // Emptied, it can be begun anew, and is that step's.
    await page.locator(`${warning} textarea`).click({ count: 3 });
    await page.keyboard.press("Backspace");
    await type(`${warning} textarea`, "Toes");
    await press(`${warning} button`);
    await saved(/Toes/);
    const after = readFileSync(file, "utf8");
    expect(after).not.toContain("Fingers");
    const [before3, written, next] = ["Set the small seat", "Toes", "Press the lever down"].map((each) =>
      after.indexOf(each),
    );
    expect([before3! < written!, written! < next!]).toEqual([true, true]);
    for (let times = 0; times < 3; times += 1) {
      const now = readFileSync(file, "utf8");
      await press("[data-again=undo]");
      await expect.poll(() => readFileSync(file, "utf8"), { timeout: 60_000 }).not.toBe(now);
      await page.waitForFunction(() => document.querySelector("main")?.getAttribute("aria-busy") === "false");
    }
    expect(readFileSync(file, "utf8")).toBe(before);
  }, 300_000);

  it("never overwrites what another editor has changed meanwhile: both are shown, and the writer decides", async () => {
    await page.goto(`${desk.address}text/trolley/lock-the-deck.mdx`, { waitUntil: "load" });
    await page.locator("textarea").click();
    await page.keyboard.down("Control");
    await page.keyboard.press("End");
    await page.keyboard.up("Control");
    await page.keyboard.type("\nMine.\n");
    // Saved before the screen has heard of the other editor's change, and after: the second once lost their words.
    const theirs: string[] = [];
    for (const isHeard of [false, true]) {
      theirs.push(`${readFileSync(file, "utf8")}\nTheirs ${theirs.length}.\n`);
      writeFileSync(file, theirs.at(-1)!);
      if (isHeard) await heard(theirs.at(-1)!);
      await page.locator("form[data-whole] button").click();
      await page.waitForSelector("#elsewhere[open]", { timeout: 60_000 });
      const shown = await page.$$eval("#elsewhere pre", (all) => all.map((each) => each.textContent ?? ""));
      expect(shown[0]).toBe(theirs.at(-1));
      expect(shown[1]).toContain("Mine.");
      expect(readFileSync(file, "utf8")).toBe(theirs.at(-1));
      await page.locator("#elsewhere [value=theirs]").click();
      await page.waitForSelector("#elsewhere:not([open])", { timeout: 60_000 });
      expect(readFileSync(file, "utf8")).toBe(theirs.at(-1));
    }
    // The writer may still put in what was written: the form has kept it.
    await page.locator("form[data-whole] button").click();
    await page.locator("#elsewhere[open] [value=mine]").click();
    await expect.poll(() => readFileSync(file, "utf8"), { timeout: 60_000 }).toMatch(/Mine\.\s*$/);
  }, 300_000);

  it("puts no words into a step that another editor has moved there meanwhile", async () => {
    // Before the screen has heard of it, and after.
    for (const isHeard of [false, true]) {
      await page.goto(`${desk.address}procedures/trolley/lock-the-deck/`, { waitUntil: "load" });
      await page.locator("#step-2 > details > summary").click();
      const field = "#step-2 textarea";
      await page.locator(field).click();
      await page.keyboard.type("Mine: ");
      const steps = readFileSync(file, "utf8").split(/(?=^:::+step)/m),
        [head, first, second, ...rest] = steps;
      const theirs = [head, second, first, ...rest].join("");
      expect([steps.length > 3, theirs.length]).toEqual([true, steps.join("").length]);
      writeFileSync(file, theirs);
      if (isHeard) await heard(theirs);
      await page.keyboard.press("Tab");
      await page.waitForFunction(
        () => document.querySelector("#said")?.textContent.includes("it is at another step now"),
        { timeout: 60_000 },
      );
      expect(await page.$("#elsewhere[open]")).toBeNull();
      expect(readFileSync(file, "utf8")).toBe(theirs);
      writeFileSync(file, steps.join(""));
      await heard(steps.join(""));
    }
  }, 300_000);

  it("never overwrites a step that another editor changed while it was being written here", async () => {
    await page.goto(`${desk.address}procedures/trolley/lock-the-deck/`, { waitUntil: "load" });
    await page.locator("#step-1 > details > summary").click();
    const field = "#step-1 textarea";
    await page.locator(field).click();
    await page.keyboard.type("Mine: ");
    const before = readFileSync(file, "utf8"),
      theirs = before.replace("Bring the small seat", "Theirs: fetch the small seat");
    expect(theirs).not.toBe(before);
    writeFileSync(file, theirs);
    await heard(theirs);
    await page.keyboard.press("Tab");
    await page.waitForSelector("#elsewhere[open]", { timeout: 60_000 });
    expect(readFileSync(file, "utf8")).toBe(theirs);
    await page.locator("#elsewhere [value=theirs]").click();
    await page.waitForFunction(
      (selector) => document.querySelector<HTMLTextAreaElement>(selector)?.value.startsWith("Theirs: fetch"),
      { timeout: 60_000 },
      field,
    );
    expect(readFileSync(file, "utf8")).toBe(theirs);
    // What is written next rests on what is shown now, one save after the other without a question.
    await page.locator(field).click();
    for (const words of ["Once ", "Twice "]) {
      await page.keyboard.type(words);
      await page.keyboard.press("Tab");
      await saved(new RegExp(words.trim()));
      await page.locator(field).click();
    }
    expect(await page.$("#elsewhere[open]")).toBeNull();
  }, 300_000);

  it("shows what another editor has changed wherever the focus is, on nothing and on a summary too", async () => {
    await page.goto(`${desk.address}procedures/trolley/lock-the-deck/`, { waitUntil: "load" });
    for (const [at, focused] of ["main", "summary", "button", "a"].entries()) {
      // Who presses beside all controls puts the focus on the screen as a whole.
      if (at === 0) await page.locator(".desk-title h1").click();
      else await page.$eval(`main ${focused}`, (each) => (each as HTMLElement).focus());
      expect(await page.evaluate(() => document.activeElement?.localName)).toBe(focused);
      const text = readFileSync(file, "utf8").replace(/^title: .*$/m, `title: Lock the deck, ${at}`);
      writeFileSync(file, text);
      await heard(text);
      expect(await page.$eval("main h1", (title) => title.textContent)).toBe(`Lock the deck, ${at}`);
    }
  }, 300_000);

  it("has no script that fails", () => {
    expect(wrong).toEqual([]);
  });
});
