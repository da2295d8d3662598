/** Asks HTML_CodeSniffer about the markup of an open page: what pa11y-ci asks, in a page that is there anyhow. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Page } from "puppeteer-core";

/** The very copy that pa11y-ci brings into its pages. */
const SNIFFER = readFileSync(
  ["pa11y-ci", "pa11y"]
    .reduce((from, name) => createRequire(from.resolve(name)), createRequire(import.meta.url))
    .resolve(join("@pa11y/html_codesniffer", "build/HTMLCS.js")),
  "utf8",
);

/** What is read of HTML_CodeSniffer in the page. */
interface Sniffer {
  process(standard: string, document: Document, done: (error?: unknown) => void): void;
  getMessages(): readonly { type: number; code: string; msg: string; element?: Element }[];
}

/** Has HTML_CodeSniffer in every page that is opened from now on: sent to the browser once and not with each page. */
export async function keepSniffer(page: Page): Promise<void> {
  await page.evaluateOnNewDocument(SNIFFER);
}

/**
 * What breaks WCAG 2 AA in the markup by HTML_CodeSniffer, as its code, what it says and the beginning of the element;
 * empty if nothing does. Its errors alone count, as for pa11y-ci: warnings and notices ask a person to look. Pa11y
 * describes every notice by all the markup in it before it drops them, which takes nearly all of its time.
 * The page must not be held to its policy (`setBypassCSP`).
 */
export async function askMarkup(page: Page): Promise<readonly string[]> {
  if (!(await page.evaluate(() => "HTMLCS" in globalThis))) await page.evaluate(SNIFFER);
  return page.evaluate(
    () =>
      new Promise<string[]>((done, fail) => {
        const sniffer = (globalThis as unknown as { HTMLCS: Sniffer }).HTMLCS;
        const ERROR = 1;
        sniffer.process("WCAG2AA", document, (error) => {
          if (error) return fail(new Error(String(error)));
          const errors = sniffer.getMessages().filter(({ type }) => type === ERROR);
          done(errors.map(({ code, msg, element }) => `${code}: ${msg} ${element?.outerHTML.slice(0, 160) ?? ""}`));
        });
      }),
  );
}
