/** Any directive: whether it may stand where it stands, its attributes, and what is said of one that can't be. */
import type { Nodes, RootContent } from "mdast";
import type { z } from "zod";
import { attributesOf, labelOffset } from "../../read/attributes.ts";
import { listNames, nearestName } from "../../read/nearest.ts";
import { readFields } from "../../read/read-fields.ts";
import type { Where } from "../../schema/collection.ts";
import { sourceOf, startOf, whereOfNode } from "../document.ts";
import type { Directive, DirectiveNode, Doc, Form, Given, Part, Spot } from "../document.ts";

const FORMS: Readonly<Record<Form, string>> = {
  container: "a block `:::NAME … :::`",
  alert: "a block `:::NAME … :::` or a line `::NAME[…]`",
  leaf: "a line of its own that begins `::NAME`",
  text: "`:NAME[text]{id=…}` in running text",
};

const SPOTS: Readonly<Record<Spot, string>> = {
  procedure: "outside a step",
  step: "inside a step",
  card: "in a configuration or option",
  page: "in a background page",
  block: "here",
  line: "here",
};

/** A directive's record; its `compile` gets the attributes as their shape says. */
export function directive<S extends z.ZodObject>(
  it: Omit<Directive, "attributes" | "compile"> & {
    readonly attributes: S;
    readonly compile: (given: Given<S>, doc: Doc) => Part | undefined;
  },
): Directive {
  return it as unknown as Directive;
}

/** Whether a node is a directive in any form. */
export function isDirective(node: Nodes): node is DirectiveNode {
  return node.type === "containerDirective" || node.type === "leafDirective" || node.type === "textDirective";
}

/** How a directive of this name is written; nothing if there is none. */
export function formOf(name: string, { directives }: Doc): Form | undefined {
  return directives.get(name)?.form;
}

/** Whether a node is a directive that may stand at a spot, in a form that it may have. */
export function canStand(node: Nodes, spot: Spot, doc: Doc): node is DirectiveNode {
  const known = isDirective(node) ? doc.directives.get(node.name) : undefined;
  return known !== undefined && hasForm(node, known.form) && known.stands.includes(spot);
}

function hasForm({ type }: Nodes, form: Form): boolean {
  return form === "alert" ? type === "containerDirective" || type === "leafDirective" : type === `${form}Directive`;
}

/** A directive with its attributes; nothing if it can't stand at this spot, which is reported. */
export function openDirective(node: DirectiveNode, spot: Spot, doc: Doc): Given | undefined {
  const known = doc.directives.get(node.name);
  if (!known || !canStand(node, spot, doc)) {
    reportDirective(node, doc, spot);
    return undefined;
  }
  const label = labelOffset(node);
  if (label !== undefined && !known.label && node.type === "leafDirective")
    doc.findings.error("text/syntax", doc.source.where(label - 1), {
      message: `\`::${node.name}\` takes no label in brackets`,
      fix: "Remove the brackets and what is in them",
    });
  const found = readFields(known.attributes, attributesOf(node), doc.reader, {
    what: node.name === "step" ? "the step" : `\`${known.form === "alert" ? "" : colonsOf(node, doc)}${node.name}\``,
    where: whereOfNode(doc, node),
  });
  return { ...found, node };
}

/** What a directive compiles to at this spot; nothing if it can't be, which is reported. */
export function compileDirective(node: DirectiveNode, spot: Spot, doc: Doc): Part | undefined {
  const given = openDirective(node, spot, doc);
  return given && doc.directives.get(node.name)!.compile(given, doc);
}

function colonsOf(node: Nodes, doc: Doc): string {
  return /^:*/.exec(doc.source.text.slice(startOf(node), startOf(node) + 20))![0];
}

/**
 * A paragraph that begins with colons was meant as a directive; reports why it is none. False if it is text after all.
 */
export function reportBrokenDirective(node: Extract<RootContent, { type: "paragraph" }>, doc: Doc): boolean {
  const written = sourceOf(doc, node),
    where = whereOfNode(doc, node);
  const found = /^(:{2,})([A-Za-z][\w-]*)?/.exec(written);
  if (!found) return false;
  const [, colons = "", name] = found;
  if (name === undefined) {
    if (!/^:{3,}[ \t]*(?=[\r\n]|$)/.test(written)) return false;
    doc.findings.error("text/syntax", where, {
      message: `\`${colons}\` closes nothing`,
      fix:
        "Look above it first: its block was closed before, or was opened with fewer than three colons. Remove it " +
        "only if no block is meant to end here",
    });
    return true;
  }
  if (doc.directives.has(name))
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
export function reportUnknown(name: string, colons: string, doc: Doc, where: Where): string | undefined {
  const fitting = [...doc.directives.keys()],
    near = nearestName(name, fitting);
  doc.findings.error("text/unknown-directive", where, {
    message: `Unexpected directive \`${colons}${name}\`, expected ${near ? `\`${near}\`` : listNames(fitting)}`,
    fix: near
      ? `Write ${FORMS[doc.directives.get(near)!.form].replaceAll("NAME", near)}`
      : "Remove the colons, or use one of these",
  });
  return near;
}

/** Says what is wrong with a directive that can't stand where it stands. */
export function reportDirective(node: DirectiveNode, doc: Doc, spot: Spot): void {
  const where = whereOfNode(doc, node),
    colons = colonsOf(node, doc),
    known = doc.directives.get(node.name);
  if (!known) {
    reportUnknown(node.name, colons, doc, where);
    return;
  }
  const isRightForm = hasForm(node, known.form);
  const wrong = isRightForm
    ? `\`${colons}${node.name}\` can't stand ${SPOTS[spot]}`
    : `\`${node.name}\` is not written ` +
      `with ${colons.length === 1 ? "one colon" : colons.length === 2 ? "two colons" : "three colons"}`;
  const fix = !isRightForm
    ? `Write it as ${FORMS[known.form].replaceAll("NAME", node.name)}`
    : spot === "page"
      ? "Show it in a procedure; a background page may hold warnings, cautions, notes, `:item[…]{id=…}` and " +
        "`:place[…]{id=…}`"
      : known.instead;
  doc.findings.error("text/syntax", where, { message: wrong, fix });
}
