/** The body of a word processor's document, element by element: its paragraphs, tables and pictures (ECMA-376). */
import { isSwitchedOn, type Listed, type Style, type Styles } from "./numbering.ts";
import { allIn, childOf, type Element, elementsIn } from "./xml.ts";

/** A picture as the document shows it. */
export interface DrawnPicture {
  /** The part that holds it. */
  readonly part: string;
  /** Its alternative text; empty if there is none. */
  readonly alt: string;
  /** What is cut off at each side, as fractions (ECMA-376 Part 1, 20.1.8.55). */
  readonly cut: { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };
  /** Degrees clockwise, 0 to 359. */
  readonly turn: number;
  readonly mirrored: boolean;
}

/** A paragraph with its text; lines are parted by `\n`. */
export interface DocumentParagraph {
  readonly kind: "paragraph";
  readonly text: string;
  readonly style: Style;
  readonly listed?: Listed;
  /** How many signs at its beginning are bold. */
  readonly boldFor: number;
  readonly pictures: readonly DrawnPicture[];
}

/** A table: rows of cells, each with its content. */
export interface DocumentTable {
  readonly kind: "table";
  readonly rows: readonly (readonly DocumentBlock[][])[];
}

/** What a document is made of. */
export type DocumentBlock = DocumentParagraph | DocumentTable;

/** Where a relationship of the document leads. */
export interface Relation {
  readonly type: string;
  readonly target: string;
  readonly external: boolean;
}

/** The text of an element and of all in it. */
export const textIn = (element: Element | undefined): string =>
  (element?.children ?? []).map((child) => (typeof child === "string" ? child : textIn(child))).join("");

/** The text of each paragraph in an element that has any, deleted text left out. */
export const textsIn = (element: Element): string[] =>
  allIn(element, "p")
    .map((paragraph) => tidy(allIn(paragraph, "t").map(textIn).join("")))
    .filter(Boolean);

/** Spaces as one; none before or after a line. */
function tidy(text: string): string {
  return text
    .replace(/[^\S\n]+/g, " ")
    .replace(/ ?\n ?/g, "\n")
    .trim();
}

/** What holds other content and adds nothing of its own (ECMA-376 Part 1, 17.3, 17.5, 17.13, 17.16). */
const WRAPPERS = new Set(["ins", "moveTo", "smartTag", "customXml", "fldSimple", "dir", "bdo", "sdtContent", "r"]);
const FORMS = ["b", "i", "u", "strike", "highlight", "color", "vertAlign"];

/** What a paragraph has come to so far. */
interface Gathered {
  text: string;
  boldFor: number;
  readonly pictures: DrawnPicture[];
}

/** Reads blocks; `left` holds what stands in none of them, each once, in a sentence. */
export class BodyReader {
  readonly #relations: ReadonlyMap<string, Relation>;
  readonly #styles: Styles;
  /** What was left out, in the order of the text, each once. */
  readonly #left = new Set<string>();
  #near = "";

  constructor(relations: ReadonlyMap<string, Relation>, styles: Styles) {
    this.#relations = relations;
    this.#styles = styles;
  }

  get left(): string[] {
    return [...this.#left];
  }

  blocksIn(elements: readonly Element[]): DocumentBlock[] {
    return elements.flatMap((element): DocumentBlock[] => {
      switch (element.name) {
        case "p":
          return [this.#paragraph(element)];
        case "tbl":
          return [this.#table(element)];
        case "sdt":
          return this.blocksIn(elementsIn(childOf(element, "sdtContent")));
        case "AlternateContent":
          return this.blocksIn(elementsIn(chosen(element)));
        case "altChunk":
          this.#leave("Another document that is put in here");
          return [];
        case "del":
        case "moveFrom":
          this.#leaveDeleted(element);
          return [];
        case "oMathPara":
          this.#leave(`A formula, “${textIn(element)}”,`);
          return [];
        default:
          return WRAPPERS.has(element.name) ? this.blocksIn(elementsIn(element)) : [];
      }
    });
  }

  #leave(what: string): void {
    this.#left.add(this.#near === "" ? `${what} at the beginning` : `${what} by “${this.#near}”`);
  }

  #leaveDeleted(element: Element): void {
    this.#leaveUnseen("that was deleted with changes tracked", element);
  }

  #leaveUnseen(how: string, element: Element): void {
    const text = tidy([...allIn(element, "delText"), ...allIn(element, "t")].map(textIn).join(""));
    if (text) this.#leave(`Text ${how}, “${text}”,`);
    if (allIn(element, "blip").length + allIn(element, "imagedata").length) this.#leave(`A picture ${how}`);
  }

