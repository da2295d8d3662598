/** A document to a draft procedure: its title, its head, its steps as an author would write them. */
import { stringify } from "yaml";
import { CannotRun } from "../findings/cannot-run.ts";
import type { Listed } from "./numbering.ts";
import { Drafter, type Piece } from "./pieces.ts";
import type { DocumentBlock, DocumentParagraph, DrawnPicture } from "./read-body.ts";
import type { WordDocument } from "./read-document.ts";

/** What the draft's front matter is given. */
interface DraftHead {
  readonly title: string;
  readonly code: string;
}

/** A draft, not yet written. */
interface Draft {
  readonly steps: number;
  /** Each picture once, in the order of the text; the photo of the first ends with 1. */
  readonly pictures: readonly DrawnPicture[];
  /** The procedure's file, with those of the photos that there are; they are numbered from 1. */
  readonly textWith: (isThere: (photo: number) => boolean) => string;
  /** What could not be placed, each in a sentence. */
  readonly left: readonly string[];
}

/** The title that a document gives itself: by its style, its first heading or its properties; else empty. */
export function titleOf({ blocks, title }: WordDocument): string {
  return titleIn(blocks)?.text.replaceAll("\n", " ") ?? title.trim();
}

function titleIn(blocks: readonly DocumentBlock[]): DocumentParagraph | undefined {
  const spoken = blocks.filter((block) => block.kind === "table" || block.text !== ""),
    first = spoken[0];
  return (
    spoken.find((block): block is DocumentParagraph => block.kind === "paragraph" && block.style.sort === "title") ??
    (first?.kind === "paragraph" && first.style.sort === "heading" && !first.listed ? first : undefined)
  );
}

/**
 * Makes the draft of a procedure with the id and head given. Throws `CannotRun` if the document has no numbered step,
 * or a paragraph that no procedure may hold.
 */
export function draftOf(document: WordDocument, id: string, head: DraftHead): Draft {
  const drafter = new Drafter(document.blocks);
  drafter.flow(document.blocks.filter((block) => block !== titleIn(document.blocks)));
  drafter.close();
  const steps = drafter.pieces.filter(({ kind }) => kind === "step").length;
  if (steps === 0)
    throw new CannotRun(
      "No numbered step was found in this document. Number its steps in your word processor (Home, Numbering), one " +
        "paragraph or row of a table each, save it and try again. Nothing was written.",
    );
  const front = stringify({ title: head.title, code: head.code, revision: 1, status: "draft" }, { lineWidth: 0 });
  return {
    steps,
    pictures: drafter.pictures,
    textWith(isThere) {
      const nameOf = (photo: number) => (isThere(photo) ? [photoId(id, photo)] : []);
      return `---\n${front}---\n${drafter.pieces.map((piece) => write(piece, nameOf)).join("\n\n")}\n`;
    },
    left: [...document.left, ...drafter.left],
  };
}

/** The id of a draft's photo. */
export function photoId(procedure: string, photo: number): string {
  return `${procedure}-${photo}`;
}

function write(piece: Piece, nameOf: (photo: number) => readonly string[]): string {
  switch (piece.kind) {
    case "heading":
      return `## ${piece.lines.join(" ")}`;
    case "text":
      return piece.lines.filter(Boolean).join("\n\n");
    case "list":
      return writeList(piece.items);
    case "notice":
      return `:::${piece.signal}\n${piece.lines.filter(Boolean).join("\n\n")}\n:::`;
    case "step": {
      const photos = [...piece.photos].flatMap(nameOf),
        shown = photos.length ? `{photo=${photos.length > 1 ? `"${photos.join(" ")}"` : photos[0]}}` : "",
        fence = piece.pieces.some(({ kind }) => kind === "notice") ? "::::" : ":::";
      return `${fence}step${shown}\n${piece.pieces.map((each) => write(each, nameOf)).join("\n\n")}\n${fence}`;
    }
  }
}

/** Lists within lists, each item under the one it belongs to (CommonMark 0.31.2, 5.2: by the width of its mark). */
function writeList(items: Extract<Piece, { kind: "list" }>["items"]): string {
  const open: { sort: Listed["sort"]; count: number; indent: number; width: number }[] = [];
  return items
    .map(({ depth, sort, text }) => {
      const at = Math.min(depth, open.length);
      open.length = Math.min(open.length, at + 1);
      const above = open[at - 1],
        indent = above ? above.indent + above.width : 0,
        count = open[at]?.sort === sort ? open[at].count + 1 : 1,
        mark = sort === "bullet" ? "- " : `${count}. `;
      open[at] = { sort, count, indent, width: mark.length };
      return `${" ".repeat(indent)}${mark}${text}`;
    })
    .join("\n");
}
