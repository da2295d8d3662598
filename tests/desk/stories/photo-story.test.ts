/**
 * Photos at the desk, in a real browser and under its own content policy: taken in at three steps, turned upright and
 * without what the camera says of itself, marked and cropped by pointer and by keyboard. What the files say is compared
 * with what an author would write by hand; axe on the screen (WCAG 2.2 AA), targets of 44 px (2.5.5), type at twice and
 * a half its size. The pictures are made here.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, ElementHandle, Page } from "puppeteer-core";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { type Desk, openDesk } from "../../../src/desk/server.ts";
import { openBrowser } from "../../site/find-browser.ts";
import { untilShown } from "./hands.ts";
import { markAt, nameAt, phonePicture, takeIn, untilSaid } from "./photo-acts.ts";
import { screenFaults } from "./screen-faults.ts";

const browserPath = process.env["RERIG_BROWSER"];

describe.skipIf(!browserPath)("photos at the desk", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-photos-")),
    folder = join(work, "ours"),
    file = join(folder, "trolley/fit-small-seat.mdx"),
    photos = join(folder, "trolley/photos");
  let desk: Desk, browser: Browser, page: Page;
  const wrong: string[] = [];
  beforeAll(async () => {
    cpSync(resolve(import.meta.dirname, "../../../src/starter"), folder, { recursive: true });
    for (const [at, red] of [60, 130, 200].entries())
      writeFileSync(join(work, `IMG_${at + 1}.JPG`), await phonePicture(red));
    desk = await openDesk(folder, 0);
    browser = await openBrowser(browserPath!);
    page = await browser.newPage();
    page.setDefaultTimeout(240_000);
    await page.setViewport({ width: 1280, height: 900 });
    page.on("pageerror", (error) => wrong.push(String(error)));
    page.on(
      "console",
      (message) => /Content Security Policy|Refused to/.test(message.text()) && wrong.push(message.text()),
    );
    await page.goto(`${desk.address}procedures/trolley/fit-small-seat/`, { waitUntil: "load" });
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    await desk?.close();
    rmSync(work, { recursive: true });
  });

  const sidecar = (number: number) => readFileSync(join(photos, `fit-small-seat-${number}.yaml`), "utf8");
  const says = (number: number, what: RegExp) => expect.poll(() => sidecar(number), { timeout: 180_000 }).toMatch(what);

  it("are taken in at three steps with what they show, and nothing of camera, place or owner", async () => {
    const alts = ["The seat beside the deck", "The lever up", "The lever down, no red"];
    for (const [at, alt] of alts.entries()) await takeIn(page, at + 1, join(work, `IMG_${at + 1}.JPG`), alt);
    expect(readdirSync(photos).filter((name) => name.startsWith("fit-small-seat"))).toHaveLength(6);
    for (const [at, alt] of alts.entries()) {
      expect(sidecar(at + 1)).toBe(`alt: ${alt}\ntaken: 2026-05-07\n`);
      expect(readFileSync(file, "utf8")).toMatch(new RegExp(`:::step\\{[^}]*photo=fit-small-seat-${at + 1}\\}`));
      const { width, height, exif, xmp, iptc, icc, orientation } = await sharp(
        join(photos, `fit-small-seat-${at + 1}.jpg`),
      ).metadata();
      expect([width, height, exif, xmp, iptc, icc, orientation]).toEqual([
        1200,
        1600,
        ...Array<undefined>(5).fill(undefined),
      ]);
    }
  }, 600_000);

  it("are marked by pressing on them; marks are named, dragged, and moved with the arrow keys", async () => {
    await page.goto(`${desk.address}photos/trolley/fit-small-seat-1/`, { waitUntil: "load" });
    await markAt(page, 0.3, 0.4, "Seat");
    await says(1, /^ {2}- \{ n: 1, x: 0\.\d+, y: 0\.\d+, label: Seat \}$/m);
    await markAt(page, 0.7, 0.6, "Guide");
    await says(1, /n: 2,.* label: Guide/);
    // Saved is not yet shown: the screen that follows says again that nothing is being moved.
    await untilShown(page);
    // 5 % to the right and 1 ‰ up, by the keys alone.
    const before = sidecar(1),
      [, x, y] = /n: 1, x: ([\d.]+), y: ([\d.]+)/.exec(before)!;
    await page.focus("#spot-0");
    for (let times = 0; times < 5; times += 1) await page.keyboard.press("ArrowRight");
    await page.keyboard.down("Shift");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.up("Shift");
    const [wantX, wantY] = [(Number(x) + 0.05).toFixed(3), (Number(y) - 0.001).toFixed(3)].map(Number);
    expect(await page.$eval("#where-moved", (said) => said.textContent)).toBe(
      `Mark 1, Seat: ${Number((wantX! * 100).toFixed(1))} % from the left, ` +
        `${Number((wantY! * 100).toFixed(1))} % from the top`,
    );
    await says(1, new RegExp(`n: 1, x: ${wantX}, y: ${wantY},`));
    expect(sidecar(1)).toBe(before.replace(`x: ${x}, y: ${y}`, `x: ${wantX}, y: ${wantY}`));
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("spot-0");
    await untilSaid(page, "Saved");
    const spot = (await (await page.$("#spot-1"))!.boundingBox())!,
      picture = (await (await page.$("#picture"))!.boundingBox())!;
    const [atX, atY] = [spot.x + spot.width / 2, spot.y + spot.height / 2];
    const [, oldX] = /n: 2, x: ([\d.]+)/.exec(sidecar(1))!;
    await page.mouse.move(atX, atY);
    await page.mouse.down();
    await page.mouse.move(atX - picture.width * 0.2, atY, { steps: 8 });
    await page.mouse.up();
    await expect
      .poll(() => Number(/n: 2, x: ([\d.]+)/.exec(sidecar(1))?.[1]), { timeout: 180_000 })
      .toBeCloseTo(Number(oldX) - 0.2, 2);
  }, 600_000);

  it("have each its own number, however long the screen takes to follow; a press meanwhile is not lost", async () => {
    const slow = await browser.newPage();
    // A page that lies behind another one gets no frames.
    onTestFinished(async () => {
      if (!slow.isClosed()) await slow.close();
      await page.bringToFront();
    });
    slow.setDefaultTimeout(240_000);
    await slow.setViewport({ width: 1280, height: 900 });
    // Every answer with the screen comes late: the writer has then begun with the next mark.
    await slow.evaluateOnNewDocument(() => {
      const own = window.fetch,
        held = globalThis as { areHeld?: boolean };
      const late = async () => {
        await new Promise((done) => setTimeout(done, 300));
        while (held.areHeld) await new Promise((done) => setTimeout(done, 20));
      };
      let isFull = true;
      window.fetch = async (...asked) => {
        if (isFull && String(asked[1]?.body).includes("Knob")) {
          isFull = false;
          await late();
          return new Response("The disk is full");
        }
        const answer = await own(...asked);
        if (asked[1] === undefined) await late();
        return answer;
      };
    });
    await slow.goto(`${desk.address}photos/trolley/fit-small-seat-3/`, { waitUntil: "load" });
    const before = sidecar(3);
    const hold = (areHeld: boolean) => slow.evaluate((to) => void Object.assign(globalThis, { areHeld: to }), areHeld);
    await markAt(slow, 0.3, 0.4, "Seat");
    await markAt(slow, 0.7, 0.6, "Guide");
    // And two that are named while the one before is being put in: nothing that is typed may be lost meanwhile.
    await hold(true);
    for (const [x, name] of [
      [0.45, "Lever"],
      [0.6, "Edge"],
    ] as const) {
      await nameAt(slow, x, 0.5, name);
      // Pressed twice, it is one mark.
      await slow.keyboard.press("Enter");
    }
    expect(await slow.$$eval(".spot[id^=spot-]:not(#spot-new)", (marks) => marks.length)).toBeLessThan(4);
    await hold(false);
    await says(3, /label: Edge/);
    expect([...sidecar(3).matchAll(/n: (\d+),.*label: (\w+)/g)].map(([, n, label]) => `${n} ${label}`)).toEqual([
      "1 Seat",
      "2 Guide",
      "3 Lever",
      "4 Edge",
    ]);
    await slow.waitForSelector("#spot-3");
    // One that cannot be saved while its writer names the next is asked for again, as it was.
    await hold(true);
    await nameAt(slow, 0.2, 0.7, "Knob");
    await nameAt(slow, 0.8, 0.7, "Clip");
    await hold(false);
    await slow.waitForFunction(
      () => document.querySelector<HTMLInputElement>("#new-mark:not([hidden]) [name=label]")?.value === "Knob",
    );
    expect(sidecar(3)).not.toMatch("Knob");
    await slow.keyboard.press("Enter");
    await says(3, /n: 5, x: 0\.(79|8).*label: Clip\b[^]*n: 6, x: 0\.(19|2).*label: Knob/);
    await slow.close();
    await page.bringToFront();
    for (let times = 0; times < 6; times += 1) {
      await page.goto(`${desk.address}photos/trolley/fit-small-seat-3/`, { waitUntil: "load" });
      await page.locator("[data-again=undo]").click();
      await untilSaid(page, "Saved");
    }
    expect(sidecar(3)).toBe(before);
  }, 600_000);

  it("get a mark, an arrow and a crop by the keyboard alone; an edge stops at the outermost mark", async () => {
    await page.goto(`${desk.address}photos/trolley/fit-small-seat-2/`, { waitUntil: "load" });
    await page.focus("#begin-mark");
    await page.keyboard.press("Enter");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("spot-new");
    for (let times = 0; times < 10; times += 1) await page.keyboard.press("ArrowLeft");
    while ((await page.evaluate(() => document.activeElement?.getAttribute("name"))) !== "label")
      await page.keyboard.press("Tab");
    await page.keyboard.type("Lever");
    await page.keyboard.press("Enter");
    await says(2, /n: 1, x: 0\.4, y: 0\.5, label: Lever/);
    await page.focus("#edge-left");
    for (let times = 0; times < 60; times += 1) await page.keyboard.press("ArrowRight");
    await says(2, /^crop: \{ x: 0\.4, y: 0, width: 0\.6, height: 1 \}$/m);
    expect(await page.$eval("#edge-left", (edge) => edge.getAttribute("aria-valuetext"))).toBe("40 % from the left");
    await page.focus("#add-arrow");
    await page.keyboard.press("Enter");
    await says(2, /arrow: \[0\.49, 0\.15, 0\.58, 0\.3\]/);
    await page.waitForSelector("#tip-1-1");
    await page.focus("#tip-1-1");
    await page.keyboard.press("ArrowDown");
    await says(2, /arrow: \[0\.49, 0\.15, 0\.58, 0\.31\]/);
    // The file has no fault for `check`, and one press shows the whole picture again.
    await page.locator("section.stage .acts button[data-edits]").click();
    await expect.poll(() => sidecar(2), { timeout: 180_000 }).not.toMatch(/crop/);
    await page.locator("[data-again=undo]").click();
    await says(2, /^crop: \{ x: 0\.4,/m);
  }, 600_000);

  it("say in a sentence what is no picture or breaks off, and nothing is written", async () => {
    await page.goto(`${desk.address}procedures/trolley/fit-small-seat/`, { waitUntil: "load" });
    const all = () => readdirSync(folder, { recursive: true, encoding: "utf8" }).sort(),
      before = [all(), readFileSync(file, "utf8")];
    writeFileSync(join(work, "list.jpg"), "A list of pins");
    const whole = readFileSync(join(work, "IMG_1.JPG"));
    writeFileSync(join(work, "half.jpg"), whole.subarray(0, Math.floor(whole.length / 2)));
    await page.locator("#step-1 > details > summary").click();
    await page.locator("#take-1 > summary").click();
    await page.locator("#take-1 textarea").fill("The seat");
    for (const [name, said] of [
      ["list.jpg", "“list.jpg” is no picture that can be read here"],
      ["half.jpg", "“half.jpg” breaks off or is damaged"],
    ] as const) {
      const input = (await page.$("#take-1 input[type=file]")) as ElementHandle<HTMLInputElement>;
      await input.uploadFile(join(work, name));
      await page.locator("#take-1 button[type=submit]").click();
      await untilSaid(page, said);
    }
    expect([all(), readFileSync(file, "utf8")]).toEqual(before);
    // What was said of it is not lost with the picture.
    expect(await page.$eval("#take-1 textarea", (text) => (text as HTMLTextAreaElement).value)).toBe("The seat");
  }, 600_000);

  it("are taken in when they are dropped on their place, and open nothing when dropped beside it", async () => {
    const drop = (selector: string) =>
      page.$eval(
        selector,
        (place, text) => {
          const dataTransfer = new DataTransfer(),
            bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
          dataTransfer.items.add(new File([bytes], "IMG_9.JPG", { type: "image/jpeg" }));
          const how = { dataTransfer, bubbles: true, cancelable: true };
          // The browser opens a file that falls on a page which does not say that it takes it (HTML, 6.11.5).
          return ["dragover", "drop"].map((kind) => !place.dispatchEvent(new DragEvent(kind, how)));
        },
        readFileSync(join(work, "IMG_3.JPG")).toString("base64"),
      );
    expect(await drop("h1")).toEqual([true, true]);
    expect(await page.$eval("#take-1 input", (input) => (input as HTMLInputElement).files![0]!.name)).toBe("half.jpg");
    expect(await drop("#take-1 .drop span")).toEqual([true, true]);
    await page.$eval("#said", (said) => (said.textContent = ""));
    await page.locator("#take-1 button[type=submit]").click();
    await untilSaid(page, "Saved.");
    expect(sidecar(4)).toBe("alt: The seat\ntaken: 2026-05-07\n");
    const { data } = await sharp(join(photos, "fit-small-seat-4.jpg")).raw().toBuffer({ resolveWithObject: true });
    expect(Math.abs(data[0]! - 200)).toBeLessThan(4);
  }, 600_000);

  it("loads nothing that its policy forbids, and no script fails", () => {
    expect(wrong).toEqual([]);
  });

  it("breaks no rule of axe in both themes and widths; fits with letters of 24 px; targets of 44 px", async () => {
    const found: string[] = [];
    const other = await browser.newPage();
    other.setDefaultTimeout(240_000);
    await other.setBypassCSP(true);
    for (const address of ["photos/trolley/fit-small-seat-2/", "procedures/trolley/fit-small-seat/", ""]) {
      const open = async () => {
        await other.goto(desk.address + address, { waitUntil: "load" });
        if (await other.$("#begin-mark")) await other.$eval("#begin-mark", (begin) => (begin as HTMLElement).click());
      };
      found.push(...(await screenFaults(other, [address], open)));
      // As it is left open by that.
      for (const width of [1280, 390])
        for (const letters of [16, 24]) {
          await other.setViewport({ width, height: 900 });
          await other.evaluate((size) => {
            document.documentElement.style.fontSize = `${size}px`;
          }, letters);
          const tell = (what: string) => found.push(`${address} ${width} ${letters}: ${what}`);
          const { wide, who, small } = await other.evaluate(() => ({
            who: [...document.querySelectorAll("body *")]
              .findLast((each) => each.getBoundingClientRect().right > innerWidth + 1)
              ?.outerHTML.slice(0, 120),
            wide: document.documentElement.scrollWidth - innerWidth,
            small: [
              ...document.querySelectorAll<HTMLElement>(
                "main :is(button, input:not([type=checkbox], [type=radio]), select, summary, [role=slider], .acts a)",
              ),
            ]
              .filter((each) => each.getClientRects().length > 0)
              .filter((each) => each.getBoundingClientRect().height < 43.5 || each.getBoundingClientRect().width < 43.5)
              .map((each) => each.outerHTML.slice(0, 90)),
          }));
          if (wide > 0) tell(`${wide} px too wide: ${who}`);
          for (const each of small) tell(`small: ${each}`);
        }
    }
    await other.close();
    expect(found).toEqual([]);
  }, 400_000);
});
