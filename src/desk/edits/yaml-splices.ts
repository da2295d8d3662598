/** Where a YAML text is cut, so that one field or entry of it says something else, and nothing round it. */
import { isAlias, isMap, isScalar, isSeq } from "yaml";
import type { CST, Document, Node, Pair, YAMLMap, YAMLSeq } from "yaml";
import { parseYaml } from "../../read/yaml.ts";
import { heard } from "../../words/heard.ts";
import type { FieldPath, FieldValue } from "./edit.ts";
import { fieldOrder } from "./field-order.ts";
import { moved } from "./moved.ts";
import { isFields, isList, isSameValue, valueAt } from "./plain-value.ts";
import { Refusal } from "../disk/refusal.ts";
import { behindLineEnd, lineBegin, lineEndAt, lineFinish } from "./splice.ts";
import type { Splice } from "./splice.ts";
import { quoteStyleOf, writeAsEntry, writeBehindName, writeInLine, writeText } from "./write-value.ts";
import type { Manner } from "./write-value.ts";

type Collection = YAMLMap | YAMLSeq;

/** A value with what holds it. */
interface Slot {
  readonly holder: Collection;
  /** Which pair or entry of the holder it is. */
  readonly index: number;
  readonly node: Node | null;
}

interface Tree {
  readonly yaml: string;
  readonly document: Document.Parsed;
}

/**
 * The next cut on the way from what a text says at a path to what it shall say; nothing where it says so already.
 * `asked` is what the whole text shall say.
 */
export function nextSplice(yaml: string, asked: FieldValue, path: FieldPath): Splice | undefined {
  const tree = treeOf(yaml),
    root = tree.document.contents;
  if (!isMap(root) && !isSeq(root)) {
    const [key] = path;
    if (root !== null && !(isScalar(root) && root.value === "")) throw new Refusal(heard("deskRefused").noFields);
    return typeof key === "string" ? firstField(yaml, key, valueAt(asked, [key])) : undefined;
  }
  let holder: Collection = root;
  for (const [depth, key] of path.entries()) {
    const upTo = path.slice(0, depth + 1),
      value = valueAt(asked, upTo),
      index = indexOf(holder, key);
    if (index === undefined)
      return value === undefined ? undefined : insert(tree, holder, holder.items.length, key, value);
    const slot = slotAt(holder, index);
    const isLast = depth === path.length - 1;
    // What was an entry of a list before the change is another one after it.
    if (isLast && (value === undefined || typeof key === "number") && isSeq(holder))
      return alterList(tree, holder, valueAt(asked, path.slice(0, depth)) as readonly FieldValue[]);
    if (value === undefined) return remove(tree, holder, index);
    if (isLast || (!isMap(slot.node) && !isSeq(slot.node))) return alter(tree, slot, value);
    holder = slot.node;
  }
  return undefined;
}

/** The name of a field, changed. */
export function renameSplice(yaml: string, path: FieldPath, to: string): Splice {
  const { holder, key } = holderAt(yaml, path),
    index = key === undefined ? undefined : indexOf(holder, key),
    node = index === undefined ? undefined : (holder.items[index] as Pair).key;
  if (!isScalar(node) || !node.range) throw new Refusal(heard("deskRefused").onlyFields);
  return { from: node.range[0], to: node.range[1], text: writeText(to, isInBraces(holder), quoteStyleOf(node)) };
}

/** One entry or field moved among the others: each of those between gets the text of its neighbour. */
export function moveSplices(yaml: string, path: FieldPath, from: number, to: number): Splice[] {
  const tree = treeOf(yaml);
  let holder: unknown = tree.document.contents;
  for (const key of path) {
    const index = isMap(holder) || isSeq(holder) ? indexOf(holder, key) : undefined;
    holder = index === undefined ? undefined : slotAt(holder as Collection, index).node;
  }
  if (!isMap(holder) && !isSeq(holder)) throw new Refusal(heard("deskRefused").onlyEntries);
  const spans = holder.items.map((_, index) => spanOf(tree, holder as Collection, index));
  return moved(spans, from, to).flatMap((span, index) => {
    const slot = spans[index]!;
    return slot === span ? [] : { ...slot, text: yaml.slice(span.from, span.to) };
  });
}

function treeOf(yaml: string): Tree {
  return { yaml, document: parseYaml(yaml, { tokens: true }) };
}

