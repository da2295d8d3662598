/** A Word document (ECMA-376): its paragraphs, tables and pictures in their order, and what is in none of them. */
import { posix } from "node:path";
import { CannotRun } from "../findings/cannot-run.ts";
import { readStyles } from "./numbering.ts";
import { BodyReader, type DocumentBlock, textIn, type Relation, textsIn } from "./read-body.ts";
import { childOf, type Element, elementsIn, parsePart } from "./xml.ts";
import type { Parts } from "./zip-parts.ts";

/** A document as it was read. */
export interface WordDocument {
  readonly blocks: readonly DocumentBlock[];
  /** The title among its properties; empty if it has none. */
  readonly title: string;
  /** What was read and stands in no block, each in a sentence. */
  readonly left: readonly string[];
}

/** Part 1, and its older form (Part 4), name the same relationships by two beginnings. */
const isRelation = (type: string, name: string) => type.endsWith(`/relationships/${name}`);

/** Relationships of a part (`""`: of the whole file) by id, targets as names of parts (ECMA-376 Part 2, 6.5). */
async function readRelations(parts: Parts, part: string): Promise<ReadonlyMap<string, Relation>> {
  const name = posix.join(posix.dirname(part || "x"), "_rels", `${posix.basename(part)}.rels`);
  const bytes = await parts.read(name);
  if (!bytes) return new Map();
  return new Map(
    elementsIn(parsePart(bytes, name)).map(({ attributes: { Id = "", Type = "", Target = "", TargetMode } }) => {
      const external = TargetMode === "External",
        target = external
          ? Target
          : decodeURI(posix.join("/", Target.startsWith("/") ? "" : posix.dirname(part || "x"), Target)).slice(1);
      return [Id, { type: Type, target, external }];
    }),
  );
}

/** Text that a document holds beside its body: what it is called, and the relationship that leads to it. */
const BESIDE = [
  ["header", "header"],
  ["footer", "footer"],
  ["footnotes", "footnote"],
  ["endnotes", "endnote"],
  ["comments", "comment"],
] as const;

/**
 * Reads WordprocessingML (ECMA-376 Part 1, 17). Throws `CannotRun` for what is none, and for parts that are missing or
 * damaged.
 */
export async function readWordDocument(parts: Parts): Promise<WordDocument> {
  const top = [...(await readRelations(parts, "")).values()];
  const main = top.find(({ type }) => isRelation(type, "officeDocument"))?.target ?? "";
  const bytes = await parts.read(main);
  const root = bytes && parsePart(bytes, main),
    body = root?.name === "document" ? childOf(root, "body") : undefined;
  if (!body)
    throw new CannotRun(
      "This file is no Word document (.docx): it may be a sheet, slides, or any other zip file. Open it in your word " +
        "processor and save it as .docx. Nothing was written.",
    );
  const relations = await readRelations(parts, main);
  const readOf = async (type: string): Promise<Element | undefined> => {
    const target = [...relations.values()].find((each) => isRelation(each.type, type))?.target;
    const content = target === undefined ? undefined : await parts.read(target);
    return content && parsePart(content, target!);
  };
  const reader = new BodyReader(relations, readStyles(await readOf("styles"), await readOf("numbering")));
  const blocks = reader.blocksIn(elementsIn(body));
  const beside: string[] = [];
  for (const [type, word] of BESIDE)
    for (const { target } of [...relations.values()].filter((each) => isRelation(each.type, type))) {
      const content = await parts.read(target);
      for (const text of content ? textsIn(parsePart(content, target)) : [])
        beside.push(`Text of a ${word}: “${text}”`);
    }
  const core = top.find(({ type }) => type.endsWith("/metadata/core-properties"))?.target,
    properties = core === undefined ? undefined : await parts.read(core);
  const title = properties ? textIn(childOf(parsePart(properties, core!), "title")) : "";
  return { blocks, title, left: [...reader.left, ...new Set(beside)] };
}
