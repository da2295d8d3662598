/** What axe (WCAG 2.2 AA), the rules of pa11y and the breadth of a screen say of screens of the desk. */
import type { Page } from "puppeteer-core";
import { leaveOutAlike } from "../../site/look/alike.ts";
import { askAxe, askColours, bringAxe } from "../../site/look/axe.ts";
import { askMarkup } from "../../site/look/markup.ts";

/** CSS px: a desk and a phone. */
const WIDTHS = [1280, 390] as const;

/**
 * Everything found on screens with all that is folded opened, by day and night, at 1280 and 390 px; empty where nothing
 * is. `go` opens an address of the desk. The page must have no policy (`setBypassCSP`).
 */
export async function screenFaults(
  page: Page,
  addresses: readonly string[],
  go: (address: string) => Promise<unknown>,
): Promise<string[]> {
  const found: string[] = [],
    asked = new Set<number>();
  // The page in the frame is the site's, whose own tests ask axe: to make it takes longer than all that is asked here.
  const client = await page.createCDPSession();
  await client.send("Network.enable");
  await client.send("Network.setBlockedURLs", { urls: ["*/site/*/"] });
  for (const address of addresses) {
    await page.setViewport({ width: WIDTHS[0], height: 900 });
    await go(address);
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll("details")) fold.open = true;
      document.querySelector("iframe")?.remove();
    });
    for (const width of [...WIDTHS].reverse()) {
      await page.setViewport({ width, height: 900 });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (wide > 0) found.push(`${address} ${width}: ${wide} px too wide`);
    }
    found.push(...(await leaveOutAlike(page)).map((each) => `${address}: ${each}`));
    await bringAxe(page);
    for (const width of WIDTHS) {
      await page.setViewport({ width, height: 900 });
      for (const theme of ["light", "dark"] as const) {
        await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: theme }]);
        const say = (each: string) => found.push(`${address} ${width} ${theme}: ${each}`);
        // A theme changes colours only.
        const ask = theme === "dark" ? askColours : askAxe;
        for (const each of await ask(page, asked)) say(each);
        if (theme === "dark") continue;
        // Neither does a width change the markup.
        if (width === WIDTHS[0]) for (const each of await askMarkup(page)) say(each);
      }
    }
  }
  await client.detach();
  return found;
}
