/**
 * Running text: Markdown nodes to the blocks and inlines of the collection. Code is refused; text directives that are
 * none of ours become text again.
 */
import { heard } from "../../words/heard.ts";
import type { MdxJsxFlowElement, MdxJsxTextElement } from "mdast-util-mdx";
import type { BlockContent, DefinitionContent, Nodes, PhrasingContent, RootContent, Table } from "mdast";
import type { TextDirective } from "mdast-util-directive";
import type { Alert, Block, Inline, Paragraph } from "../../schema/collection.ts";
import type { itemLinkAttributes } from "../../schema/files.ts";
import { labelOffset } from "../../read/attributes.ts";
import { compileComponent, refuseCode } from "./components.ts";
import { compileDirective, reportBrokenDirective } from "./directive.ts";
import { endOf, sourceOf, startOf, whereOfNode } from "../document.ts";
import type { Doc, Given } from "../document.ts";
import { resolveName } from "../names.ts";
import { isAllowedScheme, schemeOf } from "../../schema/links.ts";

type AnyNode = RootContent | BlockContent | DefinitionContent | PhrasingContent;

/** Blocks of running text. */
function compileBlocks(nodes: readonly Nodes[], doc: Doc): Block[] {
  return nodes.flatMap((node) => compileBlock(node as AnyNode, doc, true) ?? []);
}

/**
 * One block; nothing for what is no text, such as a definition, or for what was reported. `isWithin`: it stands in a
 * warning, a list or the like.
 */
export function compileBlock(node: AnyNode, doc: Doc, isWithin = false): Block | undefined {
  const where = whereOfNode(doc, node);
  switch (node.type) {
    case "paragraph":
      if (!isWithin) reportPlainWarning(node, doc);
      return compileParagraph(node, doc);
    case "heading":
      return { kind: "heading", depth: node.depth, children: compileInlines(node.children, doc), where };
    case "list":
      return {
        kind: "list",
        ordered: Boolean(node.ordered),
        items: node.children.map((item) => compileBlocks(item.children, doc)),
        where,
      };
    case "blockquote":
      return { kind: "quote", children: compileBlocks(node.children, doc), where };
    case "code":
      reportOpenCode(node, doc);
      return { kind: "code", text: node.value, where };
    case "table":
      return compileTable(node, doc);
    case "thematicBreak":
      return { kind: "rule", where };
    case "containerDirective":
    case "leafDirective": {
      const part = compileDirective(node, "block", doc);
      return part?.kind === "alert" ? part : undefined;
    }
    case "mdxJsxFlowElement":
      return compileComponent(node as unknown as MdxJsxFlowElement, doc);
    case "mdxFlowExpression":
    case "mdxjsEsm":
      refuseCode(node as unknown as Nodes, doc);
      return undefined;
    default:
      return undefined;
  }
}

/**
 * Reports code that is begun with a fence and not ended: all that follows is shown as code, steps too, down to the end
 * of the file or block (CommonMark 0.31.2, section 4.5).
 */
export function reportOpenCode(node: Nodes, doc: Doc): void {
  const written = sourceOf(doc, node),
    fence = /^(`{3,}|~{3,})/.exec(written)?.[1];
  if (fence === undefined) return;
  const last = /[\r\n][ \t>]*([`~]{3,})[ \t]*$/.exec(written)?.[1];
  if (last?.startsWith(fence)) return;
  const where = doc.source.words(startOf(node), startOf(node) + fence.length);
  doc.findings.error("text/syntax", where, {
    message: "The code that begins here is left open: what follows is shown as code, and no step of it is read",
    fix: "Add a line of the same signs where the code ends, or remove this line if none was meant",
  });
}

/**
 * A table, its head as the first row; every row has as many cells as the head. What stands in more cells would be shown
 * nowhere and is reported.
 */
function compileTable({ children: rows, ...node }: Table, doc: Doc): Block {
  const width = rows[0]?.children.length ?? 0;
  return {
    kind: "table",
    rows: rows.map(({ children: cells }) => {
      const extra = cells[width];
      if (extra)
        doc.findings.error("text/syntax", whereOfNode(doc, extra), {
          message: `This row has ${cells.length} cells, and the head of its table ${width}`,
          fix: "Write `\\|` for a bar within a cell, or give the head another cell",
        });
      return Array.from({ length: width }, (_, column) => compileInlines(cells[column]?.children ?? [], doc));
    }),
    where: whereOfNode(doc, { ...node, children: rows }),
  };
}

/** A warning, caution or note, as a block or a line. */
export function compileAlert({ node, where }: Given, doc: Doc): Alert {
  const children: Block[] =
    node.type === "containerDirective"
      ? compileBlocks(node.children, doc)
      : node.children.length > 0
        ? [
            {
              kind: "paragraph",
              children: compileInlines(node.children, doc),
              where: doc.source.where(labelOffset(node) ?? startOf(node)),
            },
          ]
        : [];
  if (children.length === 0)
    doc.findings.error("text/missing-field", where, {
      message: `The text of this \`${node.name}\` is missing`,
      fix: node.type === "leafDirective" ? `Write \`::${node.name}[…]\`` : "Write it between the two lines of colons",
    });
  return { kind: "alert", signal: node.name as Alert["signal"], children, where };
}

/** `WARNING: …` as a person types it, with what the format calls it: as plain text its author alone sees one. */
const NOTICES = { warning: "warning", danger: "warning", caution: "caution" } as const;

