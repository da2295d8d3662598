/** Pages of a site on a device that can't keep its set, for tests of anything else. */
import type { Browser, BrowserContext, Page } from "puppeteer-core";

/**
 * A new page on which the device keeps no set: saving it takes the processor for seconds after the first visit, while
 * something else is looked at or measured.
 */
export async function newQuietPage(browser: Browser | BrowserContext): Promise<Page> {
  const page = await browser.newPage();
  await page.evaluateOnNewDocument(() => Reflect.deleteProperty(Navigator.prototype, "serviceWorker"));
  return page;
}
