/** The papers of the cards: sizes, margins and type of each, with the published rule that each follows. */
import type { Paper } from "../schema/collection.ts";
import { heard } from "../words/heard.ts";

type FormatId = "a5" | "a5-landscape" | "a4" | "a4-landscape" | "a6" | "a6-landscape";

/** Sizes of type in points, of the card before it is scaled. */
interface CardType {
  /** Name of the card on its front, and on the other sides. */
  readonly title: number;
  readonly again: number;
  readonly band: number;
  /** Challenges and answers: what must be read at arm's length. */
  readonly line: number;
  readonly hold: number;
  readonly head: number;
  readonly text: number;
  /** Code, page, notice: what identifies the card. */
  readonly small: number;
  /** Check code and copy number. */
  readonly word: number;
}

/** A form in which a card is printed; lengths in millimetres before `scale` is applied, type in points. */
export interface CardFormat {
  readonly id: FormatId;
  readonly name: string;
  readonly paper: Paper;
  readonly landscape: boolean;
  /** The sheet in millimetres (ISO 216). */
  readonly sheet: { readonly width: number; readonly height: number };
  /** One side of the card in millimetres before scaling; two of them stand on a sheet that is folded. */
  readonly side: { readonly width: number; readonly height: number };
  readonly folded: boolean;
  /** Leaves that a card may have, each with a front and a back. */
  readonly leaves: number;
  /** How much larger everything is printed. */
  readonly scale: number;
  readonly columns: 1 | 2;
  readonly gap: number;
  readonly margin: { readonly top: number; readonly right: number; readonly bottom: number; readonly left: number };
  readonly holes: { readonly apart: number; readonly size: number; readonly edge: number };
  readonly tab: number;
  readonly pin: number;
  /** Height of a row at least, usually and where all lines must stand on one side. */
  readonly row: number;
  readonly rowLeast: number;
  /** Challenge above answer always, not only where they do not fit on one line. */
  readonly stacked: boolean;
  readonly hasRail: boolean;
  readonly hasPlan: boolean;
  readonly type: CardType;
  readonly qr: number;
}

/**
 * A5: the line of 13.2 pt has an x-height of 2.56 mm in B612 (Degani 1992, NASA CR-177605: at least 0.10 inch, 2.54 mm,
 * for important text). CAP 676 (UK CAA,
 * issue 3, 2006, chapter 7): body at least 10 pt, headings at least 12 pt. What only identifies the card is 8.5 pt. A
 * pin of 8.4 mm takes a wax pencil in a
 * glove (common practice, no source). 20 mm at the holes and 13 mm at the tab leave room for a thumb. Above and below
 * nobody holds it: 6 and 5.5 mm are what printers leave white, and 8.5 mm from the edge of the laminate. A square code
 * of 22 mm is read from 150 dots an inch (20 mm was measured with this length of address).
 */
const TYPE: CardType = {
  title: 25,
  again: 14,
  band: 13,
  line: 13.2,
  hold: 10.5,
  head: 12,
  text: 10,
  small: 8.5,
  word: 15,
};
/** A6: CAP 676's 10 pt is kept, Degani's x-height is not (2.04 mm): the page of the card says so. */
const SMALL_TYPE: CardType = {
  title: 16,
  again: 13,
  band: 12,
  line: 10.5,
  hold: 10,
  head: 12,
  text: 10,
  small: 8.5,
  word: 13,
};

const BIG = {
  gap: 8,
  holes: { apart: 80, size: 6, edge: 9 },
  tab: 8,
  pin: 8.4,
  row: 10.5,
  rowLeast: 9.5,
  stacked: false,
  hasRail: true,
  hasPlan: true,
  type: TYPE,
  qr: 22,
  folded: false,
  scale: 1,
  leaves: 3,
} as const;
const POCKET = {
  gap: 6,
  holes: { apart: 50, size: 6, edge: 7 },
  tab: 5,
  pin: 8.4,
  row: 9.7,
  rowLeast: 9.7,
  stacked: true,
  hasRail: false,
  hasPlan: false,
  type: SMALL_TYPE,
  qr: 21,
  folded: false,
  scale: 1,
  leaves: 4,
} as const;
const A5_SIDE = { width: 148, height: 210 },
  A5_MARGIN = { top: 6, right: 13, bottom: 5.5, left: 20 };

/**
 * Every paper, the usual one first. A4 upright is A5 larger by the square root of 2; A4 lying is both sides of A5 next
 * to each other, folded to A5.
 */
export const FORMATS: readonly CardFormat[] = [
  {
    ...BIG,
    id: "a5",
    name: "A5",
    paper: "A5",
    landscape: false,
    sheet: A5_SIDE,
    side: A5_SIDE,
    columns: 1,
    margin: A5_MARGIN,
  },
  {
    ...BIG,
    id: "a5-landscape",
    get name() {
      return heard("cardPack").a5Lying;
    },
    paper: "A5",
    landscape: true,
    sheet: { width: 210, height: 148 },
    side: { width: 210, height: 148 },
    columns: 2,
    margin: A5_MARGIN,
  },
  {
    ...BIG,
    id: "a4",
    name: "A4",
    paper: "A4",
    landscape: false,
    sheet: { width: 210, height: 297 },
    side: A5_SIDE,
    columns: 1,
    margin: A5_MARGIN,
    scale: 1.414,
  },
  {
    ...BIG,
    id: "a4-landscape",
    get name() {
      return heard("cardPack").a4Folded;
    },
    paper: "A4",
    landscape: true,
    sheet: { width: 297, height: 210 },
    side: A5_SIDE,
    columns: 1,
    margin: A5_MARGIN,
    folded: true,
  },
  {
    ...POCKET,
    id: "a6",
    name: "A6",
    paper: "A6",
    landscape: false,
    sheet: { width: 105, height: 148 },
    side: { width: 105, height: 148 },
    columns: 1,
    margin: { top: 6, right: 8, bottom: 5, left: 13 },
  },
  {
    ...POCKET,
    id: "a6-landscape",
    get name() {
      return heard("cardPack").a6Lying;
    },
    paper: "A6",
    landscape: true,
    sheet: { width: 148, height: 105 },
    side: { width: 148, height: 105 },
    columns: 2,
    margin: { top: 6, right: 8, bottom: 5, left: 13 },
  },
];

/** The paper of that id; throws if there is none. */
export function formatOf(id: string): CardFormat {
  const found = FORMATS.find((format) => format.id === id);
  if (!found) throw new Error(`No card is printed on ${id}`);
  return found;
}

/** The upright paper of that size. */
export function formatFor(paper: Paper): CardFormat {
  return formatOf(paper.toLowerCase());
}
