/**
 * A pack of cards as one HTML page: a contents page, which is the list of effective cards, then the cards, then second
 * looks and their keys. Everything it needs is inside it.
 */
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import type { CardFormat } from "./card-format.ts";
import { sayWhom } from "./card-heights.ts";
import { layoutCard } from "./card-layout.ts";
import { sayDate } from "../domain/words/say.ts";
import type { CheckerCard } from "../domain/cards/checker-card.ts";
import type { PrintedCard } from "./printed-card.ts";
import { type Copy, drawCard, drawSheets } from "./draw-card.ts";
import { drawChecker, drawKey } from "./draw-checker.ts";
import { escapeMarkup as esc } from "../domain/words/escape.ts";
import { heard } from "../words/heard.ts";
import { changeTexts, directionOf, isolateMeasures } from "../words/isolate.ts";
import { breakLongWords } from "../words/long-words.ts";

/** A card of the pack, and for a folder which copy it is. */
interface PackCard {
  readonly card: PrintedCard;
  readonly copy?: Copy | undefined;
}

/** The second look at what a card is for. */
export interface PackLook {
  readonly card: PrintedCard;
  readonly checker: CheckerCard;
}

/** The slip of a temporary amendment that lies over cards of the folder, as the list says it. */
export interface PackSlip {
  readonly title: string;
  readonly about: string;
  readonly from: string;
  readonly code: string;
  /** What stands where a card has the number of its copy. */
  readonly copy: string;
}

interface Pack {
  readonly title: string;
  readonly language: string;
  readonly format: CardFormat;
  readonly cards: readonly PackCard[];
  /** Checker's cards, each with its key; all keys stand at the end, so that they can be kept apart. */
  readonly looks?: readonly PackLook[];
  /** Slips that belong in the folder, though they are no cards: without them on the list they would be thrown out. */
  readonly slips?: { readonly heading: string; readonly rows: readonly PackSlip[] };
}

const FONTS = [
  ["B612", "b612", 400],
  ["B612", "b612", 700],
  ["B612 Mono", "b612-mono", 400],
  ["B612 Mono", "b612-mono", 700],
] as const;

/** The whole pack as HTML. The same cards give the same bytes. */
export async function packHtml({ title, language, format, cards, looks = [], slips }: Pack): Promise<string> {
  const { width, height } = format.sheet;
  const styles = [
    await fontFaces(),
    `@page{size:${width}mm ${height}mm;margin:0}`,
    BASE,
    await readFile(resolve(import.meta.dirname, "../styles/pages/card.css"), "utf8"),
  ].join("\n");
  const drawn = [
    ...cards.map(({ card, copy }, at) =>
      drawCard(card, layoutCard(card, format), { copy, duplex: true, id: `card-${at + 1}` }),
    ),
    ...looks.map(({ card, checker }, at) => drawChecker(card, checker, format, { duplex: true, id: `look-${at + 1}` })),
    ...looks.map(({ card, checker }, at) => drawKey(card, checker, format, { duplex: true, id: `key-${at + 1}` })),
  ];
  const direction = directionOf(language),
    page =
      `<!doctype html>\n<html lang="${esc(language)}"${direction ? ` dir="${direction}"` : ""} class="card-paper">` +
      `<head><meta charset="utf-8"><title>${esc(title)}</title><style>${styles}</style></head><body><main ` +
      `class="c-sheets">\n` +
      `${drawContents(title, format, listRows(cards, looks, slips))}\n${drawn.join("\n")}\n</main></body></html>\n`;
  return changeTexts(page, (text) => breakLongWords(direction ? isolateMeasures(text) : text));
}

/** Cards on a page of the list. */
const ROWS: Readonly<Record<CardFormat["paper"], number>> = { A4: 16, A5: 14, A6: 8 };

/** What stands on the list: a card, or the heading of those that follow. */
type ListRow =
  | { readonly id: string; readonly card: PrintedCard; readonly copy: string }
  | { readonly slip: PackSlip }
  | { readonly heading: string };

function listRows(
  cards: readonly PackCard[],
  looks: readonly PackLook[],
  slips: Pack["slips"] = { heading: "", rows: [] },
): ListRow[] {
  const own = [
    ...cards.map(({ card, copy }, at): ListRow => ({
      id: `card-${at + 1}`,
      card,
      copy: copy ? String(copy.number) : "____",
    })),
    ...(slips.rows.length > 0 ? [{ heading: slips.heading }, ...slips.rows.map((slip): ListRow => ({ slip }))] : []),
  ];
  if (looks.length === 0) return own;
  const rowsOf = (kind: string) =>
    looks.map(({ card }, at): ListRow => ({ id: `${kind}-${at + 1}`, card, copy: "____" }));
  return [
    ...own,
    { heading: heard("cardPack").secondLooksForWhoever },
    ...rowsOf("look"),
    { heading: heard("cardPack").keysKeepThemApart },
    ...rowsOf("key"),
  ];
}

