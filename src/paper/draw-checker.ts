/** Draws the checker's card and its key: the questions on sides of their own, the answers on another leaf. */
import type { CheckerCard, CheckerQuestion } from "../domain/cards/checker-card.ts";
import type { CardFormat } from "./card-format.ts";
import { columnWidth, roomOn, sayPart, sayWhom } from "./card-heights.ts";
import { sayDate } from "../domain/words/say.ts";
import { lowerFirst, sayList } from "../schema/wording.ts";
import { countLines, MM_PER_POINT } from "./letter-widths.ts";
import type { PrintedCard, PrintedPart } from "./printed-card.ts";
import { drawSheets } from "./draw-card.ts";
import { drawPin } from "./draw-marks.ts";
import { escapeMarkup as esc } from "../domain/words/escape.ts";
import { heard } from "../words/heard.ts";

/** How the sheets are to be printed: on both sides, with an id to link to. */
interface Sheets {
  readonly duplex?: boolean;
  readonly id?: string;
}

/** The sheets of the questions: one sitting on a side, with room to write what is seen. */
export function drawChecker(card: PrintedCard, checker: CheckerCard, format: CardFormat, sheets: Sheets = {}): string {
  const say = heard("secondLookSheet"),
    room = roomFor(card, format, say.asked) - SIGN;
  const sides = checker.sittings.flatMap((sitting) => splitByHeight(card, sitting, format, room, questionHeight));
  return drawSides(
    card,
    sides,
    format,
    sheets,
    say.secondLook,
    `<p class="c-sign">${[say.lookedAtBy, say.at].map((what) => `<span>${esc(what)}</span> <i></i>`).join(" ")}</p>`,
    say.asked,
    (question) =>
      `${drawPin(String(question.number), false)}<p class="c-ask"><b>${esc(question.thing)}</b>` +
      [question.act, sayUnless(question)].map((aside) => (aside ? `<em>${esc(aside)}</em>` : "")).join("") +
      `<span>${esc(question.question)}</span><i></i></p>`,
  );
}

/** The sheets of the key: number, line of the crew's card, answer. */
export function drawKey(card: PrintedCard, checker: CheckerCard, format: CardFormat, sheets: Sheets = {}): string {
  const say = heard("secondLookSheet"),
    room = roomFor(card, format, say.kept);
  const sides = splitByHeight(card, checker.sittings.flat(), format, room, answerHeight);
  return drawSides(
    card,
    sides,
    format,
    sheets,
    say.key,
    "",
    say.kept,
    (question) =>
      `${drawPin(String(question.number), question.critical)}<p ` +
      `class="c-q"><span>${esc(question.thing)}</span> <i></i> ` +
      `<b>${esc(question.answer)}</b><em>` +
      esc(question.line ? say.lineOfTheCard({ line: question.line }) : say.atAHold) +
      `${question.unless ? `. ${esc(sayUnless(question))}` : ""}</em></p>`,
  );
}

function drawSides(
  card: PrintedCard,
  sides: readonly (readonly CheckerQuestion[])[],
  format: CardFormat,
  sheets: Sheets,
  kind: string,
  sign: string,
  notice: string,
  draw: (question: CheckerQuestion) => string,
): string {
  const notForUse = card.notForUse && heard("secondLookSheet").notForUse({ status: card.notForUse });
  const drawn = sides.map((questions, at) => {
    const option = (question: CheckerQuestion, index: number) => {
      const part = partOf(card, question);
      if (!part || questions[index - 1]?.option === question.option) return "";
      const isAgain = index === 0 && sides[at - 1]?.at(-1)?.option === question.option;
      const only = part.only ? `<p class="c-only">${esc(heard("cardSides").only({ only: part.only }))}</p>` : "";
      return `<li class="c-part"><h3>${esc(sayPart(part, isAgain))}</h3>${only}</li>`;
    };
    const heading = at === 0 ? "h2" : "p";
    const rows = questions.map(
      (question, index) => `${option(question, index)}<li class="c-row c-left">${draw(question)}</li>`,
    );
    return (
      `<section class="c-side c-other c-checker" aria-label="` +
      `${esc(heard("cardSides").pageOf({ title: kind, page: at + 1, of: sides.length }))}"><header><div><${heading} ` +
      `class="c-name">${esc(card.title)}<span>, ${lowerFirst(kind)}</span></${heading}><p ` +
      `class="c-band">${esc(sayWhom(card))}</p></div>` +
      `<p class="c-ident">${esc(card.code)}<br>${esc(heard("cardSides").revision({ revision: card.revision ?? "" }))}` +
      `${card.checkCode ? `<br><b>${esc(card.checkCode)}</b>` : ""}</p></header>` +
      `${notForUse ? `<p class="c-only">${esc(notForUse)}</p>` : ""}${sign}` +
      `<div class="c-cols"><div class="c-col"><ol class="c-rows">${rows.join("")}</ol></div></div>` +
      `<footer><p>${esc(footFor(card, notice))}</p><p ` +
      `class="c-page">${esc(heard("cardSides").page({ page: at + 1, of: sides.length }))}</p></footer></section>`
    );
  });
  return drawSheets(drawn, format, sheets);
}

