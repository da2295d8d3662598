/**
 * Where everything on a card goes, from the heights of its blocks: which of them stand on which side, and how much too
 * long it is. Sides that are full and one that is nearly empty are set again, so that all are about equally full.
 */
import type { CardFormat } from "./card-format.ts";
import {
  type CardBlock,
  columnWidth,
  controlOf,
  countBesidePlan,
  countOf,
  endBlockOf,
  lengthOf,
  loadsOf,
  lookersOf,
  partOf,
  plansOf,
  roomOn,
  walkBlockOf,
  warningsOf,
} from "./card-heights.ts";
import type { PrintedCard } from "./printed-card.ts";

/** One side of a printed card with the blocks of its columns, from left to right. */
export interface CardSide {
  /** Counts from 1 over all sides. */
  readonly page: number;
  readonly columns: Columns;
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

type Blocks = readonly CardBlock[];
type Columns = readonly Blocks[];

/** One way to set a card. */
interface Way {
  /** Blocks that begin on a side of their own: what is always there, and the options where they stand apart. */
  readonly runs: readonly Blocks[];
  /** A part that has room in a column of its own is not parted. */
  readonly whole: boolean;
  /** What has no room on the front goes on over the page from a pause, if there is one. */
  readonly stops: boolean;
  readonly hasPlan: boolean;
  readonly hasLoads: boolean;
}

/** The sides of each run, and what has no room. */
interface SetCard {
  readonly way: Way;
  readonly runs: readonly (readonly Columns[])[];
  readonly rest: Blocks;
}

/** A changeover has as many sides as it needs, within reason. */
const MOST_SIDES = 40;

/**
 * Lays a card out on a paper. Warnings stand before all lines, because they are of what the lines lead to; then come
 * the card's own lines, the drawing if there is room, the count. Lines that have no room on the front go on over the
 * page, from a pause if there is one. The options' lines stand on the back if they fit there, else on a second leaf: an
 * option's on one side where that makes no side more, and below its heading on each side where they are parted, so that
 * nobody takes them for lines of what is always fitted. Rows move closer together only where that saves a side or keeps
 * the own lines together (a drill on one page is worth more: CAP 676, chapter 7).
 */
export function layoutCard(card: PrintedCard, format: CardFormat): CardLayout {
  const rooms = { front: roomsOf(card, format, true), back: roomsOf(card, format, false) },
    lookers = lookersOf(card, format);
  const most = card.flows ? MOST_SIDES : format.leaves * 2;
  const { row, rowLeast } = format;
  const closer =
    card.flows || card.fitted
      ? [row, rowLeast].map((each) => [each, each] as const)
      : ([
          [row, row],
          [row, rowLeast],
          [rowLeast, rowLeast],
        ] as const);
  const tries = closer
    .flatMap(([own, options]) => waysOf(card, format, own, options))
    .map((way) => setIn(way, { rooms, lookers, most }));
  const best = tries.reduce((least, each) => (isLess(costOf(card, each), costOf(card, least)) ? each : least));
  const sides = balance(card, best, { rooms, lookers, most }).flat();
  return {
    format,
    tooLongMm: Math.ceil(Math.max(lateOf(card, format, best), lengthOf(best.rest)) * format.scale * 10) / 10,
    sides: sides.map((columns, at) => ({
      page: at + 1,
      columns,
      isFront: at === 0,
      continues: goesOn(card, columns, sides[at + 1]),
      continued: at > 0 && goesOn(card, sides[at - 1]!, columns),
    })),
  };
}

/** All ways to set a card with rows of these heights, the best first where they take as many sides. */
function waysOf(card: PrintedCard, format: CardFormat, rowOfOwn: number, rowOfOptions: number): Way[] {
  const width = columnWidth(format),
    lookers = lookersOf(card, format),
    count = countOf(card, format, width);
  const end = endBlockOf(card, format, width, false),
    control = controlOf(card, format, width);
  const linesOf = (parts: PrintedCard["parts"], row: number) =>
    parts.flatMap((part) => partOf(part, { ...format, row }, width));
  if (card.flows) {
    const lines = linesOf(card.parts, rowOfOwn).map(({ under: _, ...block }) => block);
    const blocks = [...walkBlockOf(card, format, width), ...count, ...lookers, ...lines, end, control];
    return [{ runs: [blocks], whole: false, stops: false, hasPlan: false, hasLoads: false }];
  }
  const warnings = warningsOf(card, format, width);
  const own = card.fitted ? card.parts : card.parts.slice(0, 1),
    options = card.fitted ? [] : linesOf(card.parts.slice(1), rowOfOptions);
  const lines = [
    ...warnings,
    ...lookers,
    ...linesOf(own, rowOfOwn),
    options.length > 0 ? endBlockOf(card, format, width, true) : end,
  ];
  const choices = options.length > 0 ? [...options, end] : [];
  const loads = loadsOf(card, format);
  // Above the count in its whole width, beside it, or none. Where the paper has none, the count may be missing as well:
  // it is on every larger paper.
  const besides = countBesidePlan(card, format, width).map((block) => ({ hasPlan: true, counted: [block] }));
  const shown: readonly { readonly hasPlan: boolean; readonly counted: Blocks }[] = [
    ...plansOf(card, format, width, besides.length > 0).map((plan) => ({ hasPlan: true, counted: [plan, ...count] })),
    ...besides,
    { hasPlan: false, counted: count },
    ...(format.hasPlan ? [] : [{ hasPlan: false, counted: [] }]),
  ];
  return shown.flatMap(({ hasPlan, counted }) =>
    (loads.length > 0 ? [loads, []] : [[]]).flatMap((more): Way[] => {
      const always = [...lines, ...(format.hasPlan ? counted : [])];
      const rest = [...choices, ...more, ...(format.hasPlan ? [] : counted), control];
      return [[[...always, ...rest]], ...(choices.length > 0 ? [[always, rest]] : [])].flatMap((runs) =>
        [true, false].flatMap((whole) =>
          [true, false].map((stops) => ({
            runs,
            whole,
            stops,
            hasPlan,
            hasLoads: more.length > 0 || counted.length > 0,
          })),
        ),
      );
    }),
  );
}

/** What a way costs, the heaviest first; ways of the same cost are taken in their order. */
function costOf(card: PrintedCard, { way, runs, rest }: SetCard): readonly number[] {
  const sides = runs.flat();
  const own = card.flows || card.fitted ? 0 : ownSides(card, sides);
  // Options on a leaf of their own, where they don't stand on the back.
  const begins = way.runs.length > 1 && runs[0]!.length > 2 ? 1 : 0;
  return [
    lengthOf(rest),
    begins,
    own > 2 ? own : 0,
    // The card of what is fitted shows where it stands.
    card.fitted && !way.hasPlan ? 1 : 0,
    // A leaf is paper and a pocket; its back is better used than left blank.
    Math.ceil(sides.length / 2),
    way.hasPlan ? 0 : 1,
    sides.length,
    own > 1 ? 1 : 0,
    way.runs.length > 1 || sides.length < 3 ? 0 : 1,
    partedIn(sides),
    way.stops ? 0 : 1,
    way.hasLoads ? 0 : 1,
  ];
}

function isLess(cost: readonly number[], than: readonly number[]): boolean {
  const at = cost.findIndex((each, index) => each !== than[index]);
  return at >= 0 && cost[at]! < than[at]!;
}

/** On how many sides the lines stand that the card always has. */
function ownSides({ parts }: PrintedCard, sides: readonly Columns[]): number {
  const own = new Set(parts[0]?.lines);
  return sides.filter((columns) => columns.flat().some((block) => block.kind === "line" && own.has(block.line))).length;
}

/** How many headings stand once more above lines that go on. */
function partedIn(sides: readonly Columns[]): number {
  return sides.flat(2).filter((block) => block.kind === "part" && block.again).length;
}

/**
 * Own lines belong on the first leaf: the least that would have to go, however the pauses fall. Where warnings before
 * them take that room, they go on over the leaf. Those of what is fitted may do so, as where options stand apart.
 */
function lateOf(card: PrintedCard, format: CardFormat, { runs }: SetCard): number {
  const later = runs.flat().slice(2);
  if (card.flows || card.fitted || ownSides(card, later) === 0) return 0;
  const width = columnWidth(format),
    lookers = lookersOf(card, format);
  const lines = [
    ...partOf(card.parts[0]!, { ...format, row: format.rowLeast }, width),
    endBlockOf(card, format, width, card.parts.length > 1),
  ];
  const { rest } = fill([...lookers, ...lines], roomsOf(card, format, true));
  return lengthOf(fill([...lookers, ...rest], roomsOf(card, format, false)).rest);
}

interface Around {
  readonly rooms: { readonly front: readonly number[]; readonly back: readonly number[] };
  readonly lookers: Blocks;
  readonly most: number;
}

function setIn(way: Way, around: Around): SetCard {
  const runs: (readonly Columns[])[] = [],
    rest: CardBlock[] = [];
  for (const blocks of way.runs) {
    const before = runs.flat().length;
    const poured = rest.length > 0 ? { sides: [], rest: blocks } : pour(blocks, way, around, before);
    runs.push(poured.sides);
    rest.push(...poured.rest);
  }
  return { way, runs, rest };
}

/** Sides may be filled down to this share of their room, so that all are filled alike. */
const LEAST_SHARE = 0.4;
const STEPS = 7;

/**
 * The sides of each run, filled to the least share of their room with which they are no more: so none is full and the
 * last of them nearly empty. No part is parted for it, and lines that are all on the front stay there.
 */
function balance(card: PrintedCard, { way, runs, rest }: SetCard, around: Around): (readonly Columns[])[] {
  return runs.map((sides, at) => {
    const before = runs.slice(0, at).flat().length;
    if (sides.length < 2 || rest.length > 0 || (before === 0 && !card.flows && ownSides(card, sides) < 2)) return sides;
    let best = sides,
      [low, high] = [LEAST_SHARE, 1];
    for (let step = 0; step < STEPS; step += 1) {
      const share = (low + high) / 2,
        tried = pour(way.runs[at]!, way, around, before, share);
      const isSame =
        tried.rest.length === 0 &&
        tried.sides.length === sides.length &&
        partedIn(tried.sides) <= partedIn(sides) &&
        (card.flows || ownSides(card, tried.sides) <= ownSides(card, sides));
      if (isSame) [best, high] = [tried.sides, share];
      else low = share;
    }
    return best;
  });
}

/** Whether lines go on from one side to the next: the own lines, or the options'. */
function goesOn({ fitted, flows }: PrintedCard, columns: Columns, next: Columns | undefined): boolean {
  if (flows) return next !== undefined;
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

interface Poured {
  readonly sides: readonly Columns[];
  readonly rest: Blocks;
}

/** Fills side after side, as many as there may be; the pins' heading is said again on each that has lines. */
function pour(
  blocks: Blocks,
  { whole, stops }: Way,
  { rooms, lookers, most }: Around,
  before: number,
  share = 1,
): Poured {
  const sides: Columns[] = [];
  let rest = blocks;
  while (rest.length > 0 && before + sides.length < most) {
    const isFront = before + sides.length === 0,
      room = isFront ? rooms.front : rooms.back;
    const heads = !rest.some(({ kind }) => kind === "lookers") && rest.some(({ kind }) => kind === "line");
    const here = heads ? [...lookers, ...rest] : rest,
      filled = fill(here, room, whole, share);
    const { columns, rest: left } =
      isFront && stops && filled.rest.length > 0 ? stopAtPause(filled, here, room) : filled;
    if (left.length >= rest.length) break;
    sides.push(columns);
    rest = left;
  }
  return { sides, rest };
}

interface Filled {
  readonly columns: Columns;
  readonly rest: Blocks;
}

/**
 * Puts blocks into columns in order; a heading is not left alone at the end of one, and stands once more above what of
 * it opens a column. What does not fit comes back as `rest`. Who looks is said above every column of lines. `whole`: a
 * part that has room in a column of its own is not parted.
 */
function fill(blocks: Blocks, rooms: readonly number[], whole = false, share = 1): Filled {
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
    // Beyond its share a column is filled by one thing only, with what leads to it, that has no room in less.
    const isFirst = columns[column]!.every(leads);
    if (used + needed <= room * share || (isFirst && used + needed <= room)) {
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
  return block.height + (leads(block) ? neededFor(blocks, at + 1) : 0);
}

/** Whether a block is nothing without the one below it. */
function leads(block: CardBlock): boolean {
  return (
    block.kind === "part" ||
    block.kind === "lookers" ||
    block.kind === "warning" ||
    (block.kind === "line" && block.line.kind === "alarm")
  );
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
  const whole = rooms.reduce((total, room) => total + room, 0);
  for (let at = placed; at > 0; at -= 1) {
    const before = blocks[at - 1]!;
    const isPause = before.kind === "line" && (before.line.kind === "hold" || before.line.kind === "pause");
    if (lengthOf(blocks.slice(0, at)) < whole / 2) break;
    if (isPause) return { ...fill(blocks.slice(0, at), rooms), rest: blocks.slice(at) };
  }
  return filled;
}
