/**
 * A new educator, in a real browser, from what `rerig new` writes to an approved and issued procedure of six steps
 * with moves, turns, a check and three photos with marks; then remarked on, changed, approved by another role and
 * issued again: without any syntax and without the command line; with a pointer, and by keyboard alone (WCAG 2.2,
 * 2.1.1). The collection is invented; what is issued is read back with the same `rerig check` as any other.
 */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { openBrowser } from "../../site/find-browser.ts";
import { runHere } from "../../commands/run-here.ts";
import { byKeyboard, withPointer } from "./hands.ts";
import { phonePicture } from "./photo-acts.ts";

const browserPath = process.env["RERIG_BROWSER"];
const TODAY = process.env["RERIG_TODAY"] ?? new Date().toISOString().slice(0, 10);

/** A busy machine needs minutes for what a quiet one shows at once. */
const PATIENCE_MS = 240_000;

const STEPS = [
  "Turn the deck lever up until the red mark shows.",
  "Lift the small seat off the deck by its two grips.",
  "Wipe the small seat from the head end to the foot end.",
  "Wipe the deck with a second cloth.",
  "Lift the small seat on to the deck by its two grips.",
  "Turn the deck lever down until it stops.",
];

/** Step, what its photo shows, and what its mark points at. */
const PHOTOS = [
  [1, "The deck lever up, its red mark showing", "Red mark"],
  [2, "The small seat held by its two grips over the deck", "Grip"],
  [6, "The deck lever down and flat", "Lever"],
] as const;

