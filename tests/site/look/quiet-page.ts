/** Pages of a site on a device that can't keep its set, for tests of anything else. */
import type { Browser, BrowserContext, Page } from "puppeteer-core";
import { moveClock } from "../../browser/move-clock.ts";

/**
 * A new page on which the device keeps no set: saving it takes the processor for seconds after the first visit, while
 * something else is looked at or measured. Its day is that of the tests (`RERIG_TODAY`), at the hour that it is: what
 * runs for some days in the demo still runs when the tests do. With `on` it is noon of that day.
 */
export async function newQuietPage(browser: Browser | BrowserContext, on?: string): Promise<Page> {
  const page = await browser.newPage();
  await page.evaluateOnNewDocument(() => Reflect.deleteProperty(Navigator.prototype, "serviceWorker"));
  const day = on ?? process.env["RERIG_TODAY"];
  if (day !== undefined) await page.evaluateOnNewDocument(moveClock, day, on === undefined);
  return page;
}

/**
 * Closes a page and forgets all that a site has stored, so that the next page is that of a device which was never
 * there. A context for each would do so too, and starts a process each time.
 */
export async function closeAndForget(page: Page, address: string): Promise<void> {
  const client = await page.createCDPSession();
  // What a page stores when it is left, it stores now.
  await page.goto("about:blank");
  await client.send("Storage.clearDataForOrigin", { origin: new URL(address).origin, storageTypes: "all" });
  await page.close();
}