/** With what a question is not asked; empty if with everything. */
function sayUnless({ unless }: CheckerQuestion): string {
  return unless ? heard("secondLookSheet").notWithUnless({ unless: sayList(unless.map(lowerFirst)) }) : "";
}

const LINE = 1.25 * MM_PER_POINT;

function questionHeight(asked: CheckerQuestion, format: CardFormat): number {
  const { thing, act, question } = asked,
    unless = sayUnless(asked);
  const { type, pin } = format,
    width = columnWidth(format) - pin - 4;
  return (
    2.4 +
    countLines(thing, type.line, width) * type.line * LINE +
    (act ? countLines(act, type.text, width) * type.text * LINE : 0) +
    (unless ? countLines(unless, type.text, width) * type.text * LINE : 0) +
    Math.max(countLines(question, type.text, width) * type.text * LINE, 0) +
    6
  );
}

function answerHeight({ thing, answer }: CheckerQuestion, format: CardFormat): number {
  const { type, pin } = format,
    width = columnWidth(format) - pin - 4;
  const lines = countLines(`${thing} ...... ${answer}`, type.line, width * 0.9);
  return Math.max(pin + 2, lines * type.line * LINE + type.text * LINE + 1.8);
}

/**
 * The part of the card that a question is of, whose heading says when and for whom it is asked; `undefined` for what is
 * always asked.
 */
function partOf({ parts }: PrintedCard, { option }: CheckerQuestion): PrintedPart | undefined {
  if (option === undefined) return undefined;
  return parts.find(({ title }) => title === option || title?.endsWith(`: ${option}`)) ?? { title: option, lines: [] };
}

/** What stands at the foot of a side: the notice, and the day from which the card is in force. */
function footFor({ effective }: PrintedCard, notice: string): string {
  return notice + (effective ? heard("secondLookSheet").inForce({ effective: sayDate(effective) }) : "");
}

/** The line to sign on, above the questions. */
const SIGN = 10;

/** Height that a side has for its questions, with this notice at its foot. */
function roomFor(card: PrintedCard, format: CardFormat, notice: string): number {
  const { side, margin, type } = format;
  const beside = side.width - margin.left - margin.right - 30;
  const more = Math.max(0, countLines(footFor(card, notice), type.small, beside) - 2);
  return roomOn(card, format, false) - 2 - more * type.small * LINE - (card.notForUse ? type.text * LINE + 3 : 0);
}

/**
 * Parts the questions so that each side has room for its own; those of an option are parted only where a side has no
 * room for them.
 */
function splitByHeight(
  card: PrintedCard,
  questions: readonly CheckerQuestion[],
  format: CardFormat,
  room: number,
  height: (question: CheckerQuestion, format: CardFormat) => number,
): CheckerQuestion[][] {
  const heading = (question: CheckerQuestion) => {
    const part = partOf(card, question),
      width = columnWidth(format);
    if (!part) return 0;
    const titled = countLines(sayPart(part, true), format.type.head, width) * format.type.head * LINE + 4;
    return titled + (part.only ? format.type.text * LINE + 2.4 : 0);
  };
  const lengthOf = (list: readonly CheckerQuestion[]) =>
    list.reduce((sum, question) => sum + height(question, format), list[0] ? heading(list[0]) : 0);
  const sides: CheckerQuestion[][] = [[]];
  let used = 0;
  for (const [at, question] of questions.entries()) {
    const opens = questions[at - 1]?.option !== question.option;
    const rest = questions.slice(at),
      end = rest.findIndex(({ option }) => option !== question.option);
    const own = question.option === undefined || !opens ? 0 : lengthOf(end < 0 ? rest : rest.slice(0, end));
    const needed = height(question, format) + (opens ? heading(question) : 0);
    if (used + Math.max(needed, own > room ? 0 : own) > room && sides.at(-1)!.length) {
      sides.push([]);
      used = opens ? 0 : heading(question);
    }
    sides.at(-1)!.push(question);
    used += needed;
  }
  return sides;
}
