/**
 * A device that refuses to keep something (its storage is full, closed or damaged), or keeps it for several: two sites
 * under one host, two windows in one changeover. What a page says then is still true, in a real browser on the built
 * demo. `setItem` throws `QuotaExceededError` where the storage is full and nothing is stored (HTML Standard, Web
 * storage, "setItem"); what was stored before is still read. That storage belongs to an origin and not to a folder of
 * it is the same standard ("localStorage": "the origin's local storage area").
 */
import { existsSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, BrowserContext, Page } from "puppeteer-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { SiteServer } from "./site-server.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
const WAY = "tern/changeovers/newborn-capsule--child-cradle/";

const refuse = () => {
  Storage.prototype.setItem = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
};
const closeStorage = () =>
  Object.defineProperty(window, "localStorage", {
    get() {
      throw new DOMException("denied", "SecurityError");
    },
  });

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("what a device refuses", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-refused-"));
  const server = new SiteServer(work);
  let browser: Browser, device: BrowserContext | undefined, page: Page;
  beforeAll(async () => {
    // The same set under two addresses of one host: a service's own, and a copy to train with.
    for (const name of ["own", "training"]) symlinkSync(resolve(site!), join(work, name));
    await server.start();
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    await server.stop();
    rmSync(work, { recursive: true, force: true });
  });
  beforeEach(async () => {
    await device?.close();
    device = await browser.createBrowserContext();
    page = await newQuietPage(device);
  });
  const open = (address: string, on = page) => on.goto(`${server.address}own/${address}`, { waitUntil: "load" });
  const text = (selector: string, on = page) => on.$eval(selector, (found) => (found as HTMLElement).innerText);
  const press = (selector: string, on = page) => on.$eval(selector, (found) => (found as HTMLElement).click());
  /** Every answer of a step, and on. */
  const goOn = async (on = page) => {
    await on.$$eval(".th-pin[aria-pressed=false]", (pins) => pins.forEach((pin) => (pin as HTMLElement).click()));
    await press(".th-next", on);
  };
  const walkTo = async (stop: number) => {
    await open(WAY);
    await press("[data-step-through]");
    for (let at = 0; at < stop; at += 1) await goOn();
  };
  /** The page once more, even where its address has a fragment. */
  const openAnew = async () => {
    await page.reload({ waitUntil: "load" });
  };

  it.each([
    ["full", refuse],
    ["closed", closeStorage],
  ])("goes by what is pressed out of service while storage is %s, and says that nothing is kept", async (_, how) => {
    await page.evaluateOnNewDocument(how);
    await open("tern/tonight/");
    await page.click('[data-item="monitor"] label');
    expect(await text(".said")).toContain("Monitor");
    expect(await text(".leaves-now")).toMatch(/can still be built.*This device keeps nothing/s);
    await page.click('[data-item="monitor"] label');
    expect(await text(".leaves-now")).toBe("Everything is there.");
  });

  it("holds the last run in the file, though only those before it are kept", async () => {
    await open("");
    await page.evaluate(() => {
      const run = { id: "r1", platform: "tern", steps: [] };
      localStorage.setItem("rerig-after/own/", JSON.stringify({ runs: [run], notes: [] }));
    });
    await page.evaluateOnNewDocument(refuse);
    await open(WAY);
    await press("[data-step-through]");
    while ((await page.$(".th-end")) === null) await goOn();
    expect(await text(".after-kept")).toMatch(/This device keeps nothing.*2 runs|This device keeps nothing.*two runs/s);
  }, 60_000);

  it("does not find a crew further on than it is, after it went back with storage full", async () => {
    await walkTo(6);
    await page.evaluate(refuse);
    for (const _ of [1, 2, 3, 4]) await press(".th-back");
    expect(await text(".th-no")).toBe("3");
    expect(await text("#step")).toContain("This device keeps nothing now");
    await openAnew();
    expect(await text(".th-no")).toBe("1");
  });

  it("finds a walk beside a damaged one", async () => {
    await walkTo(3);
    await page.evaluate(() => {
      const name = Object.keys(localStorage).find((key) => /^rerig-(?:walk|step)/.test(key))!;
      localStorage.setItem(name.replace("newborn", "nobody"), "{half");
    });
    await openAnew();
    expect(await text("#step h2")).toContain("You were at step 4");
  });

  it("tells both windows that go through one changeover", async () => {
    await walkTo(3);
    const other = await newQuietPage(device!);
    await open(`${WAY}#step`, other);
    await press(".th-next", other);
    const told = /Another window of this device goes through this too/;
    await page.waitForFunction((words) => document.body.innerText.includes(words), {}, "Another window of this device");
    await goOn();
    expect(await text("#step")).toMatch(told);
    await other.waitForFunction(
      (words) => document.body.innerText.includes(words),
      {},
      "Another window of this device",
    );
  });

  it("keeps two sites of one host apart: where a crew is, and whether the site is wanted on the device", async () => {
    await walkTo(3);
    await page.goto(`${server.address}training/${WAY}#step`);
    expect(await text(".th-no")).toBe("1");
    await open(`${WAY}#step`);
    expect(await text("#step h2")).toContain("You were at step 4");
    const other = await browser.createBrowserContext().then((fresh) => fresh.newPage());
    await open("device/", other);
    await other.waitForSelector("[data-device=add]", { visible: true });
    await press("[data-device=add]", other);
    expect(await other.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("rerig-keep")))).toEqual(
      ["rerig-keep/own/"],
    );
    await other.browserContext().close();
  });

  it("takes over what pages kept that did not tell the sites apart, and forgets it with the rest", async () => {
    await walkTo(3);
    await page.evaluate(() => {
      const name = Object.keys(localStorage).find((key) => /^rerig-(?:walk|step)/.test(key))!;
      localStorage.setItem(`rerig-step/${name.replace(/^[^ ]*\/(?=[a-z]+ )/, "")}`, localStorage.getItem(name)!);
      if (!name.startsWith("rerig-step/")) localStorage.removeItem(name);
    });
    await openAnew();
    expect(await text("#step h2")).toContain("You were at step 4");
    await press(".th-next");
    await goOn();
    expect(await page.evaluate(() => Object.keys(localStorage).filter((key) => /walk|step/.test(key)))).toEqual([
      expect.stringMatching(/^rerig-walk\/own\/tern newborn-capsule child-cradle /),
    ]);
  });

  it("says that there is no room, where the set does not fit on the device, and what to do", async () => {
    const fresh = await browser.createBrowserContext(),
      full = await fresh.newPage();
    const session = await full.createCDPSession();
    await session.send("Storage.overrideQuotaForOrigin", { origin: new URL(server.address).origin, quotaSize: 2e6 });
    await open("device/", full);
    await full.waitForFunction(() =>
      /no room|Not complete/.test(document.querySelector<HTMLElement>("[data-device=said]")!.innerText),
    );
    expect(await text("[data-device=said]", full)).toMatch(/^There is no room for it on this device\. Free some/);
    await fresh.close();
  });

  /** What practice says of the answers so far. */
  const record = async () => {
    await page.waitForSelector("[data-practice=home]", { visible: true, timeout: 10_000 });
    return text("[data-practice=record]");
  };
  const answerOne = async () => {
    await press("[data-practice=refresher]");
    await page.waitForSelector("[data-practice=answer]", { visible: true });
    await page.$$eval("[data-practice=choices] input", (inputs) => inputs[0]?.click());
    await page.$$eval("[data-practice=choices] button", (buttons) => buttons.forEach((button) => button.click()));
    await press("[data-practice=answer]");
  };

  it("keeps a learner's practice apart on two sites, with what was kept for both carried over to each", async () => {
    await open("");
    // As a page kept it before: one database for all sites of the host.
    await page.evaluate(async () => {
      const database = await new Promise<IDBDatabase>((done) => {
        const asked = indexedDB.open("rerig-practice", 1);
        asked.onupgradeneeded = () => {
          asked.result.createObjectStore("kept", { keyPath: "id" });
          asked.result.createObjectStore("studied", { keyPath: "key" });
        };
        asked.onsuccess = () => done(asked.result);
      });
      const change = database.transaction("studied", "readwrite");
      change.objectStore("studied").put({
        key: "tern procedure seat-capsule",
        title: "Seat the capsule",
        revision: 99,
        at: "2026-11-01T10:00:00.000Z",
      });
      await new Promise((done) => (change.oncomplete = done));
      database.close();
    });
    const studied = (name: string) =>
      page.evaluate(
        (base) =>
          new Promise<string[]>((done) => {
            const asked = indexedDB.open(base);
            asked.onsuccess = () => {
              const read = asked.result.transaction("studied").objectStore("studied").getAllKeys();
              read.onsuccess = () => done((asked.result.close(), read.result as string[]));
            };
          }),
        name,
      );
    for (const name of ["own", "training"]) {
      await page.goto(`${server.address}${name}/tern/practise/`);
      await record();
      expect(await studied(`rerig-practice/${name}/`)).toEqual(["tern procedure seat-capsule"]);
    }
    for (const _ of ["asked", "sure"]) await press("[data-practice=reset]");
    await page.waitForFunction(() => document.body.innerText.includes("Forgotten"));
    expect(await studied("rerig-practice/training/")).toEqual([]);
    expect(await studied("rerig-practice/own/")).toEqual(["tern procedure seat-capsule"]);
    await page.waitForFunction(async () =>
      (await indexedDB.databases()).every(({ name }) => name !== "rerig-practice"),
    );
  });

  it("practises where the database can't be read, and says so", async () => {
    await page.evaluateOnNewDocument(() => {
      IDBObjectStore.prototype.getAll = () => {
        throw new DOMException("damaged", "UnknownError");
      };
    });
    await open("tern/practise/");
    expect(await record()).toMatch(/^This browser keeps nothing here/);
  });

  it("says at the answer that is not kept that nothing is kept any more", async () => {
    await page.evaluateOnNewDocument(() => {
      IDBObjectStore.prototype.put = () => {
        throw new DOMException("full", "QuotaExceededError");
      };
    });
    await open("tern/practise/");
    await record();
    await answerOne();
    await page.waitForFunction(() => document.body.innerText.includes("This browser keeps nothing here"));
  });
});
