/** How high each piece of a card is at most, from the widths of its letters; a browser is asked about every one. */
import { widthOf, countLines, MM_PER_POINT } from "./letter-widths.ts";
import type { CardFormat } from "./card-format.ts";
import type { PrintedCard, PrintedChange, PrintedCount, PrintedLine, PrintedPart } from "./printed-card.ts";
import { sayDate } from "../domain/words/say.ts";
import { heard } from "../words/heard.ts";

/** What a block draws. */
type BlockKind =
  | { readonly kind: "lookers" }
  /** `stacked`: the answer below its challenge; `beside`: what is said of the line stands after the challenge then. */
  | { readonly kind: "line"; readonly line: PrintedLine; readonly stacked: boolean; readonly beside?: boolean }
  /** `again`: the heading once more, above lines of the part that go on over the page. */
  | { readonly kind: "part"; readonly part: PrintedPart; readonly again?: boolean }
  /** `own`: of the card's own lines, where options' lines follow; else of the card. */
  | { readonly kind: "end"; readonly own: boolean }
  | { readonly kind: "warning"; readonly at: number }
  /** `rows`: from which row of the count to before which; `plan` is the drawing beside it, where there is one. */
  | { readonly kind: "count"; readonly rows: readonly [number, number]; readonly plan?: UprightPlan }
  /** The stores of a changeover, in the order in which one walks. */
  | { readonly kind: "walk" }
  /** What an option changes in the count. */
  | { readonly kind: "change"; readonly changes: readonly ChangesAt[] }
  | { readonly kind: "loads" }
  /** `drawing` is the height of the drawing below its heading. */
  | { readonly kind: "plan"; readonly drawing: number }
  | { readonly kind: "control" };

/** The drawing standing upright, head end on top, in millimetres before scaling. */
export interface UprightPlan {
  readonly width: number;
  readonly height: number;
}

/** What an option changes in one place: the pieces of each thing there; the count as it is said. */
interface ChangesAt {
  readonly place: string;
  readonly pieces: readonly { readonly item: string; readonly count: string }[];
}

/**
 * A piece of a card that is never split. `height` is what it takes at most, in millimetres before scaling; `under` is
 * the heading that has to stand above it on every side, if there is one.
 */
export type CardBlock = BlockKind & { readonly height: number; readonly under?: CardBlock };

/** Advance of every sign of B612 Mono in ems (650 of 1000; a sign that it lacks may be as wide as an em). */
const MONO = 0.65;

/** Width of a code in millimetres. */
function monoWidth(code: string, points: number): number {
  return sum([...code].map((sign) => (sign <= "\u007f" ? MONO : 1))) * points * MM_PER_POINT;
}

/** Space that browsers may add by rounding to 1/64 of a pixel, per block. */
const SLACK = 0.04;
/** Chromium rounds positions to 1/64 px; one thousandth of a line is more than that. */
const SURE = 1.002;
const LEADING = 1.25;
/** Padding and rule of the line that says who looks. */
const LOOKERS = 1.5;
/** A dotted line shorter than this leads nowhere. */
const LEADER = 8;
/** Borders and padding of a hold. */
const HOLD_EDGES = 2;
/** The comb under a hold. */
const COMB = 1.3;

const lineHeight = (points: number, leading = LEADING): number => points * MM_PER_POINT * leading;

/** Width of a column of the card. */
export function columnWidth({ side, margin, columns, gap }: CardFormat): number {
  return (side.width - margin.left - margin.right - (columns - 1) * gap) / columns;
}

/** What stands before all lines. */
export function warningsOf(card: PrintedCard, format: CardFormat, width: number): CardBlock[] {
  return card.warnings.map((warning, at) => ({
    kind: "warning",
    at,
    height: alarmHeight(warning, format, width),
  }));
}

/** Masses and balance at both ends of the band; none on paper that has no drawing, or where nothing has a mass. */
export function loadsOf({ loads }: PrintedCard, { hasPlan, type }: CardFormat): CardBlock[] {
  if (!hasPlan || loads.length === 0) return [];
  return [{ kind: "loads", height: lineHeight(type.head) + 1.3 + loads.length * (lineHeight(type.text, 1.2) + 1.7) }];
}