// By keyboard each act once is enough, so one photo: to take in three is to press the same keys three times.
describe.skipIf(!browserPath).each([
  ["with a pointer", withPointer, PHOTOS],
  ["by keyboard alone", byKeyboard, PHOTOS.slice(0, 1)],
] as const)("from nothing to an issued procedure, %s", (way, handsOn, photos) => {
  const work = mkdtempSync(join(tmpdir(), "rerig-whole-")),
    folder = join(work, "ours"),
    file = join(folder, "trolley/wash-the-small-seat.mdx");
  let desk: Desk, browser: Browser, page: Page;
  const wrong: string[] = [];
  beforeAll(async () => {
    await runHere(["new", folder], TODAY);
    for (const [at] of photos.entries()) writeFileSync(join(work, `IMG_${at}.JPG`), await phonePicture(60 + 70 * at));
    desk = await openDesk(folder, 0);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    await page.setViewport({ width: 1280, height: 900 });
    page.on("pageerror", (error) => wrong.push(String(error)));
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    rmSync(work, { recursive: true });
  });

  const text = () => readFileSync(file, "utf8");
  const saysNow = async (what: RegExp) => expect.poll(text, { timeout: PATIENCE_MS }).toMatch(what);
  const isSaved = () =>
    page.waitForFunction(() => document.querySelector("#said")?.textContent?.startsWith("Saved"), {
      timeout: PATIENCE_MS,
    });
  const shows = (selector: string) => page.waitForSelector(selector, { timeout: PATIENCE_MS });

  it("is written, handed in, remarked on, approved, issued; changed, approved by another role, issued", async () => {
    const hands = handsOn(page),
      began = Date.now();
    const go = async (selector: string, to: string) => {
      await hands.press(selector);
      await page.waitForFunction((part) => location.href.includes(part), { timeout: PATIENCE_MS }, to);
      await shows("main h1");
    };
    const approveAndIssue = async (revision: number, role: string) => {
      await hands.type("#approve [name=role]", role);
      await hands.press("#approve button");
      await saysNow(new RegExp(`approved-by: ${role}\n`));
      await shows("#issue");
      await hands.press("#issue button");
      await shows("#raise");
      expect(existsSync(join(folder, `issued/trolley/wash-the-small-seat@${revision}.json`))).toBe(true);
    };
    await page.goto(desk.address, { waitUntil: "load" });
    await hands.press("#new-trolley summary");
    await hands.type("#new-trolley [name=title]", "Wash the small seat");
    await hands.type("#new-trolley [name=code]", "OUR-9");
    await hands.type("#new-trolley [name=purpose]", "Leaves the small seat clean and locked in.");
    await go("#new-trolley button[type=submit]", "procedures/trolley/wash-the-small-seat/");
    for (const [at, words] of STEPS.entries()) {
      if ((await page.$("#insert-end[open]")) === null) await hands.press("#insert-end > summary");
      await hands.type("#insert-end textarea", words);
      await hands.choose("#insert-end select", at === 1 || at === 4 ? "both" : "lead");
      await hands.press("#insert-end button[type=submit]");
      await saysNow(new RegExp(words));
      await shows(`#step-${at + 1}`);
      await isSaved();
    }
    const inStep = async (step: number, act: () => Promise<void>, what: RegExp) => {
      if ((await page.$(`#step-${step} > details[open]`)) === null)
        await hands.press(`#step-${step} > details > summary`);
      await act();
      await saysNow(what);
      await isSaved();
    };
    const part = (step: number, name: string) => `#add-${step} form.${name}`;
    const open = async (step: number) => {
      if ((await page.$(`#add-${step}[open]`)) === null) await hands.press(`#add-${step} > summary`);
    };
    const turn = (step: number, state: string) => async () => {
      await open(step);
      await hands.choose(`${part(step, "turn")} [name=turn]`, `deck-lever ${state}`);
      await hands.press(`${part(step, "turn")} button`);
    };
    const move = (step: number, from: string, to: string) => async () => {
      await open(step);
      await hands.choose(`${part(step, "move")} [name=item]`, "small-seat");
      await hands.choose(`${part(step, "move")} [name=from]`, from);
      await hands.choose(`${part(step, "move")} [name=to]`, to);
      await hands.press(`${part(step, "move")} button`);
    };
    await inStep(1, turn(1, "released"), /::turn\{fastening=deck-lever to=released\}/);
    await inStep(2, move(2, "deck", "store"), /::move\{item=small-seat from=deck to=store\}/);
    await inStep(5, move(5, "store", "deck"), /::move\{item=small-seat from=store to=deck\}/);
    await inStep(6, turn(6, "locked"), /::turn\{fastening=deck-lever to=locked\}/);
    await inStep(6, () => hands.press("#step-6 .ticks input"), /critical\}\nTurn the deck lever down/);
    await inStep(
      6,
      async () => {
        await open(6);
        await hands.type(`${part(6, "check")} [name=text]`, "Deck lever");
        await hands.type(`${part(6, "check")} [name=answer]`, "handle flat, red mark hidden");
        await hands.choose(`${part(6, "check")} [name=by]`, "second");
        await hands.press(`${part(6, "check")} button`);
      },
      /::check\[Deck lever\]\{by=second answer="handle flat, red mark hidden"\}|::check\[Deck lever\]\{answer="handle flat, red mark hidden" by=second\}/,
    );
    for (const [at, [step, shown, mark]] of photos.entries()) {
      const take = `#take-${step}`,
        photo = `wash-the-small-seat-${at + 1}`;
      await inStep(
        step,
        async () => {
          if ((await page.$(`${take}[open]`)) === null) await hands.press(`${take} > summary`);
          await hands.bring(`${take} input[type=file]`, join(work, `IMG_${at}.JPG`));
          await hands.type(`${take} textarea`, shown);
          await hands.press(`${take} button[type=submit]`);
        },
        new RegExp(`photo=${photo}\\}|photo=${photo} `),
      );
      await go(`#step-${step} a[href*='${photo}/']`, `photos/trolley/${photo}/`);
      await hands.press("#begin-mark");
      await hands.type("#new-mark [name=label]", mark);
      await hands.press("#new-mark button[type=submit]");
      await expect
        .poll(() => readFileSync(join(folder, `trolley/photos/${photo}.yaml`), "utf8"), { timeout: PATIENCE_MS })
        .toBe(`alt: ${shown}\ntaken: 2026-05-07\nmarks:\n  - { n: 1, x: 0.5, y: 0.5, label: ${mark} }\n`);
      await go(".desk-title a[href*='procedures/']", "procedures/trolley/wash-the-small-seat/");
    }
    const written = { actions: hands.actions(), minutes: (Date.now() - began) / 60_000 };

    await go(".desk-title a[href*='review/']", "review/trolley/wash-the-small-seat/");
    await hands.type("#hand-in [name=owner]", "Clinical educator");
    await hands.press("#hand-in button");
    await saysNow(/status: in review/);
    // The reviewer, at step 3: it holds the approval up until it is answered.
    await shows("#approve");
    await hands.press("#step-3 summary");
    await hands.type("#step-3 [name=by]", "Crew member");
    await hands.type("#step-3 [name=text]", "Which cloth?");
    await hands.press("#step-3 form[data-send=remark] button");
    await shows("#step-3 .remark.open");
    const review = join(folder, "reviews", readdirSync(join(folder, "reviews"))[0]!);
    expect(readFileSync(review, "utf8")).toBe(
      `document: trolley/wash-the-small-seat\nrevision: 1\nremarks:\n` +
        `  - { step: 3, by: Crew member, date: ${TODAY}, text: Which cloth? }\n`,
    );
    await hands.type("#approve [name=role]", "Lead nurse");
    await hands.press("#approve button");
    await page.waitForFunction(() => document.querySelector("#said.grave") !== null, { timeout: PATIENCE_MS });
    expect(await page.$eval("#said", (each) => each.textContent)).toMatch(/One remark has no answer: Crew member/);
    await hands.type("#step-3 [name=answer]", "Any damp one: it says so now.");
    await hands.press("#step-3 form[data-send=answer] button");
    await shows("#step-3 .remark.held");
    // The author may not approve.
    await hands.type("#approve [name=role]", "clinical  educator");
    await hands.press("#approve button");
    await page.waitForFunction(
      () => document.querySelector("#said")?.textContent?.includes("Somebody else approves it"),
      { timeout: PATIENCE_MS },
    );
    await approveAndIssue(1, "Lead nurse");
    const issued = { actions: hands.actions(), minutes: (Date.now() - began) / 60_000 };

    await hands.type("#raise [name=summary]", "The cloth is a damp one");
    await hands.press("#raise button");
    await saysNow(/revision: 2/);
    expect(text()).toMatch(/status: draft/);
    expect(text()).not.toMatch(/^(?:approved-by|effective):/m);
    await shows("#hand-in");
    await go(".desk-title a[href*='procedures/']", "procedures/trolley/wash-the-small-seat/");
    await inStep(
      3,
      async () => {
        await hands.type("#step-3 .fields > .field textarea", "Wipe the small seat with a damp cloth.");
        await hands.press("#step-4 > details > summary");
      },
      /with a damp cloth/,
    );
    await go(".desk-title a[href*='review/']", "review/trolley/wash-the-small-seat/");
    await hands.press("#hand-in button");
    await saysNow(/status: in review/);
    await shows("#approve");
    await approveAndIssue(2, "Ward manager");
    const say = ({ actions, minutes }: typeof issued) => `${actions} actions, ${minutes.toFixed(1)} min`;
    console.info(
      `${way}: written after ${say(written)}; approved and issued after ${say(issued)}; changed, approved and issued ` +
        `again after ${say({ actions: hands.actions(), minutes: (Date.now() - began) / 60_000 })} (the machine's time)`,
    );
    const { status } = await runHere(["check", "--procedures", folder], TODAY);
    expect(status).toBe(0);
    expect(wrong).toEqual([]);
  }, 1_800_000);
});
