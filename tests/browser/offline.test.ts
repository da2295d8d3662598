/**
 * No signal, in a real browser: everything works with the network cut, an update that is killed half-way leaves the old
 * set whole, and a folder copy shows pages.
 */
import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeOfflineFiles } from "../../src/build/offline.ts";
import type { Collection } from "../../src/schema/collection.ts";
import { addressOfCode } from "../../src/domain/cards/check-address.ts";
import { codeOf } from "../../src/domain/cards/check-code.ts";
import { sayDate } from "../../src/domain/words/say.ts";
import { SiteFolder } from "../../src/site/site-folder.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { pagesByKind } from "../site/look/page-kinds.ts";
import { copyPart, filesOfSet } from "./part-of-site.ts";
import { SiteServer } from "./site-server.ts";
import { readCollection } from "../read-collection.ts";

const { RERIG_SITE: site, RERIG_BROWSER } = process.env;
const browserPath = forScreens(RERIG_BROWSER);
const root = resolve(import.meta.dirname, "../..");

/** Pages that the tests below ask for by name. */
const ASKED = ["tern/cards/newborn-capsule/", "tern/study/seat-capsule/", "tern/practise/paper/"];
/** What is searched for: only the index knows the word, and few pages have it. */
const SOUGHT = "slanted";

const hashOf = (file: string) => createHash("sha256").update(readFileSync(file)).digest("hex");
const addressOf = (name: string) => name.replace(/(^|\/)index\.html$/, "$1");