/** Who looks on which side, above a column of lines; none where they are not two. */
export function lookersOf(card: PrintedCard, { type }: CardFormat): CardBlock[] {
  return card.leftLooks ? [{ kind: "lookers", height: lineHeight(type.text, 1) + LOOKERS + SLACK }] : [];
}

/** The way to the stores in a line of words, above the count; none where there is no order to keep. */
export function walkBlockOf(card: PrintedCard, { type }: CardFormat, width: number): CardBlock[] {
  const stops = card.walk ?? [];
  if (stops.length === 0) return [];
  const words = stops.map(({ place, fetched }, at) => `${at + 1} ${place} (${fetched})`).join("; ");
  return [
    {
      kind: "walk",
      height:
        countLines(`${heard("cardSides").walk} ${words}`, type.text, width / SURE) * lineHeight(type.text, 1.2) +
        1.6 +
        SLACK,
    },
  ];
}

/** What is counted out and in, in one table, or in several where a column has no room for all rows; else none. */
export function countOf(card: PrintedCard, format: CardFormat, width: number): CardBlock[] {
  const room = Math.min(roomOn(card, format, true), roomOn(card, format, false)) - lengthOf(lookersOf(card, format));
  const head = countHead(card, format, width),
    tables: { rows: [number, number]; height: number }[] = [];
  for (const [at, row] of card.count.entries()) {
    const height = countRow(row, format, width),
      last = tables.at(-1);
    if (last && last.height + height <= room) {
      last.rows[1] = at + 1;
      last.height += height;
    } else tables.push({ rows: [at, at + 1], height: head + height });
  }
  return tables.map((table) => ({ kind: "count", ...table }));
}

/** Above the rows of a count: what is counted and, on the same line, what its columns are. */
function countHead(card: PrintedCard, { type }: CardFormat, width: number): number {
  const say = heard("cardSides"),
    over =
      2 + widthOf(say.pieces, type.text) + [say.out, say.in].reduce((sum, each) => sum + overWidth(each, type.text), 0);
  return 3.2 + SLACK + lineHeight(type.head, 1.2) * countLines(headOfCount(card), type.head, (width - over - 3) / SURE);
}

/** Width of the head of a column of boxes, with the space before it. */
function overWidth(words: string, points: number): number {
  return 2 + Math.max(7, widthOf(words, points));
}

/** What stands above the count, and for which arrangement it is where options stand apart. */
export function headOfCount({ standsFor }: Pick<PrintedCard, "standsFor">): string {
  return `${heard("cardSides").count}${standsFor === undefined ? "" : `, ${standsFor}`}`;
}

/** The lines of a part below its heading, if it has one; at last what it changes in the count. */
export function partOf(part: PrintedPart, format: CardFormat, width: number): CardBlock[] {
  const lines = part.lines.map((line) => blockOf(line, format, width));
  if (!part.title) return lines;
  const headed = (again: boolean): CardBlock => ({
    kind: "part",
    part,
    ...(again ? { again } : {}),
    height: partHeight(part, format, width, again),
  });
  const under = headed(true);
  return [headed(false), ...[...lines, ...changeOf(part, format, width)].map((block) => ({ ...block, under }))];
}

function changeOf({ count = [] }: PrintedPart, { type }: CardFormat, width: number): CardBlock[] {
  if (count.length === 0) return [];
  const changes = changesAt(count),
    words = changes
      .map(({ place, pieces }) => `${place}: ${pieces.map(({ item, count }) => `${item} ${count}`).join(", ")}`)
      .join("; ");
  return [
    {
      kind: "change",
      changes,
      height:
        countLines(`${heard("cardSides").countWithIt} ${words}`, type.text, width / SURE) *
          lineHeight(type.text, 1.15) +
        0.6 +
        SLACK,
    },
  ];
}

