/** Finds the browser that tests and PDF packs need, or installs it where the user may. */
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";

const NAMES = ["chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome"];
const FIXED = ["/Applications/Chromium.app/Contents/MacOS/Chromium", "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"];

/** Path of a Chromium; `undefined` if there is none. `PUPPETEER_EXECUTABLE_PATH` or `CHROME_PATH` name another one. */
export function findBrowser(): string | undefined {
  const named = [process.env["PUPPETEER_EXECUTABLE_PATH"], process.env["CHROME_PATH"]].filter((path) => path !== undefined);
  const onPath = (process.env["PATH"] ?? "").split(delimiter).flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return [...named, ...onPath, ...FIXED].find((path) => existsSync(path));
}

/** Path of a Chromium, installed with apt if need be; throws with what to do if that can't be done here. */
export function needBrowser(): string {
  const found = findBrowser() ?? (mayInstall() ? installBrowser() : undefined);
  if (found) return found;
  throw new Error("The tests look at pages in Chromium, and there is none. Install it (Debian, Ubuntu: `sudo apt-get install chromium`), or set CHROME_PATH to one, and run them again.");
}

function mayInstall(): boolean {
  return process.getuid?.() === 0 && spawnSync("apt-get", ["--version"]).status === 0;
}

function installBrowser(): string | undefined {
  process.stderr.write("No Chromium found: installing it with apt-get\n");
  try {
    execFileSync("apt-get", ["update", "-qq"], { stdio: ["ignore", "ignore", "inherit"] });
    execFileSync("apt-get", ["install", "-y", "-qq", "chromium"], { stdio: ["ignore", "ignore", "inherit"] });
  } catch {
    return undefined;
  }
  return findBrowser();
}

/** Flags for a browser without a screen, which asks nobody for anything. */
export const BROWSER_FLAGS: readonly string[] = [
  "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
];
