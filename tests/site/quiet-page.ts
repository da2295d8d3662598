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

/** A name that is nobody's (RFC 2606, `.test`): pages served to it are no secure context, in which no set is kept. */
const QUIET_HOST = "site.test";

/** What a program needs to look at pages of a local address in the same way, where it makes the pages itself. */
export const QUIET = {
  flags: [`--host-resolver-rules=MAP ${QUIET_HOST} localhost`],
  /** The same address by the other name. */
  address: (address: string) => address.replace("//localhost:", `//${QUIET_HOST}:`),
};