/** What an option changes in the count, place by place as a crew walks, each place said once. */
function changesAt(changes: readonly PrintedChange[]): ChangesAt[] {
  const places = [...new Set(changes.map(({ place }) => place))];
  return places.map((place) => ({
    place,
    pieces: changes
      .filter((change) => change.place === place)
      .map(({ item, count }) => ({ item, count: count ? String(count) : heard("cardSides").none })),
  }));
}

/** A drawing of the platform can still be read in this height, in millimetres. */
const LEAST_PLAN = 26;

/**
 * The drawing as high as the column's width allows, then, unless it can stand upright beside the count, lower ones;
 * none where the paper or the card has none.
 */
export function plansOf(
  { plan }: PrintedCard,
  { hasPlan, type }: CardFormat,
  width: number,
  canStand: boolean,
): CardBlock[] {
  if (!hasPlan || !plan) return [];
  const { fromMm, toMm, halfWidthMm, unit } = plan;
  const whole = (width * (2 * halfWidthMm + 40 * unit)) / (toMm - fromMm + 40 * unit) + 2;
  const heights = whole > LEAST_PLAN && !canStand ? [whole, (whole + LEAST_PLAN) / 2, LEAST_PLAN] : [whole];
  return heights.map((drawing) => ({
    kind: "plan",
    drawing,
    height: drawing + lineHeight(type.head, 1.2) + 2.2 + SLACK,
  }));
}

/** Widths in which an upright drawing is tried, in millimetres: what is narrower can't be read. */
const UPRIGHT = [26, 23, 20];
/** Above an upright drawing: the word at its head end. */
export const HEAD_LINE = 3.6;
/** Between an upright drawing and the count. */
const BESIDE = 4;

/**
 * The count with the drawing upright beside it, the number of a thing next to the thing: the widest drawing first.
 * None where the count has to be parted, or the paper or the card has no drawing.
 */
export function countBesidePlan(card: PrintedCard, format: CardFormat, width: number): CardBlock[] {
  const { plan } = card;
  if (!format.hasPlan || !plan || card.count.length === 0) return [];
  const { fromMm, toMm, halfWidthMm, unit } = plan,
    long = (toMm - fromMm + 40 * unit) / (2 * halfWidthMm + 40 * unit);
  return UPRIGHT.flatMap((wide): CardBlock[] => {
    const [count, ...more] = countOf(card, format, width - wide - BESIDE);
    if (count?.kind !== "count" || more.length > 0) return [];
    const tall = wide * long + HEAD_LINE;
    return [{ ...count, plan: { width: wide, height: tall }, height: Math.max(count.height, 2.6 + tall + SLACK) }];
  });
}

/** Height that a side has for its columns. */
export function roomOn(card: PrintedCard, format: CardFormat, isFront: boolean): number {
  const { side, margin } = format;
  return side.height - margin.top - margin.bottom - headHeight(card, format, isFront) - footHeight(card, format) - 1;
}

/** For whom a card is, as its head says it: a number and its unit are not parted at the end of a line. */
export function sayWhom({ band }: Pick<PrintedCard, "band">): string {
  return band.replace(/(\d) (?=\p{L})/gu, "$1\u00a0");
}

/** What identifies a card at the head of its front, a line each, and the narrowest in which that stands. */
function identOf(card: PrintedCard, { type }: CardFormat, lines: readonly string[]): Head {
  return {
    ident: lines,
    width: Math.max(...lines.map((each) => monoWidth(each, type.small)), 24) + 4,
    height: lineHeight(type.small, 1.3) * (lines.length + (card.checkCode ? 1 : 0)),
  };
}

interface Head {
  /** Lines of what identifies the card, the check code apart. */
  readonly ident: readonly string[];
  readonly width: number;
  readonly height: number;
}

/**
 * The head of a side: what identifies the card, and how high it is. On the sides after the front code and revision
 * stand on one line where that makes the head lower.
 */