  #table(table: Element): DocumentTable {
    // A row or a cell may stand in a content control, or be one that somebody put in with changes tracked.
    const inside = (element: Element, name: string): Element[] =>
      elementsIn(element).flatMap((child) =>
        child.name === name ? [child] : child.name === "sdt" || WRAPPERS.has(child.name) ? inside(child, name) : [],
      );
    return {
      kind: "table",
      rows: inside(table, "tr").map((row) => inside(row, "tc").map((cell) => this.blocksIn(elementsIn(cell)))),
    };
  }

  #paragraph(paragraph: Element): DocumentParagraph {
    const gathered: Gathered = { text: "", boldFor: 0, pictures: [] },
      style = this.#styles.styleOf(paragraph);
    // What the words are near to is best told by the words themselves.
    const own = tidy(allIn(paragraph, "t").map(textIn).join(""));
    if (own) this.#near = own.length > 60 ? `${own.slice(0, 59)}…` : own;
    for (const child of elementsIn(paragraph)) this.#inline(child, gathered, style);
    const listed = this.#styles.listOf(paragraph),
      ahead = gathered.text.length - gathered.text.trimStart().length;
    return {
      kind: "paragraph",
      text: tidy(gathered.text),
      style,
      ...(listed ? { listed } : {}),
      boldFor: Math.max(0, gathered.boldFor - ahead),
      pictures: gathered.pictures,
    };
  }

  #inline(element: Element, to: Gathered, style: Style, run?: Element): void {
    const inner = (from: Element | undefined, of = run) => {
      for (const child of elementsIn(from)) this.#inline(child, to, style, of);
    };
    switch (element.name) {
      case "r":
        if (isSwitchedOn(childOf(element, "rPr", "vanish"))) {
          return this.#leaveUnseen("that is hidden", element);
        }
        if (FORMS.some((form) => childOf(element, "rPr", form)) && allIn(element, "t").length)
          this.#left.add("Bold, italic, underlined, raised and coloured letters: their words are kept, not their look");
        return inner(element, element);
      case "t":
        return add(textIn(element));
      case "tab":
      case "ptab":
        return add(" ");
      case "cr":
        return add("\n");
      case "br":
        return add(["page", "column"].includes(element.attributes["type"] ?? "") ? " " : "\n");
      case "noBreakHyphen":
        return add("\u2011");
      case "sym":
        return this.#leave(`A sign of the font ${element.attributes["font"] ?? "of signs"}`);
      case "hyperlink": {
        const target = this.#relations.get(element.attributes["id"] ?? "");
        if (target?.external) this.#leave(`The address ${target.target} of a link`);
        return inner(element);
      }
      case "sdt":
        return inner(childOf(element, "sdtContent"));
      case "ruby":
        return inner(childOf(element, "rubyBase"));
      case "AlternateContent":
        return inner(chosen(element));
      case "del":
      case "moveFrom":
        return this.#leaveDeleted(element);
      case "oMath":
      case "oMathPara":
        return this.#leave(`A formula, “${textIn(element)}”,`);
      case "drawing":
        return this.#drawing(element, to);
      case "pict":
      case "object":
        return this.#oldDrawing(element, to);
      default:
        if (WRAPPERS.has(element.name)) inner(element);
    }

    function add(text: string): void {
      const isBold = isSwitchedOn(childOf(run, "rPr", "b")) || (style.bold && !childOf(run, "rPr", "b"));
      if (to.boldFor === to.text.length && (isBold || text.trim() === "")) to.boldFor += text.length;
      to.text += text;
    }
  }

  /** DrawingML, in the line or anchored (ECMA-376 Part 1, 20.4.2.3 and 20.4.2.8): what pictures it holds. */
  #drawing(drawing: Element, to: Gathered): void {
    const about = allIn(drawing, "docPr")[0]?.attributes,
      pictures = allIn(drawing, "pic").filter((each) => childOf(each, "blipFill"));
    for (const picture of pictures) {
      const blip = childOf(picture, "blipFill", "blip")?.attributes,
        cut = childOf(picture, "blipFill", "srcRect")?.attributes,
        shape = childOf(picture, "spPr", "xfrm")?.attributes;
      const share = (side: string): number => Math.max(0, readShare(cut?.[side]));
      this.#take(to, blip?.["embed"] || undefined, blip?.["link"], {
        alt: tidy(about?.["descr"] || childOf(picture, "nvPicPr", "cNvPr")?.attributes["descr"] || ""),
        cut: { left: share("l"), top: share("t"), right: share("r"), bottom: share("b") },
        turn: ((Math.round(Number(shape?.["rot"] ?? 0) / 60_000) % 360) + 360) % 360,
        mirrored: ["flipH", "flipV"].some((way) => ["1", "true"].includes(shape?.[way] ?? "")),
      });
    }
    this.#leaveTextBoxes(drawing);
    const shapes = allIn(drawing, "wsp").filter((shape) => !childOf(shape, "txbx")).length;
    if (shapes) this.#leave(shapes === 1 ? "A drawn shape (an arrow, a frame)" : `${shapes} drawn shapes`);
    else if (!pictures.length && !allIn(drawing, "txbxContent").length) this.#leave("A chart or diagram");
  }

  /** VML, as older word processors draw (ECMA-376 Part 4, 19.1.2.11). */
  #oldDrawing(drawing: Element, to: Gathered): void {
    const pictures = allIn(drawing, "imagedata");
    for (const { attributes } of pictures)
      this.#take(to, attributes["id"], attributes["href"], {
        alt: tidy(allIn(drawing, "shape")[0]?.attributes["alt"] ?? ""),
        cut: { left: 0, top: 0, right: 0, bottom: 0 },
        turn: 0,
        mirrored: false,
      });
    this.#leaveTextBoxes(drawing);
    if (drawing.name === "object") this.#leave("A file that is put in (only its picture, if any, is taken)");
    else if (!pictures.length && !allIn(drawing, "txbxContent").length)
      this.#leave("A drawn shape (an arrow, a frame)");
  }

  #leaveTextBoxes(drawing: Element): void {
    for (const box of allIn(drawing, "txbxContent"))
      for (const text of textsIn(box)) this.#leave(`Text in a text box, “${text}”,`);
  }

  #take(to: Gathered, id: string | undefined, link: string | undefined, more: Omit<DrawnPicture, "part">): void {
    const relation = this.#relations.get(id ?? link ?? "");
    if (relation && !relation.external) to.pictures.push({ part: relation.target, ...more });
    else
      this.#leave(`A picture that is not in the document${relation ? `, only its address ${relation.target},` : ""}`);
  }
}

/** `ST_Percentage`: thousandths of a percent, or with a percent sign (ECMA-376 Part 1, 20.1.10.40). */
function readShare(written = "0"): number {
  const share = written.endsWith("%") ? Number(written.slice(0, -1)) / 100 : Number(written) / 100_000;
  return Number.isFinite(share) ? share : 0;
}

/** Of several forms of the same content the first, which is the newest (ECMA-376 Part 3, 9.3). */
function chosen(element: Element): Element | undefined {
  return childOf(element, "Choice") ?? childOf(element, "Fallback");
}
