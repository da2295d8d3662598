/**
 * Where everything on a card goes, from the widths of its letters: which lines stand on which side, and how much too
 * long it is.
 */
import { widthOf, countLines, MM_PER_POINT } from "./letter-widths.ts";
import type { CardFormat } from "./card-format.ts";
import type { PrintedCard, PrintedChange, PrintedCount, PrintedLine, PrintedPart } from "./printed-card.ts";
import { sayDate } from "../domain/words/say.ts";
import { heard } from "../words/heard.ts";

/** What a block draws. */
type BlockKind =
  | { readonly kind: "lookers" }
  | { readonly kind: "line"; readonly line: PrintedLine; readonly stacked: boolean }
  /** `again`: the heading once more, above lines of the part that go on over the page. */
  | { readonly kind: "part"; readonly part: PrintedPart; readonly again?: boolean }
  /** `own`: of the card's own lines, where options' lines follow; else of the card. */
  | { readonly kind: "end"; readonly own: boolean }
  | { readonly kind: "warning"; readonly at: number }
  | { readonly kind: "count" }
  /** What an option changes in the count. */
  | { readonly kind: "change"; readonly words: string }
  | { readonly kind: "loads" }
  /** `drawing` is the height of the drawing below its heading. */
  | { readonly kind: "plan"; readonly drawing: number }
  | { readonly kind: "control" };

/**
 * A piece of a card that is never split. `height` is what it takes at most, in millimetres before scaling; `under` is
 * the heading that has to stand above it on every side, if there is one.
 */
export type CardBlock = BlockKind & { readonly height: number; readonly under?: CardBlock };

/** One side of a printed card with the blocks of its columns, from left to right. */
export interface CardSide {
  /** Counts from 1 over all sides. */
  readonly page: number;
  readonly columns: readonly (readonly CardBlock[])[];
  /** Lines go on over the page. */
  readonly continues: boolean;
  readonly continued: boolean;
  readonly isFront: boolean;
}

/** A card set on its sides, in the order in which they are printed. */
export interface CardLayout {
  readonly format: CardFormat;
  readonly sides: readonly CardSide[];
  /**
   * Printed length in millimetres for which there is no room: own lines beyond the front and back of the first leaf, or
   * anything beyond the last leaf; 0 if all fits.
   */
  readonly tooLongMm: number;
}

/** Space that browsers may add by rounding to whole pixels, per block. */
const SLACK = 0.15;
/** Chromium rounds positions to 1/64 px; one thousandth of a line is more than that. */
const SURE = 1.002;
const LEADING = 1.25;
/** A dotted line shorter than this leads nowhere. */
const LEADER = 8;
/** Borders, comb and padding of a hold. */
const HOLD_EDGES = 4.2;

const lineHeight = (points: number, leading = LEADING): number => points * MM_PER_POINT * leading;

/** Width of a column of the card. */
export function columnWidth({ side, margin, columns, gap }: CardFormat): number {
  return (side.width - margin.left - margin.right - (columns - 1) * gap) / columns;
}

/**
 * Lays a card out on a paper. Warnings stand before all lines, because they are of what the lines lead to; then come
 * the card's own lines. Lines that have no room on the front go on over the page, from a pause if there is one. The
 * options' lines stand on the back if they fit there, else on a second leaf: an option's on one side where that makes
 * no side more, and below its heading on each side where they are parted, so that nobody takes them for lines of what
 * is always fitted.
 */
export function layoutCard(card: PrintedCard, format: CardFormat): CardLayout {
  if (card.flows) return flowCard(card, format);
  if (card.fitted) return layoutFitted(card, format);
  // Rows of options move closer together only where that saves a side.
  const [wide, close] = [format.row, format.rowLeast].map((row) => layoutRows(card, format, row)) as [
    CardLayout,
    CardLayout,
  ];
  const isWorse = wide.tooLongMm > close.tooLongMm || (wide.tooLongMm === 0 && wide.sides.length > close.sides.length);
  return isWorse ? close : wide;
}