function reportPlainWarning(node: Extract<AnyNode, { type: "paragraph" }>, doc: Doc): void {
  const [, word] =
    /^[*_]{0,3}((?:warning|danger|caution)[*_]{0,3}\s*(?::|!|[-–—]\s))/i.exec(doc.source.text.slice(startOf(node))) ??
    [];
  if (word === undefined) return;
  const sort = NOTICES[/^[a-z]+/i.exec(word)![0].toLowerCase() as keyof typeof NOTICES],
    say = heard("slipFindings");
  doc.findings.error("text/syntax", whereOfNode(doc, node), {
    message: say.wordOnly({ word: word.replace(/[*_]/g, "").trim(), sort }),
    fix: say.writeNotice({ sort }),
  });
}

/** A paragraph, or what a paragraph turns out to be: a component, or nothing. */
function compileParagraph(node: Extract<AnyNode, { type: "paragraph" }>, doc: Doc): Paragraph | Block | undefined {
  const only = node.children.length === 1 ? (node.children[0] as Nodes) : undefined;
  if (only?.type === "mdxJsxTextElement") return compileComponent(only as unknown as MdxJsxTextElement, doc);
  const source = doc.source.text,
    start = startOf(node);
  if (source[start] === ":" && source[start + 1] === ":" && reportBrokenDirective(node, doc)) return undefined;
  return { kind: "paragraph", children: compileInlines(node.children, doc), where: whereOfNode(doc, node) };
}

/** Inlines of running text; neighbouring texts are joined. */
export function compileInlines(nodes: readonly Nodes[], doc: Doc): Inline[] {
  const inlines: Inline[] = [];
  for (const node of nodes) {
    const inline = compileInline(node, doc),
      last = inlines.at(-1);
    if (!inline) continue;
    if (inline.kind === "text" && last?.kind === "text")
      inlines[inlines.length - 1] = { ...last, text: last.text + inline.text };
    else inlines.push(inline);
  }
  return inlines;
}

function asText(doc: Doc, node: Nodes): Inline {
  return { kind: "text", text: sourceOf(doc, node), where: whereOfNode(doc, node) };
}

function compileInline(node: Nodes, doc: Doc): Inline | undefined {
  switch (node.type) {
    case "text":
      return { kind: "text", text: node.value, where: whereOfNode(doc, node) };
    case "emphasis":
    case "strong":
      return { kind: node.type, children: compileInlines(node.children, doc) };
    case "inlineCode":
      return { kind: "code", text: node.value };
    case "break":
      return { kind: "break" };
    case "link":
      return compileLink(node, node.url, node.children, doc);
    case "linkReference": {
      const definition = doc.definitions.get(node.identifier);
      return definition ? compileLink(node, definition.url, node.children, doc) : asText(doc, node);
    }
    case "image":
    case "imageReference":
      doc.findings.error("text/syntax", whereOfNode(doc, node), {
        message: "A picture can't stand in running text",
        fix: "Put the image into the folder photos and name it with `photo=` at the step",
      });
      return undefined;
    case "textDirective":
      return compileTextDirective(node, doc);
    case "mdxTextExpression":
    case "mdxJsxTextElement":
      refuseCode(node as unknown as Nodes, doc);
      return undefined;
    default:
      return asText(doc, node);
  }
}

function compileLink(node: Nodes, href: string, children: readonly Nodes[], doc: Doc): Inline {
  const inlines = compileInlines(children, doc);
  const scheme = schemeOf(href);
  if (scheme && !isAllowedScheme(scheme)) {
    doc.findings.error("text/not-data", whereOfNode(doc, node), {
      message: `A link with \`${scheme}:\` is not allowed`,
      fix: "Link to an address that begins `https://`",
    });
    return { kind: "emphasis", children: inlines };
  }
  if (!scheme && (/^[/\\]/.test(href) || href.split(/[/\\]/).includes(".."))) {
    doc.findings.error("text/bad-value", whereOfNode(doc, node), {
      message: `The link to \`${href}\` leads out of the collection`,
      fix: "Link with `:item[…]{id=…}` or `:place[…]{id=…}`, or to an address that begins `https://`",
    });
    return { kind: "emphasis", children: inlines };
  }
  return { kind: "link", href, children: inlines };
}

/** A directive in running text: an item or a place, or text after all. */
export function compileTextDirective(node: TextDirective, doc: Doc): Inline {
  // Without a label or attributes it is text: `10:30`, `3:1`.
  if (endOf(node) <= startOf(node) + 1 + node.name.length) return asText(doc, node);
  const part = compileDirective(node, "line", doc);
  return part?.kind === "item" || part?.kind === "place" || part?.kind === "emphasis" ? part : asText(doc, node);
}

/** The words that lead to an item's or a place's page; the words alone where it does not say which. */
export function compileLinkTo({ node, where, fields, at }: Given<typeof itemLinkAttributes>, doc: Doc): Inline {
  const children = compileInlines(node.children, doc);
  if (children.length === 0)
    doc.findings.error("text/missing-field", where, {
      message: `The text of \`:${node.name}\` is missing`,
      fix: `Write \`:${node.name}[text]{id=…}\``,
    });
  if (fields.id === undefined) return { kind: "emphasis", children };
  const [kind, known] =
    node.name === "item" ? (["item", doc.names.items] as const) : (["place", doc.names.places] as const);
  return { kind, id: resolveName(known, fields.id, at.id ?? where, doc.findings), children, where };
}

/** The letters of a node and what is in it. */
export function textOf(node: Nodes, doc: Doc): string {
  if (node.type === "textDirective" && node.children.length === 0) return sourceOf(doc, node);
  if ("value" in node && typeof node.value === "string") return node.value;
  return "children" in node ? (node.children as Nodes[]).map((child) => textOf(child, doc)).join("") : "";
}
