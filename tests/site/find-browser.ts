/** The browser of the tests: found as for PDF packs, or installed where the user may. */
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";
import puppeteer, { type Browser, type LaunchOptions } from "puppeteer-core";
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

/**
 * A browser whose pages run their scripts on one thread each: V8's helpers took a third of a page's processor time
 * while axe looked at it, and two test files at a time have no core to spare. `args` come beside the usual ones.
 */
export function openBrowser(executablePath: string, { args = [], ...others }: LaunchOptions = {}): Promise<Browser> {
  return puppeteer.launch({
    ...others,
    executablePath,
    args: [...BROWSER_FLAGS, "--js-flags=--single-threaded", ...args],
  });
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