/** A configuration's own card, its options' lines in rows of this height. */
function layoutRows(card: PrintedCard, format: CardFormat, rowOfOptions: number): CardLayout {
  const width = columnWidth(format);
  const [own, ...options] = card.parts;
  const lookers = lookersOf(card, format);
  const linesOf = (row: number): CardBlock[] => [
    ...(own ? partOf(own, { ...format, row }, width) : []),
    endOf(card, format, width, options.length > 0),
  ];
  const warnings = warningsOf(card, format, width);
  const count = countOf(card, format, width);
  const loads = loadsOf(card, format);
  const control: CardBlock = { kind: "control", height: controlHeight(card, format, width) };
  const choicesOf = (row: number): CardBlock[] => {
    const blocks = options.flatMap((part) => partOf(part, { ...format, row }, width));
    return blocks.length ? [...blocks, endOf(card, format, width, false)] : [];
  };

  const front = roomsOf(card, format, true),
    back = roomsOf(card, format, false);
  // Rows move closer together where that keeps all lines on one side: a drill on one page is worth more (CAP 676,
  // chapter 7).
  const lines =
    [format.row, format.rowLeast]
      .map(linesOf)
      .find((tried) => fill([...warnings, ...lookers, ...tried], front).rest.length === 0) ?? linesOf(format.row);
  const opening = [...warnings, ...lookers, ...lines];
  const bare = fill(opening, front);
  const stopped = bare.rest.length ? stopAtPause(bare, opening, front) : bare;
  const choices = choicesOf(rowOfOptions);
  const ends = format.hasPlan ? count : [];
  const restOf = ({ rest }: Filled) => rest.filter(({ kind }) => kind !== "lookers");
  const fits = (blocks: readonly CardBlock[]) => fill([...lookers, ...blocks], back).rest.length === 0;
  const first =
    [stopped, bare].find((each) => fits([...restOf(each), ...ends])) ?? (fits(restOf(stopped)) ? stopped : bare);
  const must = [...restOf(first), ...ends];
  const again = (blocks: readonly CardBlock[]) =>
    blocks.some(({ kind }) => kind === "line" || kind === "part") ? lookers : [];
  // The back: what must be there, then what may be there, and at its foot what the card is.
  const tries = [[...choices, ...loads], choices, loads, []].filter((more) => choices.length > 0 || more !== choices);
  const counted = format.hasPlan ? [] : count;
  const chosen = tries
    .flatMap((more) => [[...more, ...counted], more])
    .find((more) => fill([...again([...must, ...more]), ...must, ...more, control], back).rest.length === 0);
  const onBack = chosen ? [...must, ...chosen, control] : must.length ? must : [...choices, control];
  const goOn = (whole: boolean) => {
    const second = fill([...again(onBack), ...onBack], back, whole);
    const later = [...second.rest, ...[...choices, control].filter((block) => !onBack.includes(block))];
    return { second, ...pour(later, lookers, back, format.leaves * 2 - 2, whole) };
  };
  const [whole, parted] = [goOn(true), goOn(false)];
  const isAsShort = whole.sides.length <= parted.sides.length && whole.rest.length <= parted.rest.length;
  const { second, sides, rest } = isAsShort ? whole : parted;
  const backSide = chosen ? withPlan(card, format, second, back, width) : second;
  // Own lines belong on the first leaf: the least that would have to go, however the pauses fall. Where warnings before
  // them take that room, they go on over the leaf. Those of what is fitted may do so, as where options stand apart.
  const late =
    !card.fitted && second.rest.some(({ kind }) => kind === "line" || kind === "end")
      ? lengthOf(fill([...lookers, ...restOf(fill([...lookers, ...lines], front))], back).rest)
      : 0;
  return {
    format,
    tooLongMm: Math.ceil(Math.max(late, lengthOf(rest)) * format.scale * 10) / 10,
    sides: sidesOf(card, [first.columns, backSide.columns, ...sides]),
  };
}

