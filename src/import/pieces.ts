/** A document's paragraphs and tables, one after the other, to the pieces of a procedure: steps, notices, details. */
import { CannotRun } from "../findings/cannot-run.ts";
import { MOST_IN_PARAGRAPH } from "../read/bounds.ts";
import { escapeLine } from "./escape.ts";
import type { Listed } from "./numbering.ts";
import type { DocumentBlock, DocumentParagraph, DocumentTable, DrawnPicture } from "./read-body.ts";

/** Words that begin a notice, as the trade ranks them (ANSI Z535.6, common practice in flight manuals). */
const SIGNALS = ["warning", "caution", "note"] as const;
type Signal = (typeof SIGNALS)[number];

/** A piece of a draft; `lines` are Markdown. */
export type Piece =
  | { readonly kind: "heading" | "text"; readonly lines: readonly string[] }
  | { readonly kind: "list"; readonly items: { readonly depth: number; readonly sort: Listed["sort"]; text: string }[] }
  | { readonly kind: "notice"; readonly signal: Signal; readonly lines: readonly string[]; readonly isFixed: boolean }
  | DraftStep;

interface DraftStep {
  readonly kind: "step";
  readonly pieces: Piece[];
  readonly photos: Set<number>;
}

/** `Warning:`, `CAUTION –`, or the word alone; a sentence such as `Note the colour` is none. */
function readNotice(paragraph: DocumentParagraph): { signal: Signal; rest: string } | undefined {
  const { text, style, boldFor } = paragraph;
  const [begin, word, mark] = /^(warning|caution|note)s?\b[^\S\n]*([:.!\n]|[–—-](?=\s))?\s*/i.exec(text) ?? [];
  const named = SIGNALS.find((signal) => style.name === signal);
  if (begin === undefined || word === undefined) return named ? { signal: named, rest: text } : undefined;
  const rest = text.slice(begin.length),
    isLoud = word === word.toUpperCase() || (boldFor >= word.length && boldFor < text.length);
  // Without a colon the word must stand out, from a sentence that only begins with it too.
  const stands =
    rest === "" || (mark !== undefined && mark !== ":")
      ? isLoud || boldFor > 0
      : mark === ":" || (isLoud && /^\p{Lu}.*\p{Ll}/u.test(rest));
  return stands || named ? { signal: word.toLowerCase() as Signal, rest } : undefined;
}

/** A step's number as somebody typed it: `3.`, `3)`, `Step 3:`. */
const TYPED = /^(?:step\s+(\d{1,3})\b[.):]?|(\d{1,3})[.)])\s+(?=\S)/i;
const IS_NUMBER = /^(?:step\s*)?\d{1,3}[.)]?$/i;

/**
 * Takes a document in its order; `pieces`, `pictures` (each once) and `left` (what it could not place, in sentences)
 * are whole after `close`. Throws `CannotRun` for a paragraph that no procedure may hold.
 */
export class Drafter {
  readonly pieces: Piece[] = [];
  readonly pictures: DrawnPicture[] = [];
  readonly left: string[] = [];
  readonly #photos = new Map<string, number>();
  /** List -> the outermost level at which it numbers text: its steps. */
  readonly #stepLevel = new Map<string, number>();
  /** Nothing is numbered by the word processor, so that typed numbers count. */
  readonly #isTyped: boolean;
  #typed = 0;
  #step: DraftStep | undefined;
  #signal: Signal | undefined;

  constructor(blocks: readonly DocumentBlock[]) {
    const all = paragraphsIn(blocks).filter(({ listed }) => listed?.sort === "number");
    for (const { listed, style, text } of all)
      if (listed && style.sort === "text" && text !== "")
        this.#stepLevel.set(listed.list, Math.min(listed.level, this.#stepLevel.get(listed.list) ?? Infinity));
    this.#isTyped = !all.some(({ style }) => style.sort === "text");
  }

  flow(blocks: readonly DocumentBlock[]): void {
    for (const block of blocks)
      if (block.kind === "table") this.#table(block);
      else this.#paragraph(block);
  }

  /** Ends the step that is open: notices after its last words are for what follows. */
  close(): void {
    this.#endSignal();
    const pieces = this.#step?.pieces ?? [],
      last = pieces.findLastIndex((piece) => piece.kind !== "notice" || piece.isFixed);
    this.#step = undefined;
    this.pieces.push(...pieces.splice(last + 1));
  }

