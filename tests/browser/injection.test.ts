/**
 * Attempts to be run as code, in every text that an author can write and in every address that a reader can be sent:
 * shown as text in a real browser, never run.
 */
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { buildForTest } from "../builder/built-site.ts";
import { forScreens, openBrowser } from "../site/find-browser.ts";
import { pagesByKind } from "../site/look/page-kinds.ts";
import { newQuietPage } from "../site/look/quiet-page.ts";
import { coverOf, isEveryPageAsked, type Shown } from "../site/look/representatives.ts";
import { type Attempt, attempt, makeHostile } from "./hostile.ts";
import { SiteServer } from "./site-server.ts";

const browserPath = forScreens(process.env["RERIG_BROWSER"]);
const root = resolve(import.meta.dirname, "../..");

describe.skipIf(!browserPath || !existsSync(browserPath))("a hostile collection", () => {
  const work = mkdtempSync(join(tmpdir(), "rerig-hostile-"));
  const site = join(work, "site");
  let attempts: Attempt[], server: SiteServer, browser: Browser, page: Page;
  const ran: string[] = [];
  const broken: string[] = [];

  /** The page, with all that runs on it or is stopped by the policy reported. */
  async function watched(page: Page): Promise<Page> {
    await page.exposeFunction("reportRun", (text: string) => void ran.push(`${page.url()}: ${text}`));
    await page.exposeFunction("reportBroken", (text: string) => void broken.push(`${page.url()}: ${text}`));
    await page.evaluateOnNewDocument(() => {
      const report = globalThis as unknown as {
        reportRun: (text: string) => void;
        reportBroken: (text: string) => void;
        hacked: (number: unknown) => void;
      };
      report.hacked = (number) => report.reportRun(String(number));
      // A blocked attempt would mean that markup got through and only the policy stopped it.
      document.addEventListener("securitypolicyviolation", (event) =>
        report.reportBroken(`${event.effectiveDirective} ${event.blockedURI} ${event.sample}`),
      );
    });
    page.on("dialog", (dialog) => {
      ran.push(`dialog ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on("pageerror", (error) => broken.push(`${page.url()}: ${String(error)}`));
    return page;
  }

  beforeAll(async () => {
    const collection = join(work, "collection");
    cpSync(join(root, "tests/fixtures/collections/sled"), collection, { recursive: true });
    attempts = makeHostile(collection);
    // The checks might refuse such a collection; what is asked here is what the site does with it.
    const findings = new Findings();
    await loadCollection(collection, findings);
    expect(findings.list.filter(({ severity }) => severity === "error")).toEqual([]);
    await buildForTest({ collectionFolder: collection, outFolder: site });
    server = new SiteServer(site);
    await server.start();
    browser = await openBrowser(browserPath!);
    page = await watched(await newQuietPage(browser));
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
    rmSync(work, { recursive: true, force: true });
  }, 60_000);

  /** What markup would leave behind, in the page as it stands. */
  const grown = () =>
    page.evaluate(() =>
      [
        "script:not([src]):not([type='application/json'])",
        "img[src='x']",
        "[onerror]",
        "[onload]",
        "[onfocus]",
        "a[href^='javascript']",
        "style",
      ].filter((selector) => document.querySelector(selector)),
    );

  /**
   * Pages of each kind, among which every attempt is, every sort of field that pages of that kind show, and every
   * element and attribute in which they show one: what is put in unsafely is so by the code of a kind of page. All of
   * them with RERIG_EVERY.
   */
  async function pagesToLookAt(): Promise<string[]> {
    const shown: Omit<Shown, "fullness">[] = [];
    for (const [kind, addresses] of await pagesByKind(site))
      for (const address of addresses) {
        const file = address === "" || address.endsWith("/") ? `${address}index.html` : address,
          html = readFileSync(join(site, file), "utf8"),
          signatures = new Set([kind]);
        for (const { 1: number, index } of html.matchAll(/@(\d+)@/g)) {
          const { file, field } = attempts[Number(number) - 1] ?? { file: "an address", field: "" };
          const before = html.slice(Math.max(0, index - 2000), index),
            within = /<([\w-]+)[^<>]*?(?:\s([\w-]+)="[^"<>]*|>[^<>]*)$/.exec(before)?.slice(1).join(" ");
          signatures.add(`@${number}`).add(`${kind}: in ${within}`);
          signatures.add(`${kind}: ${file.replace(/[\w-]+\.mdx$/, "")} ${field.split(".").at(-1)}`);
        }
        shown.push({ address: file, signatures, elements: [...html.matchAll(/<[a-z]/g)].length });
      }
    return (isEveryPageAsked ? shown : coverOf(shown)).map(({ address }) => address).sort();
  }

  it("runs nothing on any page, and every attempt that a page shows is text", async () => {
    const pages = await pagesToLookAt();
    expect(pages.length).toBeGreaterThan(30);
    const shown = new Map<number, string[]>();
    for (const name of pages) {
      await page.goto(server.address + name.replace(/index\.html$/, ""), { waitUntil: "load" });
      expect(await grown(), name).toEqual([]);
      // Text, and what is read aloud or shown by the browser itself.
      const text = await page.evaluate(() =>
        [
          document.title,
          document.documentElement.textContent ?? "",
          ...[...document.querySelectorAll("[alt],[aria-label],[content],[value]")].flatMap((each) =>
            ["alt", "aria-label", "content", "value"].map((attribute) => each.getAttribute(attribute) ?? ""),
          ),
        ]
          .join("\n")
          .replace(/\s+/g, " "),
      );
      for (const { number, text: whole } of attempts)
        if (text.includes(`@${number}@`))
          shown.set(number, [
            ...(shown.get(number) ?? []),
            text.includes(whole.replace(/\s+/g, " ")) ? name : `${name} (in part)`,
          ]);
    }
    expect(ran).toEqual([]);
    expect(broken).toEqual([]);
    const became = attempts.map(
      ({ number, file, field }) =>
        `${number}. ${file}, ${field}: ` +
        (shown.has(number)
          ? `text on ${shown.get(number)!.length} pages, first ${shown.get(number)![0]}`
          : "on no page"),
    );
    console.log(`${pages.length} pages; ${attempts.length} fields with nine attempts each:\n${became.join("\n")}`);
    // Nothing that a reader needs is lost: nearly all fields are shown somewhere, whole.
    expect(shown.size).toBeGreaterThan(attempts.length * 0.8);
    expect([...shown.values()].filter((names) => names.every((name) => name.endsWith("(in part)")))).toEqual([]);
  }, 300_000);

  it.each([
    "",
    "find/?q=ATTEMPT",
    "find/#ATTEMPT",
    "#weight=ATTEMPT",
    "sled/practise/#ATTEMPT",
    "sled/practise/paper/#paper=ATTEMPT",
    "sled/bands/#ATTEMPT",
    "device/#ATTEMPT",
    "check/?code=ATTEMPT",
    "no/such/page/ATTEMPT",
  ])(
    "runs nothing from an address: %s",
    async (path) => {
      for (const encode of [encodeURIComponent, (text: string) => text.replace(/[#%]/g, "")]) {
        await page.goto(server.address + path.replace("ATTEMPT", encode(attempt(0))), { waitUntil: "load" });
        await new Promise((done) => setTimeout(done, 300));
        expect(await grown()).toEqual([]);
      }
      expect(ran).toEqual([]);
      expect(broken).toEqual([]);
    },
    60_000,
  );

  it("runs nothing in practice, in what is typed, in search results and in a practice file taken in", async () => {
    await page.goto(`${server.address}sled/practise/`, { waitUntil: "load" });
    await page.waitForSelector("[data-practice=round]", { visible: true });
    await page.click("[data-practice=round]");
    for (
      let asked = 0;
      asked < 12 && (await page.$eval("[data-practice=play]", (place) => !(place as HTMLElement).hidden));
      asked++
    ) {
      expect(await grown()).toEqual([]);
      const lines = await page.$$(".line");
      if (lines.length) for (const line of lines) await line.click();
      else await page.click(".opt");
      await page.click("[data-practice=answer]");
      await page.waitForSelector("[data-practice=next]:not([hidden])");
      await page.click("[data-practice=next]");
    }
    expect(await page.$eval("[data-practice=score]", (place) => place.textContent)).toMatch(/right$/);
    const file = join(work, "practice.json");
    const card = {
      due: "2026-01-01T00:00:00Z",
      stability: 1,
      difficulty: 1,
      elapsed_days: 0,
      scheduled_days: 0,
      learning_steps: 0,
      reps: 1,
      lapses: 0,
      state: 2,
      last_review: "2026-01-01T00:00:00Z",
    };
    writeFileSync(
      file,
      JSON.stringify({
        form: "rerig practice 1",
        exported: "2026-01-01T00:00:00Z",
        studied: [],
        kept: [
          {
            id: attempt(0),
            platform: "sled",
            document: attempt(0),
            title: attempt(0),
            revision: 1,
            prompt: attempt(0),
            answered: 1,
            missed: 0,
            card,
          },
        ],
      }),
    );
    await page.click("[data-practice=home-again]");
    await (await page.$("input[data-practice=import]"))!.uploadFile(file);
    await page.waitForFunction(() => /is void/.test(document.querySelector("[data-practice=changes]")!.textContent!));
    expect(await page.$eval("[data-practice=changes]", (place) => place.textContent)).toContain(
      "<script>hacked(0)</script>",
    );
    expect(await grown()).toEqual([]);
    await page.goto(`${server.address}find/?q=hacked`, { waitUntil: "networkidle0" });
    expect(await grown()).toEqual([]);
    await page.goto(server.address, { waitUntil: "load" });
    await page.type("#weight", attempt(0).slice(0, 60));
    expect(await grown()).toEqual([]);
    expect(ran).toEqual([]);
    expect(broken).toEqual([]);
  }, 120_000);

  it("runs nothing on a device that has saved the set and answers by itself, whatever it is asked for", async () => {
    page = await watched(await browser.newPage());
    await page.goto(`${server.address}device/#${encodeURIComponent(attempt(0))}`, { waitUntil: "load" });
    await page.waitForFunction(
      () => /Saved on this device/.test(document.querySelector("saved-on-device")?.textContent ?? ""),
      { timeout: 120_000, polling: 200 },
    );
    await server.stop();
    for (const path of ["no/such/page/ATTEMPT", "find/?q=ATTEMPT", "device/#ATTEMPT", "check/?code=ATTEMPT"]) {
      await page.goto(server.address + path.replace("ATTEMPT", encodeURIComponent(attempt(0))), { waitUntil: "load" });
      await new Promise((done) => setTimeout(done, 300));
      expect(await page.$("main")).not.toBeNull();
      expect(await grown(), path).toEqual([]);
    }
    expect(ran).toEqual([]);
    expect(broken).toEqual([]);
  }, 240_000);
});