function sidesOf(card: PrintedCard, drawn: readonly Columns[]): CardSide[] {
  return drawn.map((columns, at) => ({
    page: at + 1,
    columns,
    isFront: at === 0,
    continues: goesOn(card, columns, drawn[at + 1]),
    continued: at > 0 && goesOn(card, drawn[at - 1]!, columns),
  }));
}

/**
 * The card of one arrangement: the lines of everything that is fitted, one after the other over as many sides as they
 * need; then what is counted, with the drawing before it. Where it saves no side, no run of lines is broken.
 */
function layoutFitted(card: PrintedCard, format: CardFormat): CardLayout {
  const width = columnWidth(format),
    front = roomsOf(card, format, true),
    back = roomsOf(card, format, false);
  const lookers = lookersOf(card, format);
  const lines = [
    ...warningsOf(card, format, width),
    ...lookers,
    ...card.parts.flatMap((part) => partOf(part, format, width)),
    endOf(card, format, width, false),
  ];
  const after = countOf(card, format, width),
    control: CardBlock = { kind: "control", height: controlHeight(card, format, width) };
  const whole = fill(lines, front);
  const firsts = (whole.rest.length ? [stopAtPause(whole, lines, front), whole] : [whole]).map((each) => ({
    ...each,
    rest: each.rest.filter(({ kind }) => kind !== "lookers"),
  }));
  // With masses if there is room; the count on a side of its own where only so the drawing has any.
  const tries = [loadsOf(card, format), []].flatMap((loads) =>
    [false, true].flatMap((apart) =>
      firsts.map((first) => {
        const rest = [...after, ...loads, control];
        const parts = apart ? [first.rest, rest] : [[...first.rest, ...rest]];
        const poured = parts.map((blocks) => pour(blocks, lookers, back, 99)),
          sides = poured.flatMap((each) => each.sides);
        const at = sides.findIndex(
          (columns) => withPlan(card, format, { columns, rest: [] }, back, width).columns !== columns,
        );
        const planned =
          at < 0 ? undefined : withPlan(card, format, { columns: sides[at]!, rest: [] }, back, width).columns;
        const needsPlan = format.hasPlan && card.plan !== undefined;
        return {
          isDrawn: !needsPlan || planned !== undefined,
          columns: [first.columns, ...sides.map((columns, side) => (side === at ? planned! : columns))],
          left: poured.flatMap((each) => each.rest),
        };
      }),
    ),
  );
  const most = format.leaves * 2;
  const cost = ({ isDrawn, columns, left }: (typeof tries)[number]) =>
    (left.length ? 1000 : 0) + (columns.length > most ? 100 : 0) + (isDrawn ? 0 : 50) + columns.length;
  const best = tries.reduce((least, each) => (cost(each) < cost(least) ? each : least));
  const over = [...best.columns.slice(most).flat(2), ...best.left];
  return {
    format,
    tooLongMm: Math.ceil(lengthOf(over) * format.scale * 10) / 10,
    sides: sidesOf(card, best.columns.slice(0, most)),
  };
}

function warningsOf(card: PrintedCard, format: CardFormat, width: number): CardBlock[] {
  return card.warnings.map((warning, at) => ({
    kind: "warning",
    at,
    height: warningHeight(warning.text, format, width),
  }));
}

function loadsOf({ loads }: PrintedCard, { hasPlan, type }: CardFormat): CardBlock[] {
  if (!hasPlan || loads.length === 0) return [];
  return [{ kind: "loads", height: lineHeight(type.head) + 1.3 + loads.length * (lineHeight(type.text, 1.2) + 1.7) }];
}

type Columns = readonly (readonly CardBlock[])[];

/** Whether lines go on from one side to the next: the own lines, or the options'. */
function goesOn({ fitted }: PrintedCard, columns: Columns, next: Columns | undefined): boolean {
  const opens = next?.flat().find(({ kind }) => kind !== "lookers")?.kind;
  return (
    opens === "line" ||
    opens === "end" ||
    (opens === "part" && (fitted !== undefined || columns.flat().some(({ kind }) => kind === "part")))
  );
}