function holderAt(yaml: string, path: FieldPath): { readonly holder: Collection; readonly key: string | number } {
  let holder: unknown = treeOf(yaml).document.contents;
  for (const key of path.slice(0, -1)) {
    const index = isMap(holder) || isSeq(holder) ? indexOf(holder, key) : undefined;
    holder = index === undefined ? undefined : slotAt(holder as Collection, index).node;
  }
  const key = path.at(-1);
  if ((!isMap(holder) && !isSeq(holder)) || key === undefined) throw new Refusal(heard("deskRefused").onlyFields);
  return { holder, key };
}

function indexOf(holder: Collection, key: string | number): number | undefined {
  const index = isMap(holder)
    ? holder.items.findIndex((pair) => isScalar(pair.key) && String(pair.key.value) === key)
    : typeof key === "number" && key < holder.items.length
      ? key
      : -1;
  return index < 0 ? undefined : index;
}

function slotAt(holder: Collection, index: number): Slot {
  const node = isMap(holder) ? holder.items[index]!.value : holder.items[index];
  return { holder, index, node: (node ?? null) as Node | null };
}

/** What a node says. */
function valueOf({ document }: Tree, node: Node | null): FieldValue {
  if (isAlias(node)) return valueOf({ yaml: "", document }, node.resolve(document) ?? null);
  if (isSeq(node)) return node.items.map((each) => valueOf({ yaml: "", document }, each as Node));
  if (isMap(node))
    return Object.fromEntries(
      node.items.map(({ key, value }) => [
        isScalar(key) ? String(key.value) : "",
        valueOf({ yaml: "", document }, value as Node | null),
      ]),
    );
  return isScalar(node) ? String(node.value ?? "") : "";
}

/** The next cut in a value, so that it says another. */
function alter(tree: Tree, slot: Slot, value: FieldValue): Splice | undefined {
  const { node } = slot;
  if (isSameValue(valueOf(tree, node), value)) return undefined;
  if (isMap(node) && isFields(value) && node.items.length > 0 && Object.keys(value).length > 0) {
    for (const [index, { key }] of node.items.entries()) {
      const name = isScalar(key) ? String(key.value) : "";
      const child = Object.hasOwn(value, name) ? value[name] : undefined,
        cut = child === undefined ? undefined : alter(tree, slotAt(node, index), child);
      if (cut) return cut;
    }
    for (const [name, child] of Object.entries(value))
      if (indexOf(node, name) === undefined) return insert(tree, node, node.items.length, name, child);
    const gone = node.items.findIndex(({ key }) => !isScalar(key) || !Object.hasOwn(value, String(key.value)));
    return gone < 0 ? undefined : remove(tree, node, gone);
  }
  if (isSeq(node) && isList(value) && node.items.length > 0 && value.length > 0) return alterList(tree, node, value);
  return replace(tree, slot, value);
}

/** The next cut in a list: what is the same at both ends stays as it is. */
function alterList(tree: Tree, node: YAMLSeq, value: readonly FieldValue[]): Splice | undefined {
  const old = node.items.map((each) => valueOf(tree, each as Node));
  const most = Math.min(old.length, value.length);
  let same = 0,
    sameAtEnd = 0;
  while (same < most && isSameValue(old[same]!, value[same]!)) same += 1;
  while (sameAtEnd < most - same && isSameValue(old.at(-1 - sameAtEnd)!, value.at(-1 - sameAtEnd)!)) sameAtEnd += 1;
  const left = old.length - same - sameAtEnd,
    wanted = value.length - same - sameAtEnd;
  if (left === 0 && wanted === 0) return undefined;
  if (left > wanted) return remove(tree, node, same);
  if (left < wanted) return insert(tree, node, same, same, value[same]!);
  return alter(tree, slotAt(node, same), value[same]!);
}

/** Another value in the place of one. */
function replace(tree: Tree, { holder, index, node }: Slot, value: FieldValue): Splice {
  const inBraces = isInBraces(holder);
  if (isScalar(node) && node.range && typeof value === "string" && node.range[1] > node.range[0]) {
    const [from, to] = node.range;
    if (!node.type?.startsWith("BLOCK")) return { from, to, text: writeText(value, inBraces, quoteStyleOf(node)) };
  }
  const { from, to } = valueSpan(tree, holder, index);
  const text = inBraces
    ? ` ${writeInLine(value, true)}`
    : isMap(holder)
      ? writeBehindName(value, mannerIn(tree, holder, value))
      : ` ${writeAsEntry(value, mannerIn(tree, holder, value))}`;
  return { from, to, text };
}