export function headOf(card: PrintedCard, format: CardFormat, isFront: boolean): Omit<Head, "width"> {
  const { type } = format,
    whole = side(format),
    say = heard("cardSides");
  const each = [card.code, ...(card.revision === undefined ? [] : [say.revision({ revision: card.revision })])];
  const apart = identOf(card, format, each);
  if (isFront) {
    const room = whole - apart.width;
    const title = titlePoints(card, format),
      name = countLines(card.title, title, room / SURE) * lineHeight(title, 1.08);
    const band = countLines(sayWhom(card), type.band, room / SURE) * lineHeight(type.band) + 1;
    const rail = format.hasRail && card.rail ? railHeight(whole) : 0;
    return { ident: apart.ident, height: Math.max(apart.height, name + band) + rail + 0.4 };
  }
  const heads = [apart, identOf(card, format, [each.join(" ")])].map(({ ident, width, height }) => ({
    ident,
    height:
      Math.max(
        height,
        countLines(say.cardContinued({ card: card.title }), type.again, (whole - width) / SURE) *
          lineHeight(type.again, 1.1) +
          lineHeight(type.text) * countLines(sayWhom(card), type.text, whole - width),
      ) + 0.4,
  }));
  return heads.reduce((low, head) => (head.height < low.height - SLACK ? head : low));
}

/** More lines of a title than these push the first checks off the front. */
const MOST_OF_TITLE = 3;

/** How large the title on the front is: a long one (two compound words and more) as small as on the back. */
export function titlePoints(card: PrintedCard, format: CardFormat): number {
  const { type } = format,
    say = heard("cardSides");
  const lines = [card.code, ...(card.revision === undefined ? [] : [say.revision({ revision: card.revision })])];
  const room = (side(format) - identOf(card, format, lines).width) / SURE;
  return countLines(card.title, type.title, room) > MOST_OF_TITLE ? type.again : type.title;
}

function headHeight(card: PrintedCard, format: CardFormat, isFront: boolean): number {
  return headOf(card, format, isFront).height;
}

/** The rail across the head of the front: 115 mm by 8 mm on an upright A5. */
export function railHeight(width: number): number {
  return Math.min(8, width * 0.07);
}

function footHeight(card: PrintedCard, format: CardFormat): number {
  const { type } = format;
  const beside = widthOf(heard("cardSides").continuedOnPage({ page: card.flows ? 10 : 9 }), type.small) + 4;
  return (
    2.2 +
    Math.max(2, countLines(sayFoot(card), type.small, (side(format) - beside) / SURE)) * lineHeight(type.small, 1.2)
  );
}

/**
 * What stands at the foot of every side. First, in bold, what decides whether the side may be worked from at all: the
 * day from which it holds, or that it is not for use. A side may be folded away, or copied without the others.
 */
export function footOf(card: PrintedCard): { readonly strong: string; readonly text: string } {
  const say = heard("cardSides");
  if (card.notForUse) return { strong: say.notForUse({ status: card.notForUse }), text: say.notInAFolder };
  if (card.onlyUntil) return { strong: "", text: say.withATemporaryAmendment({ onlyUntil: sayDate(card.onlyUntil) }) };
  if (card.onlyOn) return { strong: "", text: say.printedOn({ onlyOn: sayDate(card.onlyOn) }) };
  return {
    strong: card.effective ? say.inForce({ effective: sayDate(card.effective) }) : "",
    text: say.uncontrolledWhenPrintedWithout,
  };
}

function sayFoot(card: PrintedCard): string {
  const { strong, text } = footOf(card);
  return `${strong} ${text}`.trim();
}

const side = ({ side: { width }, margin }: CardFormat): number => width - margin.left - margin.right;

