/** Fences left open or closed too early: reported, and the steps sorted out as the author meant them, so that the rest of the file is judged fairly. */
import type { Nodes, RootContent } from "mdast";
import type { ContainerDirective } from "mdast-util-directive";
import { startOf, whereOfNode } from "./document.ts";
import type { Doc } from "./document.ts";

/** Nodes of a body in which every container ends where it was meant to. */
export function mendFences(nodes: readonly RootContent[], doc: Doc): RootContent[] {
  const mended: RootContent[] = [], queue = [...nodes];
  for (let at = 0; at < queue.length; at += 1) {
    const node = queue[at]!;
    mended.push(node);
    if (node.type !== "containerDirective") continue;
    const cut = node.children.findIndex((child) => isOutsider(child, node));
    const last = node.children.at(-1);
    if (cut >= 0) {
      const outsiders = node.children.splice(cut) as RootContent[], first = outsiders[0]!;
      if (isClosed(node, doc) && outsiders.every((child) => child.type !== "containerDirective" || isClosed(child, doc)))
        report(doc, first, `\`${openingOf(first, doc)}\` can't stand inside \`${openingOf(node, doc)}\``, `Close \`${openingOf(node, doc)}\` with a line of colons before it`);
      else reportOpen(node, doc, first);
      queue.splice(at + 1, 0, ...outsiders);
    } else if (last?.type === "containerDirective" && !isClosed(last, doc) && isClosed(node, doc)) {
      if (colonsOf(last, doc) < colonsOf(node, doc)) reportOpen(last, doc);
      else {
        const own = ":".repeat(colonsOf(last, doc) + 1);
        report(doc, node, `\`${openingOf(node, doc)}\` is closed too early: \`${openingOf(last, doc)}\` inside it has a fence as long as its own, so its end ends both`,
          `Write the outer fence longer: \`${own}${node.name}\` … \`${own}\``, last);
        at += absorb(node, queue, at + 1, doc);
      }
    } else if (!isClosed(node, doc)) {
      if (last?.type === "containerDirective" && !isClosed(last, doc)) reportOpen(last, doc);
      else reportOpen(node, doc);
    }
    node.children = mendFences(node.children as RootContent[], doc) as typeof node.children;
  }
  return mended;
}

/** Moves what follows a block that ended too early into it, up to the line of colons that was meant to end it. Gives how many nodes it used up. */
function absorb(node: ContainerDirective, queue: readonly RootContent[], from: number, doc: Doc): number {
  let at = from;
  for (; at < queue.length; at += 1) {
    const next = queue[at]!;
    if (isOutsider(next, node)) return 0;
    if (next.type === "paragraph" && /(?:^|[\r\n])[ \t]*:{3,}[ \t]*$/.test(doc.source.text.slice(startOf(next), next.position?.end.offset))) break;
    if (next.type === "containerDirective" && !isClosed(next, doc)) return 0;
  }
  if (at >= queue.length) return 0;
  const taken = queue.slice(from, at) as ContainerDirective["children"];
  node.children.push(...taken);
  const closing = queue[at]!;
  if (closing.type === "paragraph") {
    const lastText = closing.children.at(-1);
    if (lastText?.type === "text") lastText.value = lastText.value.replace(/\s*:{3,}[ \t]*$/, "");
    if (closing.children.length > 1 || (lastText?.type === "text" && lastText.value !== "")) node.children.push(closing);
  }
  return at - from + 1;
}

/** What never stands inside another block: a step, an include, a heading that begins a section. */
function isOutsider(child: Nodes, parent: Nodes): boolean {
  if (child.type === "heading") return child.depth <= 2;
  if (child.type === "containerDirective") return child.name === "step" || (parent.type === "containerDirective" && parent.name !== "step");
  return child.type === "leafDirective" && child.name === "include";
}

function colonsOf(node: Nodes, doc: Doc): number {
  return /^:*/.exec(doc.source.text.slice(startOf(node), startOf(node) + 40))![0].length;
}

/** Whether a container ends with its own line of colons. */
export function isClosed(node: ContainerDirective, doc: Doc): boolean {
  const { position } = node, end = position?.end;
  if (!position || !end || end.line === position.start.line || end.offset === undefined) return false;
  const last = node.children.at(-1)?.position?.end;
  if (last && last.line >= end.line && last.column > 1) return false;
  const closing = /(?:^|[\s>])(:{3,})[ \t]*$/.exec(doc.source.text.slice(doc.source.starts[end.line - 1] ?? 0, end.offset));
  return closing !== null && closing[1]!.length >= colonsOf(node, doc);
}

function openingOf(node: Nodes, doc: Doc): string {
  return /^:*[\w-]*|^#+/.exec(doc.source.text.slice(startOf(node), startOf(node) + 60))![0] || "#";
}

function report(doc: Doc, node: Nodes, message: string, fix: string, cause?: Nodes): void {
  doc.findings.error("text/syntax", whereOfNode(doc, node), { message, fix, ...(cause ? { cause: whereOfNode(doc, cause) } : {}) });
}

function reportOpen(node: ContainerDirective, doc: Doc, before?: Nodes): void {
  const colons = ":".repeat(colonsOf(node, doc));
  const line = before ? whereOfNode(doc, before).line : undefined;
  report(doc, node, `\`${openingOf(node, doc)}\` is left open`, `Add a line \`${colons}\` after its last line${line ? `, before line ${line}` : ""}`, before);
}
