/** What axe (WCAG 2.2 AA), the rules of pa11y and the breadth of a screen say of screens of the desk. */
import type { Page } from "puppeteer-core";
import { askAxe, bringAxe } from "../site/axe.ts";
import { askMarkup } from "../site/markup.ts";

/**
 * Everything found on screens with all that is folded opened, by day and night, at 1280 and 390 px; empty where nothing
 * is. `go` opens an address of the desk. The page must have no policy (`setBypassCSP`).
 */
export async function screenFaults(
  page: Page,
  addresses: readonly string[],
  go: (address: string) => Promise<unknown>,
): Promise<string[]> {
  const found: string[] = [];
  for (const address of addresses)
    for (const width of [1280, 390])
      for (const theme of ["light", "dark"]) {
        await page.setViewport({ width, height: 900 });
        await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: theme }]);
        await go(address);
        await page.evaluate(() => document.querySelectorAll("details").forEach((each) => (each.open = true)));
        // The page in the frame is the site's, whose own tests ask axe.
        await page.evaluate(() => document.querySelector("iframe")?.remove());
        await bringAxe(page);
        for (const each of await askAxe(page, theme === "light" ? "all" : "colours"))
          found.push(`${address} ${width} ${theme}: ${each}`);
        for (const each of await askMarkup(page)) found.push(`${address} ${width} ${theme}: ${each}`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        if (wide > 0) found.push(`${address} ${width}: ${wide} px too wide`);
      }
  return found;
}
