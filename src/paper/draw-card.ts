/**
 * Draws the sides of a card as HTML. The site's pages and the PDF packs both use it, so that they can't print different
 * cards.
 */
import type { CardFormat } from "./card-format.ts";
import {
  type CardBlock,
  columnWidth,
  footOf,
  hasCopies,
  headOf,
  isNarrow,
  lastDayOf,
  headOfCount,
  sayOwnEnd,
  sayPart,
  sayWhom,
  titlePoints,
} from "./card-heights.ts";
import type { CardLayout, CardSide } from "./card-layout.ts";
import type { PrintedCard, PrintedLine } from "./printed-card.ts";
import {
  drawComb,
  drawFrame,
  drawHatch,
  drawPin,
  drawPlan,
  drawRail,
  drawTriangle,
  drawUpright,
} from "./draw-marks.ts";
import { escapeMarkup as esc } from "../domain/words/escape.ts";
import { drawQr } from "./qr.ts";
import { sayDate } from "../domain/words/say.ts";
import { heard } from "../words/heard.ts";

/** Which copy of a card is drawn; without one the number is left open, and the card says that it is not controlled. */
export interface Copy {
  readonly folder: string;
  readonly number: number;
}

/**
 * All sheets of a card, each a page of paper. `duplex` adds an empty side where the last leaf has one, for a pack that
 * is printed on both sides.
 */
export function drawCard(
  card: PrintedCard,
  layout: CardLayout,
  { copy, duplex = false, id }: { copy?: Copy | undefined; duplex?: boolean; id?: string } = {},
): string {
  const { format, sides } = layout;
  const optionsPage = sides.find(({ columns }) => columns.flat().some(({ kind }) => kind === "part"))?.page ?? 1;
  return drawSheets(
    sides.map((side) => drawSide(card, format, side, { of: sides.length, copy, optionsPage })),
    format,
    { duplex, id },
  );
}

/**
 * Sides on their sheets: one on each, or two next to each other on paper that is folded. `duplex` adds an empty side
 * where the last leaf has one.
 */
export function drawSheets(
  sides: readonly string[],
  format: CardFormat,
  { duplex = false, id }: { duplex?: boolean | undefined; id?: string | undefined } = {},
): string {
  const drawn =
    (duplex || format.folded) && sides.length % 2
      ? [...sides, `<section class="c-side c-blank"><p>${esc(heard("cardSides").leftBlank)}</p></section>`]
      : sides;
  const sheets = format.folded ? drawn.flatMap((side, at) => (at % 2 ? [] : [side + drawn[at + 1]!])) : drawn;
  return sheets
    .map((sheet, at) => `<div class="c-sheet c-${format.id}"${id && at === 0 ? ` id="${id}"` : ""}>${sheet}</div>`)
    .join("\n");
}

/** What a side knows of the whole card. */
interface Around {
  readonly of: number;
  readonly copy: Copy | undefined;
  /** On which page the options' lines begin. */
  readonly optionsPage: number;
}

function drawSide(card: PrintedCard, format: CardFormat, side: CardSide, around: Around): string {
  const { page, columns, isFront, continues, continued } = side,
    { of } = around;
  const heading = isFront ? "h2" : "p";
  const opens = columns.flat().find(({ kind }) => kind !== "lookers");
  const rest = continued
    ? heard("cardSides").andContinued
    : !isFront && opens?.kind === "part"
      ? heard("cardSides").andOptions
      : "";
  const size = isFront && titlePoints(card, format) < format.type.title ? " c-long" : "";
  const name = `${esc(card.title)}${rest && `<span>${rest}</span>`}`;
  return (
    `<section class="c-side ${isFront ? "c-front" : "c-other"}${format.columns === 2 ? " c-two" : ""}" ` +
    `aria-label="${esc(heard("cardSides").pageOf({ title: card.title, page, of }))}">${drawFrame(card, format)}` +
    `<header><div><${heading} class="c-name${size}">${name}</${heading}>` +
    `<p class="c-band">${esc(sayWhom(card))}</p></div><p class="c-ident">` +
    headOf(card, format, isFront)
      .ident.map((line) => esc(line))
      .join("<br>") +
    `${card.checkCode ? `<br><b>${esc(card.checkCode)}</b>` : ""}</p></header>` +
    (isFront && format.hasRail && card.rail ? drawRail(card, format) : "") +
    `<div class="c-cols">` +
    columns.map((blocks) => `<div class="c-col">${drawBlocks(card, format, blocks, around)}</div>`).join("") +
    "</div>" +
    `<footer><p>${drawFoot(card)}</p><p ` +
    `class="c-page">${continues ? `<b>${esc(heard("cardSides").continuedOnPage({ page: page + 1 }))}</b><br>` : ""}` +
    `${esc(heard("cardSides").page({ page, of }))}</p></footer></section>`
  );
}

