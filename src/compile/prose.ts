/**
 * Running text: Markdown nodes to the blocks and inlines of the collection. Code is refused; text directives that are
 * none of ours become text again.
 */
import type { MdxJsxFlowElement, MdxJsxTextElement } from "mdast-util-mdx";
import type { BlockContent, DefinitionContent, Nodes, PhrasingContent, RootContent } from "mdast";
import type { ContainerDirective, LeafDirective, TextDirective } from "mdast-util-directive";
import type { Alert, Block, Inline, Paragraph } from "../schema/collection.ts";
import { linkAttributes, noAttributes } from "../schema/files.ts";
import { scanOpening } from "../read/attributes.ts";
import { listNames, nearestName } from "../read/nearest.ts";
import { readFields } from "../read/read-fields.ts";
import { compileComponent, refuseCode } from "./components.ts";
import { endOf, sourceOf, startOf, whereOfNode } from "./document.ts";
import type { Doc } from "./document.ts";
import { resolveName } from "./names.ts";
import { readTable } from "./table.ts";

type AnyNode = RootContent | BlockContent | DefinitionContent | PhrasingContent;

/** Directives by their number of colons. */
export const DIRECTIVES: Readonly<Record<string, "container" | "leaf" | "text" | "alert">> = {
  step: "container",
  warning: "alert",
  caution: "alert",
  note: "alert",
  move: "leaf",
  turn: "leaf",
  check: "leaf",
  include: "leaf",
  item: "text",
  place: "text",
};
const FORMS = {
  container: "a block `:::NAME … :::`",
  alert: "a block `:::NAME … :::` or a line `::NAME[…]`",
  leaf: "a line of its own that begins `::NAME`",
  text: "`:NAME[text]{id=…}` in running text",
} as const;

/** Blocks of running text. */
export function compileBlocks(nodes: readonly Nodes[], doc: Doc): Block[] {
  return nodes.flatMap((node) => compileBlock(node as AnyNode, doc) ?? []);
}

