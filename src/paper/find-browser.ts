/** Finds the Chromium that packs of cards are printed with. */
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";

const NAMES = ["chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome"];
const FIXED = [
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
];

/** Path of a Chromium; `undefined` if there is none. `PUPPETEER_EXECUTABLE_PATH` or `CHROME_PATH` name another one. */
export function findBrowser(): string | undefined {
  const named = [process.env["PUPPETEER_EXECUTABLE_PATH"], process.env["CHROME_PATH"]].filter(
    (path) => path !== undefined,
  );
  const onPath = (process.env["PATH"] ?? "")
    .split(delimiter)
    .flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return [...named, ...onPath, ...FIXED].find((path) => existsSync(path));
}

/** Flags for a browser without a screen, which asks nobody for anything. */
export const BROWSER_FLAGS: readonly string[] = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-dev-shm-usage",
];