function drawContents(title: string, format: CardFormat, rows: readonly ListRow[]): string {
  const pages = pagesOf(
    rows,
    format.landscape && !format.folded ? Math.floor(ROWS[format.paper] / 2) : ROWS[format.paper],
  );
  const list = heard("cardList");
  // A list of what is coming, printed beforehand, must not be taken for today's.
  const newest = rows
    .flatMap((row) => ("card" in row && row.card.effective) || [])
    .sort()
    .at(-1);
  const heading = newest ? list.titleFrom({ day: sayDate(newest) }) : list.title;
  const columns = [list.card, list.revision, list.effective, list.checkCode, list.copy]
    .map((each) => `<span>${esc(each)}</span>`)
    .join("");
  const sides = pages.map(
    (own, page) =>
      `<section class="c-side c-other c-contents"><header><div>` +
      (page === 0
        ? `<h1 class="c-name">${esc(title)}</h1>`
        : `<p class="c-name">${esc(title)}<span>${esc(heard("cardList").continued)}</span></p>`) +
      `<p class="c-band">${esc(heading)}</p></div></header>` +
      `<div class="c-cols"><div class="c-col"><p class="c-over">${columns}</p>` +
      `<ul>${own.map(drawRow).join("")}</ul></div></div>` +
      `<footer><p>${esc(heard("cardList").checkEvery)}</p><p class="c-page">` +
      `${esc(heard("cardList").page({ page: page + 1, pages: pages.length }))}</p></footer></section>`,
  );
  return drawSheets(sides, format, { duplex: true });
}

/** A heading is not left alone at the end of a page. */
function pagesOf(rows: readonly ListRow[], most: number): ListRow[][] {
  const pages: ListRow[][] = [[]];
  for (const row of rows) {
    // A slip says more than a card, in as much room as two.
    const used = pages.at(-1)!.reduce((sum, before) => sum + ("slip" in before ? 2 : 1), 0);
    if (used + ("heading" in row || "slip" in row ? 1 : 0) >= most) pages.push([]);
    pages.at(-1)!.push(row);
  }
  return pages;
}

function drawRow(row: ListRow): string {
  if ("heading" in row) return `</ul><h2 class="c-list">${esc(row.heading)}</h2><ul>`;
  if ("slip" in row) {
    const { title, about, from, code, copy } = row.slip;
    return (
      `<li><span><b>${esc(title)}</b><span>${esc(about)}</span></span> <span></span> <span>${esc(from)}</span> ` +
      `<b class="c-word">${esc(code)}</b> <span>${esc(copy)}</span></li>`
    );
  }
  const { id, card, copy } = row,
    edition = card.edition === undefined ? undefined : heard("cardList").edition({ edition: card.edition });
  return (
    `<li><span><a href="#${id}">${esc(card.title)}</a><small>${esc(card.code)}</small>` +
    `${card.isPart || card.fitted ? `<span>${esc(sayWhom(card))}</span>` : ""}</span> ` +
    `<span>${card.revision ?? ""}${edition === undefined ? "" : `<small>${esc(edition)}</small>`}</span> ` +
    `<span>${card.effective ? sayDate(card.effective) : ""}</span> ` +
    `<b class="c-word">${esc(card.checkCode ?? "")}</b> <span>${copy}</span></li>`
  );
}

const BASE =
  "html,body{margin:0}ol{list-style:none}" +
  ".hide{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden;white-space:nowrap}" +
  "a{color:inherit;text-decoration:none}.c-contents ul{margin:0;padding:0;list-style:none}.c-contents " +
  "li,.c-contents .c-over{display:grid;grid-template-columns:minmax(0,1fr) 9% 24% 21% 10%;gap:0 " +
  "calc(1.5*var(--u));align-items:center}" +
  ".c-contents li{border-bottom:calc(.25*var(--u)) solid #000;padding:calc(1.2*var(--u)) 0}.c-side.c-contents " +
  ".c-over{font-size:calc(8.5*var(--p));padding:calc(3*var(--u)) 0 " +
  "calc(1*var(--u));border-bottom:calc(.7*var(--u)) solid #000}" +
  ".c-contents .c-list{margin:0;padding:calc(3*var(--u)) 0 " +
  "calc(.8*var(--u));font-size:calc(11*var(--p));border-bottom:calc(.7*var(--u)) solid #000}.c-contents " +
  "ul:empty{display:none}.c-contents a{font-weight:700}.c-contents small{display:block;font:400 " +
  'calc(8.5*var(--p)) "B612 Mono",monospace}.c-contents ' +
  "li>span>span{display:block;font-size:calc(8.5*var(--p))}.c-contents .c-word{font:700 calc(10*var(--p)) " +
  '"B612 Mono",monospace;white-space:nowrap}.c-a6 .c-contents,.c-a6-landscape .c-contents,.c-a6 .c-contents ' +
  ".c-word,.c-a6-landscape .c-contents .c-word{font-size:8.5pt}";

/** The faces of the cards, as data in the page: whoever opens it needs no file beside it. */
async function fontFaces(): Promise<string> {
  const require = createRequire(import.meta.url);
  const faces = await Promise.all(
    FONTS.map(async ([family, name, weight]) => {
      const file = join(
        require.resolve(`@fontsource/${name}/package.json`),
        `../files/${name}-latin-${weight}-normal.woff2`,
      );
      const bytes = (await readFile(file)).toString("base64");
      return (
        `@font-face{font-family:${JSON.stringify(family)};font-weight:${weight};` +
        `src:url(data:font/woff2;base64,${bytes}) format("woff2")}`
      );
    }),
  );
  return faces.join("\n");
}