function blockOf(line: PrintedLine, format: CardFormat, width: number): CardBlock {
  const { type, pin, row } = format;
  const mark = pin + 3;
  if (line.kind === "alarm") return { kind: "line", line, stacked: false, height: alarmHeight(line, format, width) };
  if (line.kind === "pause") return { kind: "line", line, stacked: false, height: lineHeight(type.text) + 2.5 + SLACK };
  const text = (width - mark * (line.lane === "both" ? 2 : 1)) / SURE;
  const aside = line.aside ? countLines(line.aside, type.text, text) * lineHeight(type.text, 1.2) : 0;
  if (line.kind === "hold") {
    const words = holdWidth(format, width, line.lane) / SURE;
    const lines =
      countLines(line.text, type.hold, words) + sum(line.looks.map((look) => countLines(look, type.hold, words)));
    return {
      kind: "line",
      line,
      stacked: false,
      height:
        Math.max(
          pin + 1.2,
          lines * lineHeight(type.hold, 1.18) +
            (line.aside ? countLines(line.aside, type.text, words) * lineHeight(type.text, 1.2) : 0) +
            HOLD_EDGES,
        ) +
        COMB +
        SLACK,
    };
  }
  if (line.kind === "step")
    return {
      kind: "line",
      line,
      stacked: false,
      height: Math.max(row, countLines(line.text, type.line, text) * lineHeight(type.line, 1.16) + aside + 0.9) + SLACK,
    };
  const stacked =
    format.stacked || (widthOf(line.challenge, type.line) + LEADER + widthOf(line.answer, type.line)) * SURE > text;
  const lines = stacked ? countLines(line.challenge, type.line, text) + countLines(line.answer, type.line, text) : 1;
  const both = widthOf(line.challenge, type.line) + 2 + widthOf(line.aside, type.text),
    beside = stacked && line.aside !== "" && both * SURE <= text;
  return {
    kind: "line",
    line,
    stacked,
    ...(beside ? { beside } : {}),
    height: Math.max(row, lines * lineHeight(type.line, 1.16) + (beside ? 0 : aside) + 0.9) + SLACK,
  };
}

/** Width of the words of a hold: what the word HOLD and the pins leave. */
function holdWidth({ type, pin }: CardFormat, width: number, lane: string): number {
  const pins = lane === "both" ? 2 : 1;
  return width - (widthOf(heard("cardSides").hold, type.hold + 3.5, 0.06) + 4.6) - 2.2 - pins * (pin + 3);
}

/** What is said after the last line: of the own lines where options follow (`own`), else of the card. */
export function endBlockOf(card: PrintedCard, { type }: CardFormat, width: number, own: boolean): CardBlock {
  const say = heard("cardSides"),
    { complete } = card;
  // Where the options will stand is not known yet: below, or on a page of two figures.
  const words = own
    ? [undefined, 10].map((page) =>
        sayOwnEnd(card, page)
          .flatMap(({ strong, text }) => [strong, text])
          .filter(Boolean)
          .join(" "),
      )
    : [`${say.endOfCard} ${say.sayComplete({ complete })}`];
  const lines =
    Math.max(...words.map((each) => countLines(each, type.text, own ? width / SURE : width - 7.6))) +
    countLines(`${say.noMatch} ${say.noMatchThen}`, type.text, width / SURE);
  return { kind: "end", own, height: 1.3 + lines * lineHeight(type.text) + SLACK };
}

/**
 * What is said where the configuration's own lines end and options follow on `page`, or right below: who is never
 * without one of them, then where they are, and what is said if none is fitted. That is left out where nobody of the
 * card goes without.
 */
export function sayOwnEnd(
  { bare, complete }: Pick<PrintedCard, "bare" | "complete">,
  page: number | undefined,
): readonly { readonly strong: string; readonly text: string }[] {
  const say = heard("cardSides");
  return [
    ...(bare?.said ?? []).map((strong) => ({ strong, text: "" })),
    {
      strong: say.options,
      text: bare?.nobody
        ? page === undefined
          ? say.below
          : say.onPage({ page })
        : page === undefined
          ? say.belowIfNoneSay({ complete })
          : say.ifNoneSay({ page, complete }),
    },
  ];
}

/** Between the side of a warning and its words; and after its signal word, which stands at the head of them. */
const ALARM_PAD = 1.8;

/** A warning is closed on four sides and has a hatched foot, a caution on two. */
function alarmHeight({ signal, text }: PrintedCard["warnings"][number], { type }: CardFormat, width: number): number {
  const say = heard("cardSides"),
    isWarning = signal === "warning";
  const edges = isWarning ? 5.7 : 3,
    beside = 2 * ALARM_PAD + (isWarning ? 1.4 : 4),
    // Its padding on the left lies over that of the words.
    word = widthOf(isWarning ? say.warning : say.caution, type.text + 1, 0.06) + (isWarning ? 5.9 : 1) + 2 * ALARM_PAD;
  return (
    countLines(text, type.text + 0.5, (width - beside) / SURE, word) * lineHeight(type.text + 0.5, 1.2) + edges + SLACK
  );
}