function drawFoot(card: PrintedCard): string {
  const { strong, text } = footOf(card);
  return strong ? `<b>${esc(strong)}</b> ${esc(text)}` : esc(text);
}

/** Blocks one below the other; neighbouring lines are one list. */
function drawBlocks(card: PrintedCard, format: CardFormat, blocks: readonly CardBlock[], around: Around): string {
  let html = "",
    open = false;
  // Options that begin in this column stand below what its own lines end with.
  const optionsPage = blocks.some((block) => block.kind === "part" && !block.again) ? undefined : around.optionsPage;
  for (const block of blocks) {
    const isLine = block.kind === "line";
    if (isLine !== open) html += isLine ? '<ol class="c-rows">' : "</ol>";
    open = isLine;
    html += drawBlock(card, format, block, { ...around, optionsPage });
  }
  return html + (open ? "</ol>" : "");
}

function drawBlock(
  card: PrintedCard,
  format: CardFormat,
  block: CardBlock,
  { copy, optionsPage }: Pick<Around, "copy"> & { readonly optionsPage: number | undefined },
): string {
  const say = heard("cardSides");
  switch (block.kind) {
    case "lookers":
      return (
        `<p class="c-lookers"><b>${esc(say.looks({ who: card.leftLooks! }))}</b>` +
        `<b>${esc(say.looks({ who: card.rightLooks! }))}</b></p>`
      );
    case "line":
      return block.line.kind === "alarm"
        ? `<li>${drawAlarm(block.line)}</li>`
        : drawLine(block.line, block.stacked, block.beside);
    case "part":
      return (
        `<div class="c-part"><h3>${esc(sayPart(block.part, block.again))}</h3>` +
        `${block.part.only ? `<p class="c-only">${esc(say.only({ only: block.part.only }))}</p>` : ""}</div>`
      );
    case "end":
      return (
        `<div class="c-end"><p>` +
        (block.own
          ? sayOwnEnd(card, optionsPage)
              .map(({ strong, text }) => `<b>${esc(strong)}</b> ${esc(text)}`.trim())
              .join(" ")
          : `<b class="c-eoc">${esc(say.endOfCard)}</b> ${esc(say.sayComplete({ complete: card.complete }))}`) +
        `</p><p><b>${esc(say.noMatch)}</b> ${esc(say.noMatchThen)}</p></div>`
      );
    case "warning":
      return drawAlarm(card.warnings[block.at]!);
    // Lists and no tables: Chromium names the headings of tables in a PDF by numbers that are not the same from print
    // to print.
    case "count":
      return (
        (block.plan ? `<div class="c-beside">${drawUpright(card.plan!, block.plan, format)}` : "") +
        `<div class="c-count"><div class="c-counted"><h3>${esc(headOfCount(card))}</h3>` +
        `<p class="c-over">` +
        [say.pieces, say.out, say.in].map((over) => `<span>${esc(over)}</span>`).join("") +
        "</p></div><ul>" +
        card.count
          .slice(...block.rows)
          .map(
            ({ number, item, place, count }) =>
              `<li><span><b>${number}</b> ${esc(item)}, ${esc(place)}</span> <b>${count}</b> ` +
              `<i class="c-box"></i> <i class="c-box"></i></li>`,
          )
          .join("") +
        `</ul></div>${block.plan ? "</div>" : ""}`
      );
    case "walk":
      return (
        `<p class="c-walk"><b>${esc(say.walk)}</b> ` +
        (card.walk ?? [])
          .map(({ place, fetched }, at) => `<b>${at + 1} ${esc(place)}</b> (${esc(fetched)})`)
          .join("; ") +
        "</p>"
      );
    case "change":
      return (
        `<p class="c-change"><b>${esc(say.countWithIt)}</b> ` +
        block.changes
          .map(
            ({ place, pieces }) =>
              `${esc(place)}: ${pieces.map(({ item, count }) => `${esc(item)} <b>${esc(count)}</b>`).join(", ")}`,
          )
          .join("; ") +
        "</p>"
      );
    case "loads":
      return (
        `<div class="c-loads"><h3>${esc(say.loaded)}${standsFor(card)}</h3><ul>` +
        card.loads
          .map(({ label, kg, mm }) => `<li><span>${esc(label)}</span> <b>${esc(kg)}</b> <b>${esc(mm)}</b></li>`)
          .join("") +
        "</ul></div>"
      );
    case "plan":
      return (
        `<div class="c-plan-card"><h3>${esc(say.whereItStands)}${standsFor(card)}</h3>` +
        `${drawPlan(card.plan!, block.drawing, format)}</div>`
      );
    case "control":
      return drawControl(card, format, copy);
  }
}

