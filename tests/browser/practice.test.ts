/**
 * Study and practice on the built demo, as a new starter meets them: by keyboard, with and without scripts, coming back
 * after a change.
 */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("study and practice", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-practice-"));
  let served: Served, browser: Browser, page: Page;
  const wrong: string[] = [];
  const words = (selector: string) => page.$eval(selector, (place) => (place as HTMLElement).innerText);
  const open = (path: string) => page.goto(served.address + path, { waitUntil: "load" });
  /** Waits until the focus is on a part of the page; fails if it does not get there. */
  const focused = (part: string) =>
    page.waitForFunction(
      (name) => document.activeElement?.getAttribute("data-practice") === name,
      { timeout: 10_000 },
      part,
    );

  beforeAll(async () => {
    served = await serveSite(site!, 0);
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
    rmSync(work, { recursive: true, force: true });
  }, 60_000);
  beforeEach(async () => {
    await page?.close();
    page = await newQuietPage(browser);
    page.on("pageerror", (error) => wrong.push(String(error)));
    page.on("console", (message) => {
      if (message.type() === "error") wrong.push(message.text());
    });
  });

  it("answers a round with the keyboard alone, the question being announced by focus", async () => {
    await open("tern/practise/");
    await page.waitForSelector("[data-practice=home]", { visible: true });
    await page.focus("[data-practice=refresher]");
    await page.keyboard.press("Enter");
    for (let asked = 0; asked < 3; asked++) {
      await focused("prompt");
      const lines = (await page.$$(".line")).length;
      await page.keyboard.press("Tab");
      if (lines)
        for (let line = 0; line < lines; line++) {
          await page.keyboard.press("Space");
          await page.keyboard.press("Tab");
        }
      else {
        await page.keyboard.press("Space");
        await page.keyboard.press("Tab");
      }
      await page.keyboard.press("Enter");
      await page.waitForSelector("[data-practice=next]", { visible: true });
      await focused("next");
      expect(await words("[data-practice=because]")).not.toBe("");
      await page.keyboard.press("Enter");
    }
  }, 60_000);

  it("says that the questions did not come where they do not, and where there is a paper", async () => {
    await page.setRequestInterception(true);
    page.on("request", (request) => (request.url().endsWith("/questions.js") ? request.abort() : request.continue()));
    await open("tern/practise/");
    const lost = await page.waitForSelector("[data-practice=lost]", { visible: true });
    expect(await lost!.evaluate((place) => (place as HTMLElement).innerText)).toMatch(
      /^The questions did not come\..*printed paper/,
    );
    expect(await page.$eval("[data-practice=home]", (place) => place.checkVisibility())).toBe(false);
    // The browser itself says that a file did not come; nothing else went wrong.
    expect(wrong.splice(0).filter((line) => !/ERR_FAILED/.test(line))).toEqual([]);
  });

  it("says what has changed since it was studied, which answers are void, and forgets them when asked", async () => {
    const bank = readFileSync(join(site!, "tern/practise/questions.js"), "utf8");
    const { documents } = JSON.parse(bank.slice(bank.indexOf("{"), bank.lastIndexOf("}") + 1)) as {
      documents: { kind: string; id: string; title: string; revision: number }[];
    };
    const changed = documents.find(({ kind, revision }) => kind === "procedure" && revision > 1)!;
    const card = {
      due: "2026-01-01T00:00:00Z",
      stability: 3,
      difficulty: 5,
      elapsed_days: 0,
      scheduled_days: 3,
      learning_steps: 0,
      reps: 2,
      lapses: 0,
      state: 2,
      last_review: "2025-12-29T00:00:00Z",
    };
    const file = join(work, "practice.json");
    writeFileSync(
      file,
      JSON.stringify({
        form: "rerig practice 1",
        exported: "2026-01-01T00:00:00Z",
        studied: [
          {
            key: `tern procedure ${changed.id}`,
            title: changed.title,
            revision: changed.revision - 1,
            at: "2026-01-01T00:00:00Z",
          },
        ],
        kept: [
          {
            id: `tern/${changed.id}/next/00000000`,
            platform: "tern",
            document: `procedure ${changed.id}`,
            title: changed.title,
            revision: changed.revision - 1,
            prompt: "What came next in the old revision?",
            answered: 2,
            missed: 0,
            card,
          },
        ],
      }),
    );
    await open("tern/practise/");
    await (await page.$("input[data-practice=import]"))!.uploadFile(file);
    await page.waitForSelector("[data-practice=changes]", { visible: true });
    const text = await words("[data-practice=changes]");
    expect(text).toContain(`is now revision ${changed.revision}; you studied revision ${changed.revision - 1}.`);
    expect(text).toContain("One of your answers is void");
    expect(text).toContain("What came next in the old revision?");
    await open("tern/study/");
    expect(await words(`[data-document="procedure ${changed.id}"]`)).toContain(
      `Studied in revision ${changed.revision - 1}: changed since`,
    );
    await open("tern/practise/");
    await page.waitForSelector("[data-practice=changes] button", { visible: true });
    await page.click("[data-practice=changes] button");
    await page.waitForFunction(() => !/void/.test(document.querySelector("[data-practice=changes]")!.textContent!));
    for (let press = 0; press < 2; press++) await page.click("[data-practice=reset]");
    await page.waitForFunction(() => /Forgotten/.test(document.querySelector("[data-practice=said]")!.textContent!));
    expect(await words("[data-practice=record]")).toBe("Nothing yet.");
  }, 60_000);

  it("saves what was answered as a file that another device can take in", async () => {
    await open("tern/practise/");
    const client = await page.createCDPSession();
    await client.send("Browser.setDownloadBehavior", { behavior: "allow", downloadPath: work });
    await page.waitForSelector("[data-practice=home]", { visible: true });
    await page.click("[data-practice=export]");
    await page.waitForFunction(() =>
      /Saved as practice-tern-/.test(document.querySelector("[data-practice=said]")!.textContent!),
    );
    let name: string | undefined;
    for (let tries = 0; tries < 50 && !name; tries++) {
      name = readdirSync(work).find((each) => /^practice-tern-.*\.json$/.test(each));
      await new Promise((done) => setTimeout(done, 100));
    }
    expect(JSON.parse(readFileSync(join(work, name!), "utf8"))).toMatchObject({ form: "rerig practice 1" });
  }, 60_000);

  it("shows one step at a time, hides the reason until it is asked for, and keeps that it was studied", async () => {
    await open("tern/study/seat-capsule/");
    const shown = () =>
      page.$$eval("[data-lesson-step]", (steps) =>
        steps.filter((step) => !(step as HTMLElement).hidden).map(({ id }) => id),
      );
    expect(await shown()).toEqual(["step-1"]);
    expect(await page.$eval("#step-1 details", (details) => (details as HTMLDetailsElement).open)).toBe(false);
    await page.click("#step-1 summary");
    expect(await page.$eval("#step-1 details", (details) => (details as HTMLDetailsElement).open)).toBe(true);
    const steps = (await page.$$("[data-lesson-step]")).length;
    for (let step = 1; step < steps; step++) {
      await page.click("[data-lesson-on]");
      await page.waitForFunction((id) => !document.getElementById(id)!.hidden, {}, `step-${step + 1}`);
    }
    expect(await shown()).toEqual([`step-${steps}`]);
    await page.goBack();
    expect(await shown()).toEqual([`step-${steps - 1}`]);
    await page.click("[data-lesson-all]");
    expect(await shown()).toHaveLength(steps);
    await open("tern/study/");
    await page.waitForFunction(() =>
      /Studied \d/.test(document.querySelector("[data-document='procedure seat-capsule'] [data-been]")!.textContent!),
    );
    expect(await words("[data-document='procedure hearing-protection'] [data-been]")).toBe("");
  }, 60_000);

  it("makes the same paper for the same number, another for another, and the built one for 1", async () => {
    const paper = async (path: string) => {
      await open("tern/practise/");
      await open(`tern/practise/paper/${path}`);
      return { asked: await words("[data-paper=questions]"), key: await words("[data-paper=key]") };
    };
    const built = await paper("");
    const [first, again, other] = [await paper("#paper=17"), await paper("#paper=17"), await paper("#paper=18")];
    expect(again).toEqual(first);
    expect(other.asked).not.toBe(first.asked);
    expect(await paper("#paper=1")).toEqual(built);
    await page.click("[data-paper=seed]", { count: 3 });
    await page.type("[data-paper=seed]", "17\n");
    await page.waitForFunction(
      (text) => (document.querySelector("[data-paper=key]") as HTMLElement).innerText === text,
      {},
      first.key,
    );
  }, 60_000);

  it("needs no script to study, to read a paper with its answers, and to print a record", async () => {
    await page.setJavaScriptEnabled(false);
    await open("tern/study/seat-capsule/");
    expect(
      await page.$$eval("[data-lesson-step]", (steps) => steps.every((step) => (step as HTMLElement).offsetHeight > 0)),
    ).toBe(true);
    await open("tern/practise/paper/");
    expect(await page.$$eval("[data-paper=questions]>li", (questions) => questions.length)).toBe(20);
    expect(await page.$$eval("[data-paper=key]>li", (answers) => answers.length)).toBe(20);
    await open("tern/practise/");
    expect(await words("main")).toContain("need a script");
    await open("tern/sign-off/seat-capsule/");
    expect(await words("main")).toMatch(/check code [0-9A-Z]{4}-[0-9A-Z]{2}/);
  }, 60_000);

  it("keeps no weight and no patient: only practice, the theme and the saved set", async () => {
    await open("");
    await page.type("#weight", "7.2");
    await page.click(".units label:has([value=kg])");
    await open("tern/practise/");
    const keys = await page.evaluate(async () => ({
      local: Object.keys(localStorage),
      session: Object.keys(sessionStorage),
      cookies: document.cookie,
      databases: (await indexedDB.databases()).map(({ name }) => name),
    }));
    expect(keys).toEqual({
      local: keys.local.filter((key) => ["rerig-theme", "rerig-keep/"].includes(key)),
      session: [],
      cookies: "",
      databases: ["rerig-practice/"],
    });
  }, 60_000);

  it("never let a page throw or break its policy", () => expect(wrong).toEqual([]));
});