function countRow(row: PrintedCount, { type }: CardFormat, width: number): number {
  return (
    Math.max(
      5.5,
      countLines(`${row.number} ${row.item}, ${row.place}`, type.text, (width - 29) / SURE) *
        lineHeight(type.text, 1.2) +
        1,
    ) + 0.1
  );
}

/** The title of a part, as its heading says it. */
export function sayPart({ title = "" }: PrintedPart, again = false): string {
  // A number is not parted from its word.
  const whole = title.replace(/(\p{L}) (?=\d+\]$)/u, "$1\u00a0");
  return again ? heard("cardSides").continued({ title: whole }) : whole;
}

function partHeight(part: PrintedPart, { type }: CardFormat, width: number, again: boolean): number {
  return (
    2.2 +
    SLACK +
    countLines(sayPart(part, again), type.head, width / SURE) * lineHeight(type.head, 1.2) +
    (part.only
      ? countLines(heard("cardSides").only({ only: part.only }), type.text, width - 6) * lineHeight(type.text) + 1
      : 0)
  );
}

/** Whether the words of the control block stand below their labels, because there is no room beside them. */
export function isNarrow({ type, qr }: CardFormat, width: number): boolean {
  return width - qr - widthOf(heard("cardSides").doNotUseAfter, type.text) - 7 < 30;
}

/** At the foot of the last side: which copy it is, its code, and until when it may be used. */
export function controlOf(card: PrintedCard, format: CardFormat, width: number): CardBlock {
  return { kind: "control", height: controlHeight(card, format, width) };
}

function controlHeight(card: PrintedCard, format: CardFormat, width: number): number {
  const { type, qr } = format;
  const right = card.address === undefined ? 0 : qr + 3;
  const narrow = isNarrow(format, width);
  const text = (width - right - (narrow ? 0 : widthOf(heard("cardSides").doNotUseAfter, type.text) + 4)) / SURE;
  const small = lineHeight(type.text, 1.2),
    word = lineHeight(type.word, 1.2);
  const large = (hasCopies(card) ? 1 : 0) + (card.checkCode ? 1 : 0);
  const words =
    large * (word + (narrow ? small : 0)) +
    (card.effective && !card.notForUse ? small * (narrow ? 2 : 1) : 0) +
    small * (countLines(lastDayOf(card), type.text, text) + (narrow ? 1 : 0));
  const address = card.address
    ? lineHeight(type.small, 1.2) *
        countLines(heard("cardSides").isItCurrent({ address: card.address }), type.small, width / SURE) +
      0.1
    : 0;
  return 1.4 + Math.max(words + 0.4, card.address ? qr - 0.3 : 0) + address + SLACK;
}

/** Whether copies of a card are counted: what is printed for one run, or is not for use, belongs in no folder. */
export function hasCopies({ onlyOn, onlyUntil, notForUse }: PrintedCard): boolean {
  return !onlyOn && !onlyUntil && !notForUse;
}

/** Until when the card may be used, in words; of one that is not for use, just that. */
export function lastDayOf(card: PrintedCard): string {
  if (card.notForUse) return heard("cardSides").notForUse({ status: card.notForUse });
  if (card.onlyUntil) return heard("cardSides").forOneRunThen({ onlyUntil: sayDate(card.onlyUntil) });
  if (card.onlyOn) return heard("cardSides").forOneRunThenDestroy({ onlyOn: sayDate(card.onlyOn) });
  return card.reviewBy
    ? heard("cardSides").orWhenReplaced({ reviewBy: sayDate(card.reviewBy) })
    : heard("cardSides").noDaySetUse;
}

/** Height of blocks below one another. */
export function lengthOf(blocks: readonly CardBlock[]): number {
  return sum(blocks.map(({ height }) => height));
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
