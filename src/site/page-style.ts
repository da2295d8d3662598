/**
 * Stylesheets of single pages: what stands in the margins of a printed page, and anything else that one page alone
 * needs.
 */
import { createHash } from "node:crypto";
import { heard } from "../words/heard.ts";
import { askFor, type Site } from "./site.ts";

/** Keeps a stylesheet for the build to write, and gives its address in the site. Equal stylesheets share one file. */
export function keepStyle(site: Site, css: string): string {
  const address = `assets/page-${createHash("sha256").update(css).digest("hex").slice(0, 10)}.css`;
  askFor(site, "pageStyles", address, css);
  return address;
}

/** A CSS string literal with the text in it, whatever the text holds. */
function cssString(text: string): string {
  return `"${text.replace(/[^\p{L}\p{N} .,:;()/·–-]/gu, (sign) => `\\${sign.codePointAt(0)!.toString(16)} `)}"`;
}

/** What a page's paper says at its edges. */
interface PrintMargins {
  /** Document code and revision, or what stands for them: top left. */
  readonly code: string;
  /** The page's title: top right. */
  readonly title: string;
  /** What a reader must do before relying on the paper: bottom left. */
  readonly notice: string;
}

const PAGE = "{page}",
  PAGES = "{pages}";

/** `Page 2 of 3` as the content of a margin box, in the order in which the language has it. */
function pageOfPages(): string {
  const said = heard("cardSides").page({ page: PAGE, of: PAGES });
  return said
    .split(/(\{pages?\})/)
    .filter(Boolean)
    .map((part) => (part === PAGE ? "counter(page)" : part === PAGES ? "counter(pages)" : cssString(part)))
    .join(" ");
}

/** Margin boxes for A4 and A5 alike; Chromium counts the pages (`counter(pages)`). */
export function printMargins({ code, title, notice }: PrintMargins): string {
  const small = "font:400 8pt B612,'DejaVu Sans',sans-serif;color:#000",
    printedOn = `"${cssString(`${heard("frame").printedOn} `).slice(1, -1)}____________"`;
  return (
    `@page{@top-left{content:${cssString(code)};font:700 8.5pt B612,'DejaVu ` +
    "Sans',sans-serif;color:#000;white-space:nowrap}" +
    `@top-right{content:${cssString(title)};${small};text-align:right}` +
    `@bottom-left{content:${cssString(`${notice} `)} var(--printed-on,${printedOn});${small};text-align:left}` +
    `@bottom-right{content:${pageOfPages()};${small};white-space:nowrap;text-align:right}}`
  );
}
