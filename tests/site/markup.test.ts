/**
 * What is asked of the markup of every kind of page (`markup.ts`) is what pa11y-ci asks: the same errors on a page that
 * is full of them, and none on one that has none.
 */
import { spawn } from "node:child_process";
import { mkdtemp, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serveSite, type Served } from "../../src/build/serve.ts";
import { BROWSER_FLAGS, openBrowser } from "./find-browser.ts";
import { askMarkup } from "./look/markup.ts";

const { RERIG_BROWSER: browserPath } = process.env;
const PA11Y = resolve(import.meta.dirname, "../../node_modules/.bin/pa11y-ci");
/** One mistake of each of many sorts; the criteria are those of WCAG 2.1. */
const PAGES = {
  bad: `<!doctype html><html><head><title></title></head><body>
    <h3></h3><img src="data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA="><a href="#nowhere"></a>
    <a href="x"><img alt="" src="data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA="></a>
    <p id="twice">One</p><p id="twice">Two</p><p><font color="#bbbbbb">Pale</font></p>
    <form action="x"><input type="text"><select><option>One</option></select><textarea></textarea></form>
    <button></button><iframe src="about:blank"></iframe><label for="nobody">Label</label>
    <table><tr><td headers="no">1</td></tr><tr><td>2</td></tr></table><blink>Now</blink>
    <fieldset><input type="radio" name="a"><input type="radio" name="a"></fieldset><center>Old</center>
    <object></object><p lang="not-a-language">Words</p></body></html>`,
  good: `<!doctype html><html lang="en"><head><title>Title</title></head><body><h1>Title</h1>
    <p>Words.</p><form action="x"><label for="name">Name</label> <input id="name"><button>Go</button></form>
    </body></html>`,
};

describe.skipIf(!browserPath)("errors in markup", () => {
  let work: string, served: Served, browser: Browser;
  beforeAll(async () => {
    work = await mkdtemp(join(tmpdir(), "rerig-markup-"));
    for (const [name, html] of Object.entries(PAGES)) {
      await mkdir(join(work, "site", name), { recursive: true });
      await writeFile(join(work, "site", name, "index.html"), html);
    }
    served = await serveSite(join(work, "site"), 0);
    browser = await openBrowser(browserPath!);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    served?.server.close();
    await rm(work, { recursive: true, force: true });
  });
  const address = (name: string) => `${served.address}${name}/`;

  /** Code and words of each error that pa11y-ci finds, by the address of the page. */
  async function pa11yFinds(): Promise<Readonly<Record<string, readonly { code: string; message: string }[]>>> {
    const config = join(work, "pa11y.json"),
      report = join(work, "results.json");
    const defaults = {
      standard: "WCAG2AA",
      runners: ["htmlcs"],
      concurrency: 1,
      reporters: [["json", { fileName: report }]],
      useIncognitoBrowserContext: false,
      timeout: 60_000,
      viewport: { width: 1280, height: 900 },
      chromeLaunchConfig: { executablePath: browserPath, args: [...BROWSER_FLAGS] },
    };
    await writeFile(config, JSON.stringify({ defaults, urls: Object.keys(PAGES).map(address) }));
    const code = await new Promise((done) =>
      spawn(process.execPath, [PA11Y, "-c", config], { stdio: "ignore" }).once("exit", done),
    );
    // 2: there are errors (pa11y-ci, readme, "Exit codes").
    expect(code).toBe(2);
    const { results } = JSON.parse(await readFile(report, "utf8")) as { results: never };
    return results;
  }

  it("are those that pa11y-ci finds", async () => {
    const found = await pa11yFinds();
    const page = await browser.newPage();
    await page.setBypassCSP(true);
    await page.setViewport({ width: 1280, height: 900 });
    for (const name of Object.keys(PAGES)) {
      await page.goto(address(name), { waitUntil: "load" });
      const said = (await askMarkup(page)).map((line) => line.replace(/ <[^]*$/, "").trimEnd());
      const there = found[address(name)]!.map(({ code, message }) => `${code}: ${message.replace(/ <[^]*$/, "")}`);
      expect(said.sort(), name).toEqual(there.sort());
      expect(there.length, name).toBeGreaterThanOrEqual(name === "bad" ? 15 : 0);
    }
    expect(found[address("good")]).toEqual([]);
  }, 120_000);
});
