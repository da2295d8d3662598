/**
 * Fences left open or closed too early: reported, and the steps sorted out as the author meant them, so that the rest
 * of the file is judged fairly.
 */
import type { Nodes, RootContent } from "mdast";
import type { ContainerDirective } from "mdast-util-directive";
import { formOf } from "./directive.ts";
import { endOf, startOf, whereOfNode } from "../document.ts";
import type { Doc } from "../document.ts";
import { mendName } from "./mend-names.ts";
import { heard } from "../../words/heard.ts";

/**
 * Nodes of a body in which every container ends where it was meant to, and every misspelt directive has the name that
 * was meant.
 */
export function mendFences(nodes: readonly RootContent[], doc: Doc): RootContent[] {
  return mendLevel(nodes, doc, new Set());
}

/** `settled` are containers whose end has been spoken about. */
function mendLevel(nodes: readonly RootContent[], doc: Doc, settled: Set<Nodes>): RootContent[] {
  const mended: RootContent[] = [],
    queue = [...nodes];
  for (let at = 0; at < queue.length; at += 1) {
    widenStep(queue, at, doc, settled);
    const [node, ...freed] = mendName(queue[at]!, doc, settled);
    if (!node) continue;
    queue.splice(at, 1, node, ...freed);
    mended.push(node);
    if (node.type !== "containerDirective") continue;
    const isFresh = !settled.has(node) && isClosed(node, doc),
      before = doc.findings.list.length;
    mendContainer(node, queue, at, doc, settled);
    if (isFresh && doc.findings.list.length === before) reopen(node, queue, at + 1, doc);
    node.children = mendLevel(node.children as RootContent[], doc, settled) as typeof node.children;
    const leaf = node.children.findIndex((child) => child.type === "leafDirective" && isOutsider(child, node));
    if (leaf >= 0 && node.name === "step") queue.splice(at + 1, 0, ...(node.children.splice(leaf, 1) as RootContent[]));
  }
  return mended;
}

function mendContainer(
  node: ContainerDirective,
  queue: RootContent[],
  at: number,
  doc: Doc,
  settled: Set<Nodes>,
): void {
  const isShut = settled.has(node) || isClosed(node, doc),
    cut = node.children.findIndex((child) => isOutsider(child, node)),
    last = node.children.at(-1);
  const short = isShut ? -1 : node.children.findIndex((child) => endsInColons(child, doc));
  if (short >= 0 && (cut < 0 || short < cut)) {
    const closing = node.children[short]!,
      line = doc.source.where(endOf(closing)).line;
    report(
      doc,
      node,
      `\`${openingOf(node, doc)}\` is left open: the colons in line ${line} are fewer than its own`,
      `Write as many colons in line ${line} as in line ${whereOfNode(doc, node).line}`,
      closing,
    );
    settled.add(node);
    const freed = node.children.splice(short + 1) as RootContent[];
    if (!dropColons(closing)) node.children.pop();
    const end = freed.at(-1);
    if (end?.type === "containerDirective" && !isClosed(end, doc)) settled.add(end);
    queue.splice(at + 1, 0, ...freed);
    return;
  }
  if (cut >= 0) {
    const outsiders = node.children.splice(cut) as RootContent[],
      first = outsiders[0]!,
      end = outsiders.at(-1)!;
    const isEndOpen = end.type === "containerDirective" && !isClosed(end, doc);
    if (settled.has(node)) {
      /* What follows a block that has been spoken about is only put in its place. */
    } else if (isShut && !isEndOpen)
      report(
        doc,
        first,
        `\`${openingOf(first, doc)}\` can't stand inside \`${openingOf(node, doc)}\``,
        `Close \`${openingOf(node, doc)}\` with a line of colons before it`,
      );
    else reportOpen(node, doc, first);
    if (isEndOpen) settled.add(end);
    queue.splice(at + 1, 0, ...outsiders);
  } else if (
    last?.type === "containerDirective" &&
    !isClosed(last, doc) &&
    !settled.has(last) &&
    formOf(last.name, doc) === "leaf"
  ) {
    settled.add(last);
    absorb(node, queue, at + 1, doc);
  } else if (last?.type === "containerDirective" && !isClosed(last, doc) && !settled.has(last)) {
    settled.add(last);
    const end = last.children.findIndex((child) => endsInColons(child, doc));
    if (isShut && end >= 0) {
      reportLong(last, last.children[end]!, doc);
      node.children.push(...(last.children.splice(end + 1) as typeof node.children));
      if (!dropColons(last.children[end]!)) last.children.pop();
    } else if (isShut && colonsOf(last, doc) >= colonsOf(node, doc)) {
      const longer = ":".repeat(colonsOf(last, doc) + 1);
      report(
        doc,
        node,
        `\`${openingOf(node, doc)}\` is closed too early: \`${openingOf(last, doc)}\` inside it has a fence ` +
          "as long as its own, so its end ends both",
        `Write the outer fence longer: \`${longer}${node.name}\` … \`${longer}\``,
        last,
      );
      absorb(node, queue, at + 1, doc);
    } else {
      reportOpen(last, doc);
      node.children.push(...(last.children.splice(1) as typeof node.children));
    }
  } else if (!isShut) {
    reportOpen(node, doc);
    if (node.name !== "step") queue.splice(at + 1, 0, ...(node.children.splice(1) as RootContent[]));
  }
  settled.add(node);
}