function roomsOf(card: PrintedCard, format: CardFormat, isFront: boolean): number[] {
  return Array.from({ length: format.columns }, () => roomOn(card, format, isFront));
}

/**
 * A changeover: what is counted, then procedure after procedure over as many sides as they need, at last what the card
 * is.
 */
function flowCard(card: PrintedCard, format: CardFormat): CardLayout {
  const width = columnWidth(format);
  const blocks: CardBlock[] = [
    ...countOf(card, format, width),
    ...card.parts.flatMap((part) => partOf(part, format, width).map(({ under: _, ...block }) => block)),
    endOf(card, format, width, false),
    { kind: "control", height: controlHeight(card, format, width) },
  ];
  const lookers = lookersOf(card, format);
  const first = fill(
    blocks[0]?.kind === "count" ? [blocks[0], ...lookers, ...blocks.slice(1)] : [...lookers, ...blocks],
    roomsOf(card, format, true),
  );
  const { sides, rest } = pour(first.rest, lookers, roomsOf(card, format, false), MOST_SIDES);
  const all = [first.columns, ...sides];
  return {
    format,
    tooLongMm: Math.ceil(lengthOf(rest) * format.scale * 10) / 10,
    sides: all.map((columns, at) => ({
      page: at + 1,
      columns,
      isFront: at === 0,
      continues: at + 1 < all.length,
      continued: at > 0,
    })),
  };
}

const MOST_SIDES = 40;

function lookersOf(card: PrintedCard, { type }: CardFormat): CardBlock[] {
  return card.leftLooks ? [{ kind: "lookers", height: lineHeight(type.text, 1) + 3 }] : [];
}

function countOf(card: PrintedCard, format: CardFormat, width: number): CardBlock[] {
  return card.count.length
    ? [
        {
          kind: "count",
          height: lineHeight(format.type.head) + 4.9 + sum(card.count.map((row) => countRow(row, format, width))),
        },
      ]
    : [];
}

/** The lines of a part below its heading, if it has one; at last what it changes in the count. */
function partOf(part: PrintedPart, format: CardFormat, width: number): CardBlock[] {
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
  const words = sayChanges(count);
  return [
    {
      kind: "change",
      words,
      height:
        countLines(`${heard("cardSides").countWithIt} ${words}`, type.text, width / SURE) *
          lineHeight(type.text, 1.15) +
        0.8 +
        SLACK,
    },
  ];
}

/** What an option changes in the count, in a line of words below its heading. */
function sayChanges(changes: readonly PrintedChange[]): string {
  return changes.map(({ item, place, count }) => `${item}, ${place}: ${count || heard("cardSides").none}`).join("; ");
}

/** Fills side after side, at most so many; the pins' heading is said again on each, unless it is what comes next. */
function pour(
  blocks: readonly CardBlock[],
  lookers: readonly CardBlock[],
  rooms: readonly number[],
  most: number,
  whole = false,
): { sides: Columns[]; rest: readonly CardBlock[] } {
  const sides: Columns[] = [];
  let rest = blocks;
  while (rest.length && sides.length < most) {
    const heading = rest[0]?.kind !== "lookers" && rest.some(({ kind }) => kind === "line") ? lookers : [];
    const filled = fill([...heading, ...rest], rooms, whole);
    if (filled.rest.length >= rest.length) break;
    sides.push(filled.columns);
    rest = filled.rest;
  }
  return { sides, rest };
}

interface Filled {
  readonly columns: Columns;
  readonly rest: readonly CardBlock[];
}

/**
 * Puts blocks into columns in order; a heading is not left alone at the end of one, and stands once more above what of
 * it opens a column. What does not fit comes back as `rest`. Who looks is said above every column of lines. `whole`: a
 * part that has room in a column of its own is not parted.
 */