/** One block; nothing for what is no text, such as a definition, or for what was reported. */
export function compileBlock(node: AnyNode, doc: Doc): Block | undefined {
  const where = whereOfNode(doc, node);
  switch (node.type) {
    case "paragraph":
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
      return { kind: "code", text: node.value, where };
    case "thematicBreak":
      return { kind: "rule", where };
    case "containerDirective":
    case "leafDirective":
      if (isAlert(node)) return compileAlert(node, doc);
      reportDirective(node, doc);
      return undefined;
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

/** Whether a directive is a warning, caution or note in a form that may hold one. */
export function isAlert(
  node: AnyNode,
): node is (ContainerDirective | LeafDirective) & { name: "warning" | "caution" | "note" } {
  return (
    (node.type === "containerDirective" || node.type === "leafDirective") &&
    Object.hasOwn(DIRECTIVES, node.name) &&
    DIRECTIVES[node.name] === "alert"
  );
}

/** A warning, caution or note, as a block or a line. */
export function compileAlert(node: ContainerDirective | LeafDirective, doc: Doc): Alert {
  const where = whereOfNode(doc, node),
    opening = scanOpening(doc.source, startOf(node), doc.findings);
  readFields(noAttributes, opening.attributes, doc.reader, { what: `\`${node.name}\``, where });
  const children: Block[] =
    node.type === "leafDirective"
      ? node.children.length > 0
        ? [
            {
              kind: "paragraph",
              children: compileInlines(node.children, doc),
              where: doc.source.where(opening.label?.offset ?? startOf(node)),
            },
          ]
        : []
      : compileBlocks(node.children, doc);
  if (children.length === 0)
    doc.findings.error("text/missing-field", where, {
      message: `The text of this \`${node.name}\` is missing`,
      fix: node.type === "leafDirective" ? `Write \`::${node.name}[…]\`` : "Write it between the two lines of colons",
    });
  return { kind: "alert", signal: node.name as Alert["signal"], children, where };
}

/** A paragraph, or what a paragraph turns out to be: a component, a table, or nothing. */
export function compileParagraph(
  node: Extract<AnyNode, { type: "paragraph" }>,
  doc: Doc,
): Paragraph | Block | undefined {
  const only = node.children.length === 1 ? (node.children[0] as Nodes) : undefined;
  if (only?.type === "mdxJsxTextElement") return compileComponent(only as unknown as MdxJsxTextElement, doc);
  const source = doc.source.text,
    start = startOf(node);
  if (source[start] === ":" && source[start + 1] === ":" && reportBrokenDirective(node, doc)) return undefined;
  const paragraph: Paragraph = {
    kind: "paragraph",
    children: compileInlines(node.children, doc),
    where: whereOfNode(doc, node),
  };
  return node.children.some((child) => child.type === "text" && child.value.includes("|"))
    ? (readTable(paragraph, sourceOf(doc, node)) ?? paragraph)
    : paragraph;
}

/**
 * A paragraph that begins with colons was meant as a directive; reports why it is none. False if it is text after all.
 */
export function reportBrokenDirective(node: Extract<AnyNode, { type: "paragraph" }>, doc: Doc): boolean {
  const written = sourceOf(doc, node),
    where = whereOfNode(doc, node);
  const found = /^(:{2,})([A-Za-z][\w-]*)?/.exec(written);
  if (!found) return false;
  const [, colons = "", name] = found;
  if (name === undefined) {
    if (!/^:{3,}[ \t]*(?=[\r\n]|$)/.test(written)) return false;
    doc.findings.error("text/syntax", where, {
      message: `\`${colons}\` closes nothing`,
      fix: "Remove it, or check that the block it should close was not closed before",
    });
    return true;
  }
  if (Object.hasOwn(DIRECTIVES, name))
    doc.findings.error("text/syntax", where, {
      message: `\`${colons}${name}\` can't be read as a directive`,
      fix:
        "Let it stand alone in its line: the name, then `[…]` if it takes a label, then `{name=value …}`, " +
        "without spaces between, values with spaces in double quotes",
    });
  else reportUnknown(name, colons, doc, where);
  return true;
}

/** Reports a directive that does not exist; gives the nearest one that does. */
export function reportUnknown(
  name: string,
  colons: string,
  doc: Doc,
  where: ReturnType<typeof whereOfNode>,
): string | undefined {
  const fitting = Object.keys(DIRECTIVES),
    near = nearestName(name, fitting);
  doc.findings.error("text/unknown-directive", where, {
    message: `Unexpected directive \`${colons}${name}\`, expected ${near ? `\`${near}\`` : listNames(fitting)}`,
    fix: near ? `Write ${FORMS[DIRECTIVES[near]!].replaceAll("NAME", near)}` : "Remove the colons, or use one of these",
  });
  return near;
}

/** Says what is wrong with a directive that can't stand where it stands; `instead`: what to do if its form is right. */
export function reportDirective(
  node: ContainerDirective | LeafDirective | TextDirective,
  doc: Doc,
  at = "",
  instead?: string,
): void {
  const where = whereOfNode(doc, node),
    written = /^:+/.exec(doc.source.text.slice(startOf(node), startOf(node) + 20))?.[0] ?? "";
  const form = Object.hasOwn(DIRECTIVES, node.name) ? DIRECTIVES[node.name]! : undefined;
  if (form === undefined) {
    reportUnknown(node.name, written, doc, where);
    return;
  }
  const isRightForm = node.type === `${form}Directive`;
  const wrong = isRightForm
    ? `\`${written}${node.name}\` can't stand ${at || "here"}`
    : `\`${node.name}\` is not written ` +
      `with ${written.length === 1 ? "one colon" : written.length === 2 ? "two colons" : "three colons"}`;
  const fix = !isRightForm
    ? `Write it as ${FORMS[form].replaceAll("NAME", node.name)}`
    : instead !== undefined
      ? instead
      : node.name === "step"
        ? "Let it stand between the other steps, not inside something"
        : node.name === "include"
          ? "Let it stand between two steps of a procedure"
          : node.name === "check"
            ? "Put it inside a step, or in the body of a configuration or option"
            : "Put it inside a step";
  doc.findings.error("text/syntax", where, { message: wrong, fix });
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
  const scheme = /^[\s\u0000-\u0020]*([a-z][a-z0-9+.-]*):/i
    .exec(href.replace(/[\u0000-\u0020]/g, ""))?.[1]
    ?.toLowerCase();
  if (scheme && !["http", "https", "mailto", "tel"].includes(scheme)) {
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
  const start = startOf(node),
    after = doc.source.text[start + 1 + node.name.length];
  const isBare = endOf(node) <= start + 1 + node.name.length || (after !== "[" && after !== "{");
  if (isBare) return asText(doc, node);
  if (node.name !== "item" && node.name !== "place") {
    reportDirective(node, doc);
    return asText(doc, node);
  }
  const where = whereOfNode(doc, node),
    opening = scanOpening(doc.source, start, doc.findings);
  const { fields, at } = readFields(linkAttributes, opening.attributes, doc.reader, {
    what: `\`:${node.name}\``,
    where,
  });
  const children = compileInlines(node.children, doc);
  if (children.length === 0)
    doc.findings.error("text/missing-field", where, {
      message: `The text of \`:${node.name}\` is missing`,
      fix: `Write \`:${node.name}[text]{id=…}\``,
    });
  if (fields.id === undefined) return { kind: "emphasis", children };
  const known = node.name === "item" ? doc.names.items : doc.names.places;
  return { kind: node.name, id: resolveName(known, fields.id, at.id ?? where, doc.findings), children, where };
}

/** The letters of a node and what is in it. */
export function textOf(node: Nodes, doc: Doc): string {
  if (node.type === "textDirective" && node.children.length === 0) return sourceOf(doc, node);
  if ("value" in node && typeof node.value === "string") return node.value;
  return "children" in node ? (node.children as Nodes[]).map((child) => textOf(child, doc)).join("") : "";
}
