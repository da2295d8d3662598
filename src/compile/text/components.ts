/** Components that authors may place, with literal attributes; all other code in a procedure file is refused. */
import type { Nodes } from "mdast";
import type { MdxJsxFlowElement, MdxJsxTextElement } from "mdast-util-mdx";
import type { Block, Where } from "../../schema/collection.ts";
import { nearestName } from "../../read/nearest.ts";
import { endOf, sourceOf, startOf, whereOfNode } from "../document.ts";
import type { Doc } from "../document.ts";

type Attributes = Record<string, string | number | boolean>;

/** A component, if it is one of ours and its attributes are literal; otherwise what is wrong is reported. */
export function compileComponent(node: MdxJsxFlowElement | MdxJsxTextElement, doc: Doc): Block | undefined {
  const where = whereOfNode(doc, node as unknown as Nodes),
    name = node.name ?? "";
  if (!doc.components.has(name)) {
    refuseCode(node as unknown as Nodes, doc);
    return undefined;
  }
  const attributes: Attributes = Object.create(null),
    placed = new Map<string, { value: string | number | boolean; where: Where }>();
  const before = doc.findings.list.length;
  for (const attribute of node.attributes) {
    const at = doc.source.where(attribute.position?.start.offset ?? startOf(node as unknown as Nodes));
    const value = attribute.type === "mdxJsxAttribute" ? literalOf(attribute.value) : undefined;
    if (
      attribute.type !== "mdxJsxAttribute" ||
      value === undefined ||
      /^(?:on[A-Z_a-z]|style$|dangerously|set:|is:|client:|server:|define:|__proto__$|constructor$)/.test(
        attribute.name,
      )
    )
      doc.findings.error("text/not-data", at, {
        message: "Code is not allowed in an attribute of a component",
        fix: 'Write a plain value: `name="text"`, `name={3}`, `name={true}`',
      });
    else if (typeof value === "string" && /^[\s\u0000-\u0020]*(?:javascript|data|vbscript):/i.test(value))
      doc.findings.error("text/not-data", at, {
        message: "Code is not allowed in an address",
        fix: "Write an address that begins `https://`",
      });
    else if (Object.hasOwn(attributes, attribute.name))
      doc.findings.error("text/syntax", at, {
        message: `\`${attribute.name}\` is given twice`,
        fix: "Keep one of the two",
      });
    else {
      attributes[attribute.name] = value;
      placed.set(attribute.name, { value, where: at });
    }
  }
  if (node.children.length > 0)
    doc.findings.error("text/syntax", where, {
      message: `Nothing can stand inside \`<${name}>\``,
      fix: `Write \`<${name} … />\``,
    });
  if (!doc.reader.quiet && doc.findings.list.length === before)
    doc.placed.push({ name, platform: doc.platform, attributes: placed, where });
  return { kind: "component", name, attributes, where };
}

/** The value of an attribute if it is written out; `undefined` if code works it out. */
export function literalOf(
  value: MdxJsxFlowElement["attributes"][number]["value"],
): string | number | boolean | undefined {
  if (value === null || value === undefined) return true;
  if (typeof value === "string") return value;
  const text = typeof value === "object" ? value.value.trim() : "";
  if (/^-?\d{1,12}(?:\.\d{1,12})?$/.test(text)) return Number(text);
  if (text === "true" || text === "false") return text === "true";
  const quoted = /^(?:"([^"\\]*)"|'([^'\\]*)')$/.exec(text);
  return quoted ? (quoted[1] ?? quoted[2]) : undefined;
}

/** Reports code in a procedure file: an expression, an import or export, raw HTML or an unknown component. */
export function refuseCode(node: Nodes, doc: Doc): void {
  const where = whereOfNode(doc, node),
    written = sourceOf(doc, node)
      .split(/[\r\n]/)[0]!
      .slice(0, 60);
  if (node.type === "mdxFlowExpression" || node.type === "mdxTextExpression") {
    const before = doc.source.text.slice(Math.max(0, startOf(node) - 60), startOf(node));
    const directive = /(:{2,}[A-Za-z][\w-]*)(?:\[[^\]\r\n]*\])?[ \t]*$/.exec(before);
    if (directive)
      doc.findings.error("text/syntax", where, {
        message: `The braces after \`${directive[1]}\` can't be read as attributes`,
        fix: "Let the directive stand alone in its line, without a space before the brace",
      });
    else
      doc.findings.error("text/not-data", where, {
        message: `Code such as \`${written}\` is not allowed here`,
        fix: "Remove it, or write `\\{` if a brace is meant",
      });
    return;
  }
  if (node.type === "mdxjsEsm") {
    doc.findings.error("text/not-data", where, {
      message: `\`${written}\` is code, which is not allowed here`,
      fix: "Remove the line",
    });
    return;
  }
  const name = "name" in node && typeof node.name === "string" ? node.name : "";
  if (/^[A-Z]/.test(name)) {
    if (doc.components.has(name)) {
      doc.findings.error("text/syntax", where, {
        message: `\`<${name}>\` can't stand within a line of text`,
        fix: "Give it a line of its own, with a blank line before and after",
      });
      return;
    }
    const near = nearestName(name, doc.components);
    doc.findings.error("text/not-data", where, {
      message: `There is no component \`<${name}>\`${near ? `, expected \`<${near} />\`` : ""}`,
      fix: near ? `Write \`<${near} … />\`` : "Remove it, or use one of the components that the tool has for authors",
    });
    return;
  }
  doc.findings.error("text/not-data", where, {
    message:
      "Raw HTML such as " +
      `\`${written.slice(0, Math.max(1, Math.min(written.length, endOf(node) - startOf(node), 40)))}\` is not ` +
      "allowed here",
    fix: "Write it in Markdown, or remove it",
  });
}
