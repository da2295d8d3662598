/**
 * Directives of background pages as what MDX renders: signal boxes, links to items and places; what is none of ours
 * becomes text again.
 */
import type { Nodes, Parent, Root, Text } from "mdast";
import type { ContainerDirective, LeafDirective, TextDirective } from "mdast-util-directive";
import type { MdxJsxFlowElement } from "mdast-util-mdx";
import { SKIP, visit } from "unist-util-visit";
import type { VFile } from "vfile";

/** Name under which a background page is given the component of a signal box. */
export const SIGNAL_BOX = "SignalBox";

/**
 * The remark plugin, to run after remark-directive. Reading has reported what can't be here (`compile/reading.ts`), and
 * then there is no build.
 * Pages are at `<platform>/reading/<id>/`, so that a link to an item goes two folders up.
 */
export function readingDirectives() {
  return (tree: Root, file: VFile): void => {
    visit(tree, (node, index, parent) => {
      if (!isDirective(node) || index === undefined || !parent) return undefined;
      (parent as Parent).children[index] = (
        node.type === "textDirective" ? inText(node, String(file)) : signalBox(node)
      ) as Parent["children"][number];
      return node.type === "textDirective" ? [SKIP, index + 1] : index;
    });
  };
}

function isDirective(node: Nodes): node is ContainerDirective | LeafDirective | TextDirective {
  return node.type === "containerDirective" || node.type === "leafDirective" || node.type === "textDirective";
}

function signalBox({ type, name, children }: ContainerDirective | LeafDirective): MdxJsxFlowElement {
  const blocks = type === "leafDirective" ? [{ type: "paragraph" as const, children }] : children;
  return {
    type: "mdxJsxFlowElement",
    name: SIGNAL_BOX,
    attributes: [{ type: "mdxJsxAttribute", name: "signal", value: name }],
    children: blocks as MdxJsxFlowElement["children"],
  };
}

/** A link to the page of an item or place, or the words as they were written: `10:30` is text. */
function inText(node: TextDirective, source: string): Nodes {
  const id = node.attributes?.["id"];
  if ((node.name === "item" || node.name === "place") && id)
    return { type: "link", url: `../../${node.name}s/${id}/`, children: node.children as [] };
  return { type: "text", value: source.slice(node.position!.start.offset, node.position!.end.offset) } satisfies Text;
}