/**
 * A step that is written with a colon too few is a line, and what it should hold stands after it, up to a line of
 * colons that closes nothing: it is reported once and made a step of all that. Without such a line it is left as it is.
 */
function widenStep(queue: RootContent[], at: number, doc: Doc, settled: Set<Nodes>): void {
  const node = queue[at]!;
  if (node.type !== "leafDirective" || node.name !== "step") return;
  const step = { ...node, type: "containerDirective", children: [] } as ContainerDirective;
  let end = at + 1;
  while (end < queue.length && !isOutsider(queue[end]!, step) && !endsInColons(queue[end]!, doc)) end += 1;
  if (end >= queue.length || !endsInColons(queue[end]!, doc)) return;
  doc.findings.error("text/syntax", whereOfNode(doc, node), {
    message: "`::step` has one colon too few: what follows stands in no step",
    fix: "Write `:::step` in its place, with three colons; the line of colons after it is right",
    actual: "::step",
    expected: [":::step"],
  });
  settled.add(step);
  queue[at] = step;
  absorb(step, queue, at + 1, doc);
}

/**
 * A step that a stray line of colons ends before its moves, turns or checks: they are put back into it, up to the line
 * that was meant to end it.
 */
function reopen(node: ContainerDirective, queue: RootContent[], from: number, doc: Doc): void {
  if (node.name !== "step") return;
  let at = from,
    acts = 0;
  for (
    ;
    at < queue.length &&
    !isOutsider(queue[at]!, node) &&
    queue[at]!.type !== "containerDirective" &&
    !endsInColons(queue[at]!, doc);
    at += 1
  )
    if (queue[at]!.type === "leafDirective") acts += 1;
  const end = queue[at];
  if (!end || !endsInColons(end, doc) || acts === 0) return;
  const stray = doc.source.text.lastIndexOf(":".repeat(colonsOf(node, doc)), endOf(node)),
    { line } = doc.source.where(endOf(end));
  doc.findings.error("text/syntax", doc.source.where(stray), {
    message:
      `This line closes \`${openingOf(node, doc)}\` too early: what follows up to line ${line} stands in no ` + "step",
    fix: `Remove this line, or begin another step after it`,
    cause: whereOfNode(doc, node),
  });
  absorb(node, queue, from, doc);
}

/**
 * Moves what follows a block that ended too early into it, up to the line of colons that was meant to end it; without
 * one, up to the next block if there are moves, turns or checks before it.
 */