// `npm test` builds the demo first and says where it is; alone, there is no page to look at.
describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))("no signal", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-offline-"));
  const profile = join(work, "profile");
  let server: SiteServer, browser: Browser, collection: Collection;
  const wrong: string[] = [];

  const launch = () => openBrowser(browserPath!, { userDataDir: profile });
  const open = async (path: string): Promise<Page> => {
    const page = await browser.newPage();
    page.on("pageerror", (error) => wrong.push(String(error)));
    page.on("console", (message) => {
      if (/Content Security Policy|Content-Security-Policy/.test(message.text())) wrong.push(message.text());
    });
    await page.goto(server.address + path, { waitUntil: "load" });
    return page;
  };
  const words = (page: Page, selector = "main") => page.$eval(selector, (place) => (place as HTMLElement).innerText);
  const saved = (page: Page) =>
    page.waitForFunction(
      () => /Saved on this device/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
      { timeout: 120_000, polling: 200 },
    );
  /** A page says what it is of once it has asked what is held: after it has been loaded. */
  const saysOrigin = (page: Page, said: string) =>
    page.waitForFunction(
      (part) => document.querySelector("of-set")?.textContent?.includes(part),
      { timeout: 60_000, polling: 200 },
      said,
    );
  const pagesUnder = (folder: string, under: string) =>
    readdirSync(join(folder, under), { withFileTypes: true })
      .filter((entry) => entry.isDirectory() && existsSync(join(folder, under, entry.name, "index.html")))
      .map(({ name }) => `${under}/${name}/`);

  /**
   * Fetches every file of a set through the page and compares it with what was built; gives what is missing or other.
   */
  const compareAll = (page: Page, folder: string) => {
    const files = filesOfSet(folder).map((name) => ({ address: addressOf(name), hash: hashOf(join(folder, name)) }));
    return page.evaluate(async (list) => {
      const bad: string[] = [];
      const home = new URL(document.documentElement.dataset["home"] || "./", location.href).href;
      const compare = async ({ address, hash }: (typeof list)[number]) => {
        const response = await fetch(home + address).catch(() => undefined);
        const digest = response && (await crypto.subtle.digest("SHA-256", await response.arrayBuffer()));
        const found = digest && [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
        if (found !== hash) bad.push(address);
      };
      const queue = list.values();
      const work = async () => {
        for (const file of queue) await compare(file);
      };
      await Promise.all([work(), work(), work(), work()]);
      return { bad, count: list.length };
    }, files);
  };

  beforeAll(async () => {
    server = new SiteServer(join(work, "a"));
    const changeover = (await pagesByKind(site!)).get("*/changeovers/*/")![0]!,
      opened = new Set([...ASKED, changeover]);
    await copyPart(site!, server.folder, { isOpened: (address) => opened.has(address), sought: SOUGHT });
    collection = await readCollection(join(root, "procedures"));
    await writeOfflineFiles(new SiteFolder(server.folder, ""), collection, "2026-11-28");
    await server.start();
    browser = await launch();
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
    rmSync(work, { recursive: true, force: true });
  }, 60_000);

  it("is built with a set of every file of the site, each by the hash of its content (FIPS 180-4)", () => {
    const names = filesOfSet(site!);
    const head = JSON.parse(readFileSync(join(site!, "offline.json"), "utf8")) as { version: string; count: number };
    expect(head.count).toBe(names.length);
    const listed = JSON.stringify(names.map((name) => [addressOf(name), hashOf(join(site!, name))]));
    expect(head.version).toBe(createHash("sha256").update(listed).digest("hex").slice(0, 16));
    const worker = readFileSync(join(site!, "service-worker.js"), "utf8");
    expect(names.filter((name) => !worker.includes(hashOf(join(site!, name))))).toEqual([]);
  });

  it("saves the whole site after one visit, saying how large it is and how far it has come", async () => {
    const page = await open("device/");
    await page.waitForFunction(
      () => /\d+ (MB|kB) in \d+ files/.test(document.querySelector("[data-device=size]")!.textContent!),
      { timeout: 60_000 },
    );
    await saved(page);
    await page.waitForSelector("[data-device=held]:not([hidden])", { timeout: 30_000 });
    const text = await words(page);
    const head = JSON.parse(readFileSync(join(server.folder, "offline.json"), "utf8")) as {
      version: string;
      count: number;
      documents: { code: string }[];
    };
    expect(text).toContain(head.version);
    expect(text).toContain(`in ${head.count} files`);
    for (const { code } of head.documents) expect(text).toContain(code);
    await page.close();
  }, 180_000);

  it("holds every file, exactly as built, with the network cut", async () => {
    await server.stop();
    const page = await open("");
    const { bad, count } = await compareAll(page, server.folder);
    expect(bad).toEqual([]);
    expect(count).toBeGreaterThan(200);
    await page.close();
  }, 120_000);

  it("answers a weight with the network cut", async () => {
    const page = await open("");
    await page.type("#weight", "7.2");
    await page.click(".units label:has([value=kg])");
    await page.click(".sure .yes");
    await page.waitForFunction(() => /Child cradle/.test(document.querySelector(".answer")?.textContent ?? ""));
    await page.close();
  }, 60_000);

  it("finds with the network cut", async () => {
    const page = await open(`find/?q=${SOUGHT}`);
    await page.waitForFunction(
      () =>
        [...document.querySelectorAll(".found a[href*=procedures]")].some((link) =>
          /capsule/i.test(link.textContent ?? ""),
        ),
      { timeout: 30_000 },
    );
    await page.close();
  }, 60_000);

  it("shows a changeover, a card and a lesson with its photo with the network cut", async () => {
    const [changeover] = pagesUnder(server.folder, "tern/changeovers");
    for (const [path, text] of [
      [changeover!, /deck/i],
      ["tern/cards/newborn-capsule/", /capsule/i],
      ["tern/study/seat-capsule/#step-3", /Step 3/],
    ] as const) {
      const page = await open(path);
      expect(await words(page)).toMatch(text);
      const broken = await page.$$eval(".photo img:not(.on-paper)", async (images) => {
        const shown = images.filter((image) => image.offsetParent !== null) as HTMLImageElement[];
        for (const image of shown) image.loading = "eager";
        await Promise.all(shown.map((image) => image.decode().catch(() => undefined)));
        return shown.filter((image) => image.naturalWidth === 0).map(({ src }) => src);
      });
      expect(broken).toEqual([]);
      await page.close();
    }
  }, 60_000);

  it("runs a practice round with the network cut, and keeps what was answered", async () => {
    const page = await open("tern/practise/");
    await page.waitForSelector("[data-practice=refresher]", { visible: true });
    await page.click("[data-practice=refresher]");
    let asked = 0;
    for (
      ;
      asked < 20 && (await page.$eval("[data-practice=play]", (place) => !(place as HTMLElement).hidden));
      asked++
    ) {
      const lines = await page.$$(".line");
      if (lines.length) for (const line of lines) await line.click();
      else await page.click(".opt");
      await page.click("[data-practice=answer]");
      await page.waitForSelector("[data-practice=next]:not([hidden])");
      expect(await words(page, "[data-practice=because]")).toMatch(/^(Yes\.|No\. Right is:|Not in this order\.)/);
      await page.click("[data-practice=next]");
    }
    expect(asked).toBe(8);
    expect(await words(page, "[data-practice=score]")).toMatch(/^\d of 8 right$/);
    await page.reload();
    await page.waitForFunction(() =>
      /8 answers to 8 questions/.test(document.querySelector("[data-practice=record]")!.textContent!),
    );
    await page.close();
  }, 60_000);

  it("says that a page is not in the set, instead of the browser's error", async () => {
    const page = await open("tern/no-such-page/");
    await page.waitForSelector("[data-device=not-here]:not([hidden])");
    expect(page.url()).toContain("device/#not-here");
    await page.close();
  }, 60_000);

  it("says with the network cut that no card has the code that a square on a card leads to", async () => {
    const page = await open("C/7K3FQ7/");
    await page.waitForFunction(
      () => /do not use the card|does not fit/.test(document.querySelector("#code-said")?.textContent ?? ""),
      { timeout: 20_000 },
    );
    expect(new URL(page.url()).pathname).toBe("/check/");
    await page.close();
  }, 60_000);

  it("does not say with the network cut that a card never was which may be newer than the set", async () => {
    const { built } = JSON.parse(readFileSync(join(site!, "offline.json"), "utf8")) as { built: string };
    const page = await open(addressOfCode(codeOf("a card of tomorrow")));
    await page.waitForFunction(() => (document.querySelector("#code-said")?.textContent ?? "") !== "", {
      timeout: 20_000,
    });
    expect(await words(page, "#code-said")).toContain(
      `The set of ${sayDate(built)} on this device has no card with the code ` + codeOf("a card of tomorrow"),
    );
    expect(await words(page, "#code-said")).not.toMatch(/ever had/);
    await page.close();
  }, 60_000);

  it("says that the set may be old after more than 30 days without a comparison", async () => {
    const page = await browser.newPage();
    await page.evaluateOnNewDocument(() => {
      const Real = Date,
        ahead = 31 * 86_400_000;
      // Only what asks for the present is moved.
      globalThis.Date = class extends Real {
        constructor(...parts: []) {
          super(...((parts.length ? parts : [Real.now() + ahead]) as []));
        }
        static override now() {
          return Real.now() + ahead;
        }
      } as DateConstructor;
    });
    await page.goto(`${server.address}device/`, { waitUntil: "load" });
    await page.waitForSelector("[data-device=old]:not([hidden])");
    expect(await words(page, "saved-on-device")).toMatch(/^May be old: last compared/);
    await page.close();
  }, 60_000);

  describe("when the site has a newer set", () => {
    const marked = "as the newer set has it";

    beforeAll(async () => {
      server.asked.clear();
      const newer = join(work, "b");
      cpSync(server.folder, newer, { recursive: true });
      const pages = readdirSync(newer, { recursive: true, encoding: "utf8" }).filter((name) =>
        name.endsWith("index.html"),
      );
      // Every page changes, so that an update has much to fetch.
      for (const name of pages)
        writeFileSync(join(newer, name), readFileSync(join(newer, name), "utf8").replace("</h1>", `, ${marked}</h1>`));
      const head = await writeOfflineFiles(new SiteFolder(newer, ""), collection, "2099-01-01");
      expect(head.version).not.toBe(
        (JSON.parse(readFileSync(join(server.folder, "offline.json"), "utf8")) as { version: string }).version,
      );
    }, 120_000);

    it("keeps the old set whole when the connection is cut half-way", async () => {
      server.folder = join(work, "b");
      server.cutAfter = 40;
      await server.start();
      const page = await open("tern/practise/paper/");
      await until(() => server.served >= 40);
      await page.waitForFunction(
        async () => {
          const registration = await navigator.serviceWorker.getRegistration();
          return !registration?.installing && !registration?.waiting;
        },
        { timeout: 60_000, polling: 200 },
      );
      await server.stop();
      expect(server.served).toBe(40);
      const { bad } = await compareAll(page, join(work, "a"));
      expect(bad).toEqual([]);
      await page.close();
    }, 120_000);

    it("keeps the old set whole when the browser is killed half-way", async () => {
      server.cutAfter = Infinity;
      await server.start();
      await open("");
      await until(() => server.served > 25);
      // The whole group: what is started may be a script that starts the browser.
      process.kill(-browser.process()!.pid!, "SIGKILL");
      await new Promise((done) => setTimeout(done, 500));
      await server.stop();
      for (const name of readdirSync(profile))
        if (name.startsWith("Singleton")) rmSync(join(profile, name), { force: true });
      browser = await launch();
      const page = await open("tern/study/seat-capsule/");
      expect(await words(page)).not.toContain(marked);
      expect((await compareAll(page, join(work, "a"))).bad).toEqual([]);
      await page.close();
    }, 120_000);

    it("says of one card either current or replaced, as the site has it, when the newer set never fits", async () => {
      server.cutAfter = Infinity;
      server.spoilt = "/tern/study/index.html";
      await server.start();
      const [code] = pagesUnder(server.folder, "C");
      const card = await open(code!);
      expect(await words(card, "h1")).toContain(marked);
      await saysOrigin(card, "This page is the site’s of today; other pages are still from");
      await card.waitForFunction(
        () => /can’t be saved whole/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
        { timeout: 150_000, polling: 200 },
      );
      await card.close();
      const other = await open("tern/study/seat-capsule/");
      expect(await words(other)).not.toContain(marked);
      await other.waitForFunction(
        () => /can’t be saved whole/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
        { timeout: 150_000, polling: 200 },
      );
      await other.close();
      server.spoilt = undefined;
      await server.stop();
      const alone = await open(code!);
      expect(await words(alone, "h1")).not.toContain(marked);
      await saysOrigin(alone, "No answer from the site: this is what the set of ");
      await alone.close();
    }, 360_000);

    it("takes the newer set whole, only what changed being fetched, and then shows it", async () => {
      await server.start();
      const page = await open("tern/study/seat-capsule/");
      // Once the set is whole the next page brings it in, whichever of the two workers answers that page.
      const isNew = () =>
        words(page).then(
          (text) => text.includes(marked),
          () => false,
        );
      const isWaiting = () =>
        page
          .evaluate(async () => Boolean((await navigator.serviceWorker.getRegistration())?.waiting))
          .catch(() => false);
      const within = async (milliseconds: number, ready: () => Promise<boolean>) => {
        for (
          const end = Date.now() + milliseconds;
          Date.now() < end;
          await new Promise((done) => setTimeout(done, 300))
        )
          if (await ready()) return true;
        return false;
      };
      expect(await within(120_000, async () => (await isWaiting()) || (await isNew()))).toBe(true);
      if (!(await isNew())) await page.reload().catch(() => undefined);
      // Chromium lets the worker of the older set go once it has been idle for 30 s (measured); here it is stopped.
      const stopOlder = await stopperOf(page);
      expect(await within(100_000, async () => (await isNew()) || (await stopOlder()))).toBe(true);
      const { version } = JSON.parse(readFileSync(join(work, "b", "offline.json"), "utf8")) as { version: string };
      // Asked for anew the page came from the site itself; opened again it comes from the set that has taken over.
      const isFromSet = () =>
        page.evaluate((set) => document.documentElement.dataset["set"] === set, version).catch(() => false);
      const openAgain = async () => {
        if (await isFromSet()) return true;
        await stopOlder().catch(() => false);
        await page.goto(page.url(), { waitUntil: "load" }).catch(() => undefined);
        return isFromSet();
      };
      expect(await within(60_000, openAgain)).toBe(true);
      // Photos and scripts have the same content: they come from the older set.
      const count = (JSON.parse(readFileSync(join(work, "b", "offline.json"), "utf8")) as { count: number }).count;
      expect(server.served).toBeLessThan(count);
      // Nor was one fetched by an update that came to nothing, and kept for this one.
      expect([...server.asked].filter((path) => path.endsWith(".webp"))).toEqual([]);
      await server.stop();
      // Whoever looks into the older set while it is removed leaves an empty one of its name.
      await page.waitForFunction(
        async () => {
          const names = (await caches.keys()).filter((name) => name.startsWith("rerig "));
          const kept = await Promise.all(names.map(async (name) => (await (await caches.open(name)).keys()).length));
          return kept.filter((files) => files > 0).length === 1;
        },
        { timeout: 120_000, polling: 500 },
      );
      expect((await compareAll(page, join(work, "b"))).bad).toEqual([]);
      await page.close();
    }, 300_000);
  });

  it("says of a page that somebody has begun to read that its set is older, and shows it anew when asked", async () => {
    const page = await open("tern/study/seat-capsule/");
    await page.waitForFunction(() => document.documentElement.dataset["set"] && navigator.serviceWorker.controller, {
      timeout: 30_000,
      polling: 200,
    });
    await page.click("h1");
    await page.evaluate(() => {
      document.documentElement.dataset["set"] = "an older one";
      navigator.serviceWorker.controller!.postMessage({ rerig: "which" });
    });
    await page.waitForFunction(
      () =>
        /This page is of the set before the one on this device/.test(
          document.querySelector("saved-on-device")?.textContent ?? "",
        ),
      { timeout: 30_000, polling: 200 },
    );
    await page.click("saved-on-device button");
    // From the site if it answers, else from the set in use.
    await page.waitForFunction(
      () => {
        const { set, from } = document.documentElement.dataset;
        return from === "site" || (set !== undefined && set !== "an older one");
      },
      { timeout: 30_000, polling: 200 },
    );
    await page.close();
  }, 120_000);

  it("shows a page as the site has it now to whoever asks anew, and as it was saved with no signal", async () => {
    await server.stop();
    await server.start();
    const page = await open("tern/study/seat-capsule/");
    const file = join(server.folder, "tern/study/seat-capsule/index.html"),
      before = readFileSync(file, "utf8");
    writeFileSync(
      file,
      before.replace(/<h1[^>]*>/, (tag) => `${tag}Written since. `),
    );
    await page.reload({ waitUntil: "load" });
    expect(await words(page, "h1")).toContain("Written since.");
    await server.stop();
    await page.reload({ waitUntil: "load" });
    expect(await words(page, "h1")).not.toContain("Written since.");
    writeFileSync(file, before);
    await page.close();
  }, 60_000);

  it("never let a page throw or break its policy", () => expect(wrong).toEqual([]));
});

