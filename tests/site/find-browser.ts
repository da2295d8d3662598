/** The browser of the tests: found as for PDF packs, or installed where the user may. */
import { execFileSync, spawnSync } from "node:child_process";
import { findBrowser } from "../../src/paper/find-browser.ts";

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
