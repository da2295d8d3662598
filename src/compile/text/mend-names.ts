/** Directives with a misspelt name or the wrong number of colons: reported, and read as what was probably meant. */
import type { Nodes, RootContent } from "mdast";
import type { ContainerDirective, LeafDirective } from "mdast-util-directive";
import { formOf, reportDirective, reportUnknown } from "./directive.ts";
import { startOf, whereOfNode } from "../document.ts";
import type { Doc } from "../document.ts";

/**
 * The node as it was meant, and after it what it held without meaning to. A container that is made a line is `settled`.
 */
export function mendName(node: RootContent, doc: Doc, settled: Set<Nodes>): RootContent[] {
  if (node.type === "containerDirective") return mendContainer(node, doc, settled);
  if (node.type === "leafDirective" && formOf(node.name, doc) === undefined) {
    const near = reportUnknown(node.name, "::", doc, whereOfNode(doc, node));
    if (near === undefined) return [];
    if (formOf(near, doc) !== "leaf" && formOf(near, doc) !== "alert") return [];
    node.name = near;
    return [node];
  }
  const only = node.type === "paragraph" && node.children.length === 1 ? node.children[0] : undefined;
  if (
    only?.type === "textDirective" &&
    formOf(only.name, doc) === "leaf" &&
    /[[{]/.test(doc.source.text[startOf(only) + 1 + only.name.length] ?? "")
  ) {
    reportDirective(only, doc, "line");
    return [{ ...only, type: "leafDirective" } as LeafDirective];
  }
  return [node];
}

function mendContainer(node: ContainerDirective, doc: Doc, settled: Set<Nodes>): RootContent[] {
  if (formOf(node.name, doc) === undefined) {
    const colons = /^:*/.exec(doc.source.text.slice(startOf(node), startOf(node) + 40))![0];
    const near = reportUnknown(node.name, colons, doc, whereOfNode(doc, node));
    const acts = node.children.some((child) => child.type === "leafDirective" && formOf(child.name, doc) === "leaf");
    node.name =
      near !== undefined && formOf(near, doc) !== "leaf" && formOf(near, doc) !== "text"
        ? near
        : acts
          ? "step"
          : "note";
  }
  if (formOf(node.name, doc) !== "leaf") return [node];
  reportDirective(node, doc, "block");
  settled.add(node);
  const label =
    node.children[0]?.type === "paragraph" &&
    (node.children[0].data as { directiveLabel?: boolean } | undefined)?.directiveLabel
      ? node.children.shift()
      : undefined;
  const leaf = {
    type: "leafDirective",
    name: node.name,
    attributes: node.attributes,
    data: node.data,
    children: label?.type === "paragraph" ? label.children : [],
    position: node.position,
  } as LeafDirective;
  return [leaf, ...(node.children as RootContent[])];
}