describe.skipIf(!site || !browserPath || !existsSync(join(site, "index.html")))(
  "a copy of the folder, without a server",
  () => {
    it("shows procedures, checklists, cards, lessons and built paper, follows links, and asks questions", async () => {
      const browser = await openBrowser(browserPath!);
      try {
        const page = await browser.newPage();
        const wrong: string[] = [];
        page.on("pageerror", (error) => wrong.push(String(error)));
        page.on("console", (message) => {
          if (message.type() === "error") wrong.push(message.text());
        });
        const home = pathToFileURL(join(site!, "index.html")).href;
        await page.goto(home);
        await page.click("header nav a");
        await page.waitForFunction(() => location.pathname.endsWith("/procedures/index.html"));
        for (const [path, text] of [
          ["tern/procedures/seat-capsule/", "Push the four pins in"],
          ["tern/cards/newborn-capsule/", "Capsule pins"],
          ["tern/study/seat-capsule/", "Seat the newborn capsule"],
          ["tern/practise/paper/", "Question paper 1"],
          ["tern/sign-off/seat-capsule/", "Not seen"],
          ["device/", "copy in a folder"],
        ] as const) {
          await page.goto(new URL(`${path}index.html`, home).href);
          expect(await page.$eval("main", (place) => (place as HTMLElement).innerText), path).toContain(text);
        }
        await page.goto(new URL("tern/practise/index.html", home).href);
        await page.waitForSelector("[data-practice=refresher]", { visible: true });
        await page.click("[data-practice=refresher]");
        await page.waitForSelector("[data-practice=prompt]", { visible: true });
        expect(wrong).toEqual([]);
      } finally {
        await browser.close();
      }
    }, 60_000);
  },
);

/**
 * What stops the worker in use while a newer one waits for it, as the browser does with one that has nothing to do for
 * a while; always `false`.
 */
async function stopperOf(page: Page): Promise<() => Promise<false>> {
  const client = await page.createCDPSession();
  const versions = new Map<string, { status: string; runningStatus: string }>();
  client.on("ServiceWorker.workerVersionUpdated", ({ versions: changed }) => {
    for (const version of changed) versions.set(version.versionId, version);
  });
  await client.send("ServiceWorker.enable");
  return async () => {
    if ([...versions.values()].some(({ status }) => status === "installed"))
      for (const [versionId, { status, runningStatus }] of versions)
        if (status === "activated" && runningStatus === "running")
          await client.send("ServiceWorker.stopWorker", { versionId });
    return false;
  };
}

async function until(ready: () => boolean): Promise<void> {
  const end = Date.now() + 60_000;
  while (!ready()) {
    if (Date.now() > end) throw new Error("waited for a minute in vain");
    await new Promise((done) => setTimeout(done, 20));
  }
}
