/** The browser of the tests: found as for PDF packs, or installed where the user may. */
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";
import puppeteer, { type Browser, type LaunchOptions, type Target } from "puppeteer-core";
import { BROWSER_FLAGS, findBrowser } from "../../src/paper/find-browser.ts";

export { BROWSER_FLAGS, findBrowser } from "../../src/paper/find-browser.ts";

/** Path of a Chromium, installed with apt if need be; throws with what to do if that can't be done here. */
export function needBrowser(): string {
  const found = findBrowser() ?? (mayInstall() ? installBrowser() : undefined);
  if (found) return found;
  throw new Error(
    "The tests look at pages in Chromium, and there is none. Install it (Debian, Ubuntu: `sudo apt-get " +
      "install chromium`), or set CHROME_PATH to one, and run them again.",
  );
}

/** Chromium built without what only a window needs. */
const SHELL = "chromium-headless-shell";

/**
 * The browser for pages that are looked at and never printed: where the shell is installed that one, which takes a
 * fifth less of processor time for the same page, else the one given. On paper the shell leaves out margin boxes. One
 * that is named (`CHROME_PATH`) is always taken.
 */
export function forScreens(browser: string | undefined): string | undefined {
  const isNamed = process.env["PUPPETEER_EXECUTABLE_PATH"] ?? process.env["CHROME_PATH"];
  if (browser === undefined || isNamed !== undefined) return browser;
  const all = (process.env["PATH"] ?? "").split(delimiter).map((folder) => join(folder, SHELL));
  return all.find((path) => existsSync(path)) ?? browser;
}

/** A browser that a test file asks for: its lane (one file after the other), program and flags. */
export interface WantedBrowser {
  readonly lane: string;
  readonly executablePath: string;
  readonly args: readonly string[];
}

/**
 * Flags of the tests' browsers. Pages run their scripts on one thread each: V8's helpers took a third of a page's
 * processor time while axe looked at it, and two test files at a time have no core to spare. All pages of a browser are
 * one process: to start one for each page takes a third of what opening it takes.
 */
const FLAGS = [...BROWSER_FLAGS, "--js-flags=--single-threaded", "--renderer-process-limit=1"];

/**
 * A browser for a test file: the one that its lane keeps, where nothing particular is asked of it and a run keeps some
 * (`tests/builder/keep-browsers.ts`), else one of its own. To close it closes what the file has opened in it and
 * forgets all that its sites have stored. `args` come beside the usual ones.
 */
export async function openBrowser(executablePath: string, options: LaunchOptions = {}): Promise<Browser> {
  const keeper = process.env["RERIG_BROWSERS"];
  if (keeper && Object.keys(options).length === 0) return openKept(keeper, executablePath);
  const { args = [], ...others } = options;
  return puppeteer.launch({ ...others, executablePath, args: [...FLAGS, ...args] });
}

async function openKept(port: string, executablePath: string): Promise<Browser> {
  const lane = process.env["VITEST_POOL_ID"] ?? "",
    wanted: WantedBrowser = { lane, executablePath, args: FLAGS },
    response = await fetch(`http://127.0.0.1:${port}`, { method: "POST", body: JSON.stringify(wanted) }),
    answer = await response.text();
  if (!response.ok) throw new Error(answer);
  const browser = await puppeteer.connect({ browserWSEndpoint: answer }),
    // Without any page a browser ends.
    [first] = await browser.pages(),
    origins = new Set<string>();
  const note = (target: Target) => {
    if (/^https?:/.test(target.url())) origins.add(new URL(target.url()).origin);
  };
  browser.on("targetcreated", note).on("targetchanged", note);
  browser.close = async () => {
    for (const context of browser.browserContexts().filter((each) => each !== browser.defaultBrowserContext()))
      await context.close();
    for (const page of await browser.pages()) if (page !== first) await page.close();
    const session = await first!.createCDPSession();
    for (const origin of origins) await session.send("Storage.clearDataForOrigin", { origin, storageTypes: "all" });
    await browser.disconnect();
  };
  return browser;
}

function mayInstall(): boolean {
  return process.getuid?.() === 0 && spawnSync("apt-get", ["--version"]).status === 0;
}

function installBrowser(): string | undefined {
  process.stderr.write("No Chromium found: installing it with apt-get\n");
  try {
    execFileSync("apt-get", ["update", "-qq"], { stdio: ["ignore", "ignore", "inherit"] });
    for (const name of ["chromium", SHELL])
      execFileSync("apt-get", ["install", "-y", "-qq", name], { stdio: ["ignore", "ignore", "inherit"] });
  } catch {
    // Not every release has the shell.
  }
  return findBrowser();
}