function fill(blocks: readonly CardBlock[], rooms: readonly number[], whole = false): Filled {
  const lookers = blocks.find(({ kind }) => kind === "lookers");
  const columns: CardBlock[][] = rooms.map(() => []);
  let column = 0,
    used = 0,
    at = 0;
  const put = (block: CardBlock) => {
    columns[column]!.push(block);
    used += block.height;
  };
  while (at < blocks.length && column < rooms.length) {
    const block = blocks[at]!,
      room = rooms[column]!;
    if (lookers && column > 0 && used === 0 && (block.kind === "line" || block.kind === "part")) put(lookers);
    // What fills a column by itself with what it leads to (several long warnings) is parted from it rather than lost.
    const most = Math.max(block.height, room - (lookers?.height ?? 0));
    const all = whole ? wholeFor(blocks, at) : 0;
    const needed = Math.min(Math.max(neededFor(blocks, at), all > most ? 0 : all), most);
    const opens = columns[column]!.every(({ kind }) => kind === "lookers");
    if (opens && block.under && used + block.under.height + needed <= room) put(block.under);
    if (used + needed <= room) {
      put(block);
      at += 1;
    } else {
      // A heading with nothing below it.
      if (columns[column]!.length === 1 && columns[column]![0] === lookers && column > 0) columns[column] = [];
      column += 1;
      used = 0;
    }
  }
  return { columns, rest: blocks.slice(at) };
}

/**
 * Height of a block and of what must stand below it in the same column: a heading and its first line, a warning and the
 * step that it belongs to.
 */
function neededFor(blocks: readonly CardBlock[], at: number): number {
  const block = blocks[at];
  if (!block) return 0;
  const leads =
    block.kind === "part" ||
    block.kind === "lookers" ||
    block.kind === "warning" ||
    (block.kind === "line" && block.line.kind === "alarm");
  return block.height + (leads ? neededFor(blocks, at + 1) : 0);
}

/** Height of a heading with all that stands under it; 0 of anything else. */
function wholeFor(blocks: readonly CardBlock[], at: number): number {
  if (blocks[at]?.kind !== "part") return 0;
  const end = blocks.findIndex((block, index) => index > at && !block.under);
  return lengthOf(blocks.slice(at, end < 0 ? blocks.length : end));
}

/** Moves what follows the last pause or hold over the page, if at least half of the side stays filled. */
function stopAtPause(filled: Filled, blocks: readonly CardBlock[], rooms: readonly number[]): Filled {
  const placed = blocks.length - filled.rest.length;
  const whole = sum(rooms);
  for (let at = placed; at > 0; at -= 1) {
    const before = blocks[at - 1]!;
    const isPause = before.kind === "line" && (before.line.kind === "hold" || before.line.kind === "pause");
    if (lengthOf(blocks.slice(0, at)) < whole / 2) break;
    if (isPause) return { ...fill(blocks.slice(0, at), rooms), rest: blocks.slice(at) };
  }
  return filled;
}

