/** Prints a page of cards to a PDF in Chromium. */
import { type Browser, launch } from "puppeteer-core";
import { BROWSER_FLAGS } from "./find-browser.ts";

/**
 * `CreationDate` and `ModDate`: the only bytes in which two prints of a page without tables differ (measured with
 * Chromium 156).
 */
const DATES = /D:\d{14}\+00'00'/g;

/** The day that is written in their place: of no meaning, and as long. */
const NO_DAY = "D:20260101000000+00'00'";

/**
 * The PDF of a page: tagged, with bookmarks, on the paper that the page itself asks for. The same page gives the same
 * bytes with the same browser.
 * Throws if the browser can't be started.
 */
export async function printPdf(html: string, browserPath: string): Promise<Uint8Array> {
  // Over a pipe, so that the browser ends when this process is killed.
  const browser = await launch({ executablePath: browserPath, args: [...BROWSER_FLAGS], pipe: true });
  try {
    return await printIn(browser, html);
  } finally {
    await browser.close();
  }
}

/** As `printPdf`, in a browser that runs already and goes on running. */
export async function printIn(browser: Browser, html: string): Promise<Uint8Array> {
  const page = await browser.newPage();
  try {
    await page.setJavaScriptEnabled(false);
    await page.emulateMediaType("print");
    await page.setContent(html, { waitUntil: "load", timeout: 120_000 });
    const bytes = await page.pdf({
      preferCSSPageSize: true,
      printBackground: true,
      tagged: true,
      outline: true,
      timeout: 300_000,
      waitForFonts: true,
    });
    return withoutDates(bytes);
  } finally {
    await page.close();
  }
}

/** The PDF with the two dates set to one that never changes; offsets stay right, because the length does. */
function withoutDates(pdf: Uint8Array): Uint8Array {
  return Buffer.from(Buffer.from(pdf).toString("latin1").replace(DATES, NO_DAY), "latin1");
}