  #paragraph(paragraph: DocumentParagraph): void {
    const { text, listed, style, pictures } = paragraph,
      isContents = /^toc\b/.test(style.name);
    const typed = this.#isTyped && style.sort !== "heading" ? this.#readTyped(text) : undefined;
    if (isContents) this.left.push(`A line of the table of contents: “${text}”`);
    else if (text !== "" && !this.#notice(paragraph)) {
      if (style.sort !== "text") {
        this.close();
        this.pieces.push({ kind: "heading", lines: [line(text.replaceAll("\n", " "))] });
      } else if (this.#isStep(listed) || typed !== undefined) this.#begin(typed ?? text);
      else if (listed) this.#item(text, listed);
      else this.#add({ kind: "text", lines: text.split("\n").map(line) });
    }
    this.#show(pictures, text);
  }

  #isStep(listed: Listed | undefined): boolean {
    return listed?.sort === "number" && listed.level <= (this.#stepLevel.get(listed.list) ?? -1);
  }

  /** The text after a typed number, if that is the next one, or begins anew. */
  #readTyped(text: string): string | undefined {
    const found = TYPED.exec(text),
      number = Number(found?.[1] ?? found?.[2]);
    if (!found || (number !== 1 && number !== this.#typed + 1)) return undefined;
    this.#typed = number;
    return text.slice(found[0].length);
  }

  #begin(text: string): void {
    // The format reads it as a reason, also where somebody has numbered it.
    if (/^why:/i.test(text) && this.#step) {
      this.left.push(
        `The number before “${text}”: it is the reason of the step above it, so the steps after it count one less`,
      );
      return this.#add({ kind: "text", lines: text.split("\n").map(line) });
    }
    this.close();
    this.#step = { kind: "step", pieces: [{ kind: "text", lines: text.split("\n").map(line) }], photos: new Set() };
    this.pieces.push(this.#step);
  }

  /** A notice, or the text of one whose word stood alone before. */
  #notice(paragraph: DocumentParagraph): boolean {
    const { listed, style, text } = paragraph,
      found = readNotice(paragraph);
    if (!found) {
      if (!this.#signal || style.sort !== "text" || this.#isStep(listed)) {
        this.#endSignal();
        return false;
      }
      this.#add({ kind: "notice", signal: this.#signal, lines: text.split("\n").map(line), isFixed: false });
      this.#signal = undefined;
      return true;
    }
    this.#endSignal();
    if (this.#isStep(listed))
      this.left.push(
        `The number before “${text}”: it is a ${found.signal}, no step, so the steps after it count one less`,
      );
    const isFixed = listed !== undefined && !this.#isStep(listed);
    if (found.rest === "") this.#signal = found.signal;
    else this.#add({ kind: "notice", signal: found.signal, lines: found.rest.split("\n").map(line), isFixed });
    return true;
  }

  #endSignal(): void {
    if (this.#signal) this.left.push(`The word “${this.#signal.toUpperCase()}” that no text follows`);
    this.#signal = undefined;
  }

  #add(piece: Piece): void {
    (this.#step?.pieces ?? this.pieces).push(piece);
  }

  #item(text: string, { level, list, sort }: Listed): void {
    const pieces = this.#step?.pieces ?? this.pieces,
      last = pieces.at(-1),
      outer = this.#stepLevel.get(list);
    const item = {
      depth: Math.max(0, outer === undefined ? level : level - outer - 1),
      sort,
      text: line(text.replaceAll("\n", " ")),
    };
    if (last?.kind === "list") last.items.push(item);
    else pieces.push({ kind: "list", items: [item] });
  }