/** Offsets of a value with the space before it: from behind the `:` or `-` to the end of what it says. */
function valueSpan(tree: Tree, holder: Collection, index: number): Omit<Splice, "text"> {
  const token = tokenOf(holder, index),
    node = slotAt(holder, index).node;
  const sign = (isMap(holder) ? token?.sep : token?.start)?.find(
    ({ type }) => type === "map-value-ind" || type === "seq-item-ind",
  );
  const end = endOf(tree, holder, index);
  if (sign) return { from: sign.offset + 1, to: Math.max(end, sign.offset + 1) };
  // An entry in brackets has no sign before it.
  return { from: node?.range?.[0] ?? end, to: end };
}

type Token = CST.CollectionItem;

function tokenOf(holder: Collection, index: number): Token | undefined {
  const token = holder.srcToken as CST.BlockMap | CST.BlockSequence | CST.FlowCollection | undefined;
  return isMap(holder) && token?.type !== "flow-collection"
    ? (token?.items as Token[] | undefined)?.filter(({ key, sep }) => key !== undefined || sep !== undefined)[index]
    : (token?.items as Token[] | undefined)?.filter(({ key, sep, value }) => key ?? sep ?? value)[index];
}

function isInBraces(holder: Collection): boolean {
  return holder.flow === true;
}

/** Where what an entry or field says ends, its last line end not counted. */
function endOf({ yaml }: Tree, holder: Collection, index: number): number {
  const item = holder.items[index] as Pair | Node | null,
    node = slotAt(holder, index).node,
    key = isMap(holder) ? ((item as Pair).key as Node) : null;
  const sign = isMap(holder) ? tokenOf(holder, index)?.sep?.find(({ type }) => type === "map-value-ind") : undefined;
  const end = Math.max(node?.range?.[1] ?? 0, key?.range?.[1] ?? 0, sign ? sign.offset + 1 : 0);
  return end - /(?:\r\n|\n|\r)?$/.exec(yaml.slice(0, end))![0].length;
}

/** Where an entry or field begins: its name, its `-`, or its value in brackets. */
function startOf(holder: Collection, index: number): number {
  const item = holder.items[index] as Pair | Node,
    token = tokenOf(holder, index);
  if (!isInBraces(holder) && isSeq(holder))
    return token?.start.find(({ type }) => type === "seq-item-ind")?.offset ?? (item as Node).range?.[0] ?? 0;
  const signs = token?.start.filter(({ type }) => type === "anchor" || type === "tag") ?? [];
  const node = (isMap(holder) ? (item as Pair).key : item) as Node;
  return signs[0]?.offset ?? node.range?.[0] ?? 0;
}

/** An entry or field with all that is its own: in lines of its own also the remark at the end of its last line. */
function spanOf(tree: Tree, holder: Collection, index: number): Omit<Splice, "text"> {
  const end = endOf(tree, holder, index);
  return { from: startOf(holder, index), to: isInBraces(holder) ? end : lineFinish(tree.yaml, end) };
}

/** How a value is written among its neighbours in a holder. */
function mannerIn({ yaml }: Tree, holder: Collection, value: FieldValue): Manner {
  const start = holder.items.length ? startOf(holder, 0) : 0,
    column = start - lineBegin(yaml, start);
  const neighbours = holder.items
    .map((_, index) => slotAt(holder, index).node)
    .filter((node) => (isList(value) ? isSeq(node) : isMap(node))) as Collection[];
  return {
    indent: column + 2,
    lineEnd: lineEndAt(yaml, start),
    ...(neighbours.length && new Set(neighbours.map(isInBraces)).size === 1
      ? { inLine: isInBraces(neighbours[0]!) }
      : {}),
  };
}