function absorb(node: ContainerDirective, queue: RootContent[], from: number, doc: Doc): void {
  let at = from;
  while (
    at < queue.length &&
    !isOutsider(queue[at]!, node) &&
    queue[at]!.type !== "containerDirective" &&
    !endsInColons(queue[at]!, doc)
  )
    at += 1;
  const end = queue[at];
  if (!end || !endsInColons(end, doc)) {
    if (queue.slice(from, at).some((next) => next.type === "leafDirective" && formOf(next.name, doc) === "leaf"))
      node.children.push(...(queue.splice(from, at - from) as ContainerDirective["children"]));
    return;
  }
  const taken = queue.splice(from, at - from + 1) as ContainerDirective["children"],
    closing = taken.at(-1)!;
  if (!dropColons(closing)) taken.pop();
  node.children.push(...taken);
}

/** Whether a paragraph's last line is nothing but colons, as if to end a block. */
function endsInColons(node: Nodes, doc: Doc): boolean {
  return (
    node.type === "paragraph" &&
    /(?:^|[\r\n])[ \t]*:{3,}[ \t]*$/.test(doc.source.text.slice(startOf(node), endOf(node)))
  );
}

/** Takes the line of colons off a paragraph's end; false if nothing is left. */
function dropColons(node: Nodes): boolean {
  const last = node.type === "paragraph" ? node.children.at(-1) : undefined;
  if (node.type !== "paragraph" || last?.type !== "text") return true;
  last.value = last.value.replace(/\s*:{3,}[ \t]*$/, "");
  return node.children.length > 1 || last.value !== "";
}

/** What never stands inside another block: a step, an include, a heading that begins a section. */
function isOutsider(child: Nodes, parent: Nodes): boolean {
  if (child.type === "heading") return child.depth <= 2;
  if (child.type === "containerDirective")
    return child.name === "step" || (parent.type === "containerDirective" && parent.name !== "step");
  return child.type === "leafDirective" && child.name === "include";
}

function colonsOf(node: Nodes, doc: Doc): number {
  return /^:*/.exec(doc.source.text.slice(startOf(node), startOf(node) + 40))![0].length;
}

/** Whether a container ends with its own line of colons. */
export function isClosed(node: ContainerDirective, doc: Doc): boolean {
  const end = endOf(node),
    line = doc.source.lineStart(end),
    last = node.children.at(-1);
  if (line <= startOf(node) || (last && endOf(last) > line)) return false;
  const closing = /(?:^|[\s>])(:{3,})[ \t]*$/.exec(doc.source.text.slice(line, end));
  return closing !== null && closing[1]!.length >= colonsOf(node, doc);
}

function openingOf(node: Nodes, doc: Doc): string {
  return /^:*[\w-]*|^#+/.exec(doc.source.text.slice(startOf(node), startOf(node) + 60))![0] || "#";
}

function report(doc: Doc, node: Nodes, message: string, fix: string, cause?: Nodes): void {
  doc.findings.error("text/syntax", whereOfNode(doc, node), {
    message,
    fix,
    ...(cause ? { cause: whereOfNode(doc, cause) } : {}),
  });
}

/** A block that begins with more colons than the line that is to end it. */
function reportLong(node: ContainerDirective, closing: Nodes, doc: Doc): void {
  const end = doc.source.where(endOf(closing)),
    { line } = end,
    [colons] = /:+(?=[ \t]*$)/.exec(doc.source.text.slice(startOf(closing), endOf(closing)))!;
  doc.findings.error("text/syntax", whereOfNode(doc, node), {
    message: heard("slipFindings").colonsToSpare({ name: openingOf(node, doc), line }),
    fix: heard("slipFindings").fewerColons({ what: `${colons}${node.name}`, line }),
    cause: { ...end, column: 1 },
  });
}

function reportOpen(node: ContainerDirective, doc: Doc, before?: Nodes): void {
  const colons = ":".repeat(colonsOf(node, doc));
  // The words of a warning, caution or note end with a paragraph; what follows may be what it has swallowed.
  const second = before || node.name === "step" ? undefined : node.children[1];
  const line = before ? whereOfNode(doc, before).line : second && whereOfNode(doc, second).line;
  const until = line ? `, before line ${line}${second ? " at the earliest" : ""}` : "";
  report(
    doc,
    node,
    `\`${openingOf(node, doc)}\` is left open`,
    `Add a line \`${colons}\` after its last line${until}`,
    before,
  );
}