  #show(pictures: readonly DrawnPicture[], text: string): void {
    for (const picture of pictures) {
      const key = JSON.stringify({ ...picture, alt: "" }),
        number = this.#photos.get(key) ?? this.pictures.push(picture);
      this.#photos.set(key, number);
      const step = this.#step ?? this.#lastInSection();
      if (step) step.photos.add(number);
      else
        this.left.push(
          `Picture ${number}${picture.alt || text ? ` (“${picture.alt || text}”)` : ""}: it stands before the first ` +
            "step of its section. It is among the photos, and no step shows it",
        );
    }
  }

  #lastInSection(): DraftStep | undefined {
    const last = this.pieces.findLast(({ kind }) => kind === "step" || kind === "heading");
    return last?.kind === "step" ? last : undefined;
  }

  #table({ rows }: DocumentTable): void {
    const number = numberColumn(rows);
    if (number >= 0) return this.#stepRows(rows, number);
    const inside = paragraphsIn(rows.flat(2)),
      isPlain = inside.every((each) => !this.#isStep(each.listed) && !readNotice(each) && !each.listed);
    const texts = rows.map((row) =>
      row.map((cell) =>
        paragraphsIn(cell)
          .map(({ text }) => text)
          .join(" ")
          .trim(),
      ),
    );
    const width = Math.max(0, ...texts.map(({ length }) => length));
    if (!isPlain || width < 2 || texts.flat().filter(Boolean).length < 2 || rows.length < 2 || this.#signal)
      return rows.flat().forEach((cell) => this.flow(cell));
    const written = texts.map((row) => {
      const cells = Array.from({ length: width }, (_, at) => line((row[at] ?? "").replaceAll("\n", " ")) || " ");
      return `| ${cells.join(" | ")} |`;
    });
    this.#add({ kind: "text", lines: [[written[0], `|${" --- |".repeat(width)}`, ...written.slice(1)].join("\n")] });
    for (const { pictures, text } of inside) this.#show(pictures, text);
  }

  /** A table of which each row with a number is a step. */
  #stepRows(rows: DocumentTable["rows"], number: number): void {
    const isHead = rows.length > 1 && !isNumbered(rows[0]![number]),
      heads = isHead
        ? rows[0]!.map((cell) =>
            paragraphsIn(cell)
              .map(({ text }) => text)
              .join(" ")
              .trim(),
          )
        : [];
    for (const row of isHead ? rows.slice(1) : rows) {
      const others = row.map((cell, column) => ({ cell, column })).filter(({ column }) => column !== number);
      if (!isNumbered(row[number])) {
        row.forEach((cell) => this.flow(cell));
        continue;
      }
      const all = others.flatMap(({ cell, column }) => paragraphsIn(cell).map((paragraph) => ({ paragraph, column }))),
        first = all.find(({ paragraph }) => paragraph.text !== "" && !readNotice(paragraph));
      if (!first) {
        this.left.push(
          `The number ${paragraphsIn(row[number]!)[0]?.text ?? ""} of a row in a table that has no text beside it`,
        );
        others.forEach(({ cell }) => this.flow(cell));
        continue;
      }
      this.#begin(first.paragraph.text);
      for (const { paragraph, column } of all)
        this.#cell(paragraph, paragraph === first.paragraph, heads, column, first.column);
      this.#show(
        paragraphsIn(row[number]!).flatMap(({ pictures }) => pictures),
        "",
      );
    }
  }

  #cell(paragraph: DocumentParagraph, isFirst: boolean, heads: readonly string[], column: number, own: number): void {
    const { text, listed, pictures } = paragraph,
      found = readNotice(paragraph),
      head = heads[column] ?? "";
    const signal = found?.signal ?? SIGNALS.find((each) => head.toLowerCase() === each);
    if (text !== "" && !isFirst) {
      const spoken =
        column === own || head === "" || text.toLowerCase().startsWith(head.toLowerCase()) ? text : `${head}: ${text}`;
      if (signal && found?.rest !== "")
        this.#add({ kind: "notice", signal, lines: (found?.rest ?? text).split("\n").map(line), isFixed: true });
      else if (listed) this.#item(text, listed);
      else this.#add({ kind: "text", lines: spoken.split("\n").map(line) });
    }
    this.#show(pictures, text);
  }
}

/** Every paragraph, those in tables too, in the order of the text. */
function paragraphsIn(blocks: readonly DocumentBlock[]): DocumentParagraph[] {
  return blocks.flatMap((block) => (block.kind === "paragraph" ? [block] : paragraphsIn(block.rows.flat(2))));
}

/** A cell that holds only a number, typed or by the word processor. */
function isNumbered(cell: readonly DocumentBlock[] | undefined): boolean {
  const paragraphs = paragraphsIn(cell ?? []),
    text = paragraphs.map((each) => each.text).join("");
  return text === "" ? paragraphs.some(({ listed }) => listed?.sort === "number") : IS_NUMBER.test(text);
}

/** The column that numbers a table's rows: beside its head, at least half of them; -1 if none does. */
function numberColumn(rows: DocumentTable["rows"]): number {
  const width = Math.max(0, ...rows.map(({ length }) => length));
  if (width < 2) return -1;
  return Array.from({ length: width }, (_, column) => rows.filter((row) => isNumbered(row[column])).length).findIndex(
    (count) => count > 0 && count * 2 >= rows.length - 1,
  );
}

/** A line as Markdown. Throws `CannotRun` for one that the collection's reader would refuse. */
function line(text: string): string {
  const escaped = escapeLine(text);
  if (escaped.length > MOST_IN_PARAGRAPH)
    throw new CannotRun(
      `The paragraph that begins “${text.slice(0, 60)}…” has more than ` +
        `${MOST_IN_PARAGRAPH.toLocaleString("en-GB")} signs. Part it in your word processor and try again. ` +
        "Nothing was written.",
    );
  return escaped;
}