/** The plan takes the room that is left in the last column, if that is enough to read it. */
function withPlan(
  card: PrintedCard,
  format: CardFormat,
  filled: Filled,
  rooms: readonly number[],
  width: number,
): Filled {
  if (!format.hasPlan || !card.plan || filled.rest.length) return filled;
  const { fromMm, toMm, halfWidthMm, unit } = card.plan;
  const whole = (width * (2 * halfWidthMm + 40 * unit)) / (toMm - fromMm + 40 * unit) + 2;
  const lefts = filled.columns.map(
    (blocks, at) => rooms[at]! - lengthOf(blocks) - lineHeight(format.type.head, 1.2) - 0.6,
  );
  const at = lefts.findIndex((left) => left >= Math.min(whole, 26));
  if (at < 0) return filled;
  const height = Math.min(whole, lefts[at]!);
  const plan: CardBlock = { kind: "plan", drawing: height, height: height + lineHeight(format.type.head, 1.2) + 0.6 };
  // The plan belongs before the table that counts its numbers.
  const place = filled.columns[at]!.findIndex(({ kind }) => kind === "count" || kind === "loads" || kind === "control");
  return {
    ...filled,
    columns: filled.columns.map((blocks, index) =>
      index === at ? blocks.toSpliced(place < 0 ? blocks.length : place, 0, plan) : blocks,
    ),
  };
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

function headHeight(card: PrintedCard, format: CardFormat, isFront: boolean): number {
  const { type } = format;
  const whole = side(format);
  const codeWidth =
    Math.max(
      widthOf(card.code, type.small) * 1.2,
      widthOf(heard("cardSides").revision({ revision: card.revision ?? "" }), type.small) * 1.2,
      24,
    ) + 4;
  const codeHeight = lineHeight(type.small, 1.3) * (card.checkCode ? 3 : 2);
  if (!isFront)
    return (
      Math.max(
        codeHeight,
        countLines(heard("cardSides").cardContinued({ card: card.title }), type.again, (whole - codeWidth) / SURE) *
          lineHeight(type.again, 1.1) +
          lineHeight(type.text) * countLines(sayWhom(card), type.text, whole - codeWidth),
      ) + 0.8
    );
  const name = countLines(card.title, type.title, (whole - codeWidth) / SURE) * lineHeight(type.title, 1.08);
  const band = countLines(sayWhom(card), type.band, (whole - codeWidth) / SURE) * lineHeight(type.band) + 1;
  return Math.max(codeHeight, name + band) + (format.hasRail && card.rail ? railHeight(whole) : 0) + 0.4;
}

/** The rail across the head of the front: 115 mm by 8 mm on an upright A5. */
export function railHeight(width: number): number {
  return Math.min(8, width * 0.07);
}

function footHeight(card: PrintedCard, format: CardFormat): number {
  const { type } = format;
  const beside = widthOf(heard("cardSides").continuedOnPage({ page: card.flows ? 10 : 9 }), type.small) + 4;
  return (
    2.7 +
    Math.max(2, countLines(footOf(card), type.small, (side(format) - beside) / SURE)) * lineHeight(type.small, 1.2)
  );
}

/** What stands at the foot of every side. */
export function footOf(card: PrintedCard): string {
  if (card.onlyUntil) return heard("cardSides").withATemporaryAmendment({ onlyUntil: sayDate(card.onlyUntil) });
  if (card.onlyOn) return heard("cardSides").printedOn({ onlyOn: sayDate(card.onlyOn) });
  return heard("cardSides").uncontrolledWhenPrintedWithout({
    effective: card.effective ? heard("cardSides").inForce({ effective: sayDate(card.effective) }) : "",
  });
}

const side = ({ side: { width }, margin }: CardFormat): number => width - margin.left - margin.right;

function blockOf(line: PrintedLine, format: CardFormat, width: number): CardBlock {
  const { type, pin, row } = format;
  const beside = pin + 3;
  if (line.kind === "alarm")
    return { kind: "line", line, stacked: false, height: warningHeight(line.text, format, width) };
  if (line.kind === "pause") return { kind: "line", line, stacked: false, height: lineHeight(type.text) + 2.6 };
  const text = (width - beside * (line.lane === "both" ? 2 : 1)) / SURE;
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
          pin + 1,
          lines * lineHeight(type.hold, 1.18) +
            (line.aside ? countLines(line.aside, type.text, words) * lineHeight(type.text, 1.2) : 0),
        ) +
        HOLD_EDGES +
        SLACK,
    };
  }
  if (line.kind === "step")
    return {
      kind: "line",
      line,
      stacked: false,
      height: Math.max(row, countLines(line.text, type.line, text) * lineHeight(type.line, 1.16) + aside + 1.8) + SLACK,
    };
  const stacked =
    format.stacked || (widthOf(line.challenge, type.line) + LEADER + widthOf(line.answer, type.line)) * SURE > text;
  const lines = stacked ? countLines(line.challenge, type.line, text) + countLines(line.answer, type.line, text) : 1;
  return {
    kind: "line",
    line,
    stacked,
    height: Math.max(row, lines * lineHeight(type.line, 1.16) + aside + 1.2) + SLACK,
  };
}