function insert(tree: Tree, holder: Collection, at: number, key: string | number, value: FieldValue): Splice {
  const { yaml } = tree;
  if (isInBraces(holder)) {
    const written = isMap(holder)
      ? `${writeText(String(key), true)}: ${writeInLine(value, true)}`
      : writeInLine(value, true);
    if (holder.items.length === 0) {
      const [from, to] = holder.range!;
      return { from: from + 1, to: to - 1, text: isMap(holder) ? ` ${written} ` : written };
    }
    if (at < holder.items.length) {
      const from = startOf(holder, at);
      return { from, to: from, text: `${written}, ` };
    }
    const from = endOf(tree, holder, at - 1);
    return { from, to: from, text: `${betweenLast(tree, holder)}${written}` };
  }
  const manner = mannerIn(tree, holder, value),
    indent = " ".repeat(manner.indent - 2);
  const written = isMap(holder)
    ? `${writeText(String(key), false)}:${writeBehindName(value, manner)}`
    : `- ${writeAsEntry(value, manner)}`;
  const index = isMap(holder) ? placeFor(holder, String(key)) : at;
  if (index === 0) {
    const from = startOf(holder, 0);
    return { from, to: from, text: written + manner.lineEnd + indent };
  }
  const from = spanOf(tree, holder, index - 1).to,
    behind = behindLineEnd(yaml, from);
  return behind > from || from < yaml.length
    ? { from: behind, to: behind, text: indent + written + lineEndAt(yaml, behind) }
    : { from, to: from, text: manner.lineEnd + indent + written };
}

/** What stands between the last two entries in brackets, where that is nothing but a comma and space. */
function betweenLast(tree: Tree, holder: Collection): string {
  const last = holder.items.length - 1;
  const between = last > 0 ? tree.yaml.slice(endOf(tree, holder, last - 1), startOf(holder, last)) : ", ";
  return /^\s*,\s*$/.test(between) ? between : ", ";
}

/** Which field a new one becomes: behind those that the format names before it, else the last. */
function placeFor(holder: YAMLMap, key: string): number {
  const keys = holder.items.map((pair) => (isScalar(pair.key) ? String(pair.key.value) : ""));
  const order = fieldOrder([...keys, key]);
  if (!order) return keys.length;
  const before = keys.findLastIndex((other) => order.indexOf(other) < order.indexOf(key));
  return before < 0 ? keys.length : before + 1;
}

function remove(tree: Tree, holder: Collection, index: number): Splice {
  const { yaml } = tree,
    count = holder.items.length;
  if (count === 1) {
    if (holder === tree.document.contents && !isInBraces(holder)) return linesOf(tree, holder, index);
    const [from, to] = holder.range!;
    const end = to - /(?:\r\n|\n|\r)?$/.exec(yaml.slice(0, to))![0].length;
    return { from, to: end, text: isMap(holder) ? "{}" : "[]" };
  }
  if (isInBraces(holder))
    return index < count - 1 && !isLastOfLine(tree, holder, index)
      ? { from: startOf(holder, index), to: startOf(holder, index + 1), text: "" }
      : { from: endOf(tree, holder, index - 1), to: endOf(tree, holder, index), text: "" };
  const { from } = spanOf(tree, holder, index);
  // The first field of an entry stands behind its `-`.
  if (index === 0 && /\S/.test(yaml.slice(lineBegin(yaml, from), from)))
    return { from, to: startOf(holder, 1), text: "" };
  return linesOf(tree, holder, index);
}

/** Whether the next entry in brackets begins a line, and this one does not: the line ends as before without it. */
function isLastOfLine(tree: Tree, holder: Collection, index: number): boolean {
  const breaks = (at: number) => /[\r\n]/.test(tree.yaml.slice(endOf(tree, holder, at), startOf(holder, at + 1)));
  return index > 0 && breaks(index) && !breaks(index - 1);
}

/** The lines of a field or entry, taken away. */
function linesOf(tree: Tree, holder: Collection, index: number): Splice {
  const { from, to } = spanOf(tree, holder, index),
    begin = lineBegin(tree.yaml, from),
    behind = behindLineEnd(tree.yaml, to);
  if (behind > to || begin === 0) return { from: begin, to: behind, text: "" };
  const before = /(?:\r\n|\n|\r)$/.exec(tree.yaml.slice(0, begin))![0].length;
  return { from: begin - before, to, text: "" };
}

/** The first field of a text that has none. */
function firstField(yaml: string, key: string, value: FieldValue | undefined): Splice | undefined {
  if (value === undefined) return undefined;
  const lineEnd = lineEndAt(yaml, yaml.length),
    isOpen = yaml !== "" && !/[\r\n]$/.test(yaml);
  const written = `${writeText(key, false)}:${writeBehindName(value, { indent: 2, lineEnd })}`;
  return { from: yaml.length, to: yaml.length, text: (isOpen ? lineEnd : "") + written + lineEnd };
}