/** What count, masses and drawing stand for, where options stand apart on the card. */
function standsFor({ standsFor: words }: PrintedCard): string {
  return words === undefined ? "" : `, ${esc(words)}`;
}

function drawAlarm({ signal, text }: PrintedCard["warnings"][number]): string {
  const word = signal === "warning" ? heard("cardSides").warning : heard("cardSides").caution;
  return (
    `<div class="c-alarm c-${signal}"><p><b class="c-word">` +
    `${signal === "warning" ? drawTriangle() : ""}${esc(word)}</b> ${esc(text)}</p>` +
    `${signal === "warning" ? drawHatch() : ""}</div>`
  );
}

function drawLine(line: Exclude<PrintedLine, { kind: "alarm" }>, stacked: boolean, beside = false): string {
  if (line.kind === "pause")
    return `<li class="c-pause"><b>${esc(heard("cardSides").pause)}</b> ${esc(line.text)}</li>`;
  const aside = line.aside ? `<em>${esc(line.aside)}</em>` : "";
  if (line.kind === "hold") {
    const pins = (side: "left" | "right") =>
      line.lane === side || line.lane === "both" || (line.lane === "free" && side === "right")
        ? drawPin("", false)
        : "";
    return (
      `<li class="c-hold"><div>${pins("left")}<strong>${esc(heard("cardSides").hold)}</strong><p>${esc(line.text)}` +
      line.looks.map((look) => ` <b>${esc(look)}</b>`).join("") +
      `${aside}</p>${pins("right")}</div>${drawComb()}</li>`
    );
  }
  const words =
    line.kind === "step"
      ? `<p class="c-q"><span class="c-say">${esc(line.text)}</span>${aside}</p>`
      : `<p class="c-q${stacked ? " c-stacked" : ""}${beside ? " c-by" : ""}"><span>${esc(line.challenge)}</span> ` +
        `${beside ? aside : ""}<i></i> <b>${esc(line.answer)}</b>${beside ? "" : aside}</p>`;
  const one = line.kind === "check" && !stacked && !line.aside ? " c-one" : "";
  return (
    `<li class="c-row c-${line.lane}${one}">${drawPin(String(line.number), line.critical)}${words}` +
    `${line.lane === "both" ? drawPin("", line.critical) : ""}</li>`
  );
}

function drawControl(card: PrintedCard, format: CardFormat, copy: Copy | undefined): string {
  const narrow = isNarrow(format, columnWidth(format));
  const row = (label: string, value: string) => `<dt>${esc(label)}</dt><dd>${value}</dd>`;
  return (
    `<div class="c-control${narrow ? " c-narrow" : ""}"><dl>` +
    (hasCopies(card)
      ? row(
          copy ? heard("cardSides").copy : heard("cardSides").copyNumber,
          copy ? `<b>${copy.number}</b> ${narrow ? "" : esc(copy.folder)}` : "<b>________</b>",
        )
      : "") +
    (card.checkCode ? row(heard("cardSides").checkCode, `<b>${esc(card.checkCode)}</b>`) : "") +
    (card.effective && !card.notForUse
      ? row(
          card.edition === undefined
            ? heard("cardSides").inForceFrom
            : heard("cardSides").editionFrom({ edition: card.edition }),
          sayDate(card.effective),
        )
      : "") +
    row(card.notForUse ? heard("cardSides").state : heard("cardSides").doNotUseAfter, esc(lastDayOf(card))) +
    "</dl>" +
    (card.address
      ? `${drawQr(card.address, esc(heard("cardSides").isThisCardCurrent({ address: card.address })))}` +
        `<p class="c-address">` +
        `${esc(heard("cardSides").isItCurrent({ address: card.address }))}</p>`
      : "") +
    `</div>`
  );
}