/** Width of the words of a hold: what the word HOLD and the pins leave. */
function holdWidth({ type, pin }: CardFormat, width: number, lane: string): number {
  const pins = lane === "both" ? 2 : 1;
  return width - (widthOf(heard("cardSides").hold, type.hold + 3.5, 0.06) + 5) - 4 - pins * (pin + 3);
}

function endOf(card: PrintedCard, { type }: CardFormat, width: number, own: boolean): CardBlock {
  const say = heard("cardSides"),
    { complete } = card;
  // The page of the options is not known yet: two figures.
  const words = own
    ? `${say.options} ${say.ifNoneSay({ page: 10, complete })}`
    : `${say.endOfCard} ${say.sayComplete({ complete })}`;
  const lines =
    countLines(words, type.text, own ? width / SURE : width - 7.6) +
    countLines(`${say.noMatch} ${say.noMatchThen}`, type.text, width / SURE);
  return { kind: "end", own, height: 1.6 + lines * lineHeight(type.text) + SLACK };
}

function warningHeight(text: string, { type }: CardFormat, width: number): number {
  return (
    lineHeight(type.text + 1, 1) +
    countLines(text, type.text + 0.5, (width - 8) / SURE) * lineHeight(type.text + 0.5, 1.3) +
    9.2 +
    SLACK
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
  return again ? heard("cardSides").continued({ title }) : title;
}

function partHeight(part: PrintedPart, { type }: CardFormat, width: number, again: boolean): number {
  return (
    4 +
    countLines(sayPart(part, again), type.head, width / SURE) * lineHeight(type.head) +
    (part.only
      ? countLines(heard("cardSides").only({ only: part.only }), type.text, width - 6) * lineHeight(type.text) + 2.4
      : 0)
  );
}

/** Whether the words of the control block stand below their labels, because there is no room beside them. */
export function isNarrow({ type, qr }: CardFormat, width: number): boolean {
  return width - qr - widthOf(heard("cardSides").doNotUseAfter, type.text) - 7 < 30;
}

function controlHeight(card: PrintedCard, format: CardFormat, width: number): number {
  const { type, qr } = format;
  const right = card.address === undefined ? 0 : qr + 3;
  const narrow = isNarrow(format, width);
  const text = (width - right - (narrow ? 0 : widthOf(heard("cardSides").doNotUseAfter, type.text) + 4)) / SURE;
  const small = lineHeight(type.text, 1.2),
    word = lineHeight(type.word, 1.2);
  const words =
    (card.checkCode ? 2 : 1) * (word + (narrow ? small : 0)) +
    (card.effective ? small * (narrow ? 2 : 1) : 0) +
    small * (countLines(lastDayOf(card), type.text, text) + (narrow ? 1 : 0));
  const address = card.address
    ? lineHeight(type.small, 1.2) *
        countLines(heard("cardSides").isItCurrent({ address: card.address }), type.small, width / SURE) +
      0.4
    : 0;
  return 1.9 + Math.max(words + 1, card.address ? qr : 0) + address + SLACK;
}

/** Until when the card may be used, in words. */
export function lastDayOf(card: PrintedCard): string {
  if (card.onlyUntil) return heard("cardSides").forOneRunThen({ onlyUntil: sayDate(card.onlyUntil) });
  if (card.onlyOn) return heard("cardSides").forOneRunThenDestroy({ onlyOn: sayDate(card.onlyOn) });
  return card.reviewBy
    ? heard("cardSides").orWhenReplaced({ reviewBy: sayDate(card.reviewBy) })
    : heard("cardSides").noDaySetUse;
}

function lengthOf(blocks: readonly CardBlock[]): number {
  return sum(blocks.map(({ height }) => height));
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
