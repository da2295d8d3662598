/** A procedure's file as its author sees it: steps, their parts and texts, each with its lines and as it is written. */
import type { Nodes, RootContent } from "mdast";
import { endOf, startOf } from "../../compile/document.ts";
import { Findings } from "../../findings/finding.ts";
import { attributesOf } from "../../read/attributes.ts";
import { readMarkdown } from "../../read/markdown.ts";
import { Source } from "../../read/source.ts";

/** Offsets in the text, the byte-order mark not counted: of the first character, and behind the last. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A directive with its attributes as they are written; `true` for one that stands without a value. */
interface Written extends Span {
  readonly attributes: Readonly<Record<string, string | true>>;
  /** First and last line, from 1. */
  readonly line: number;
  readonly lastLine: number;
}

/** A check, move, turn, reading of the card, warning, caution or note. */
export interface PartOutline extends Written {
  readonly name: string;
  /** The challenge of a check, or the Markdown of a warning, caution or note; else empty. */
  readonly text: string;
  /** Where that stands; absent where there is none. */
  readonly inside?: Span;
}

/** A step; steps and parts are numbered by their order, from 1. */
export interface StepOutline extends Written {
  /** The Markdown of the step without its parts. */
  readonly text: string;
  /** Its paragraphs and lists, as written. */
  readonly paragraphs: readonly string[];
  /** Where these stand. */
  readonly spans: readonly Span[];
  readonly parts: readonly PartOutline[];
}

/** What stands in a procedure's body, in order. */
export type EntryOutline =
  | { readonly kind: "step"; readonly step: StepOutline }
  | { readonly kind: "heading"; readonly text: string; readonly line: number; readonly at: Span }
  | { readonly kind: "part"; readonly part: PartOutline }
  | { readonly kind: "text"; readonly text: string; readonly line: number; readonly at: Span };

/** The entries of a file's body; `undefined` where its text is broken and can only be edited as text. */
export function outlineOf(text: string): readonly EntryOutline[] | undefined {
  const source = new Source("", text),
    { tree, brokenBody } = readMarkdown(source, new Findings());
  if (brokenBody) return undefined;
  const look = new Look(source);
  return tree.children.map((node) => look.entry(node));
}

class Look {
  readonly #source: Source;
  constructor(source: Source) {
    this.#source = source;
  }

  entry(node: RootContent): EntryOutline {
    if (node.type === "containerDirective" && node.name === "step") return { kind: "step", step: this.#step(node) };
    const part = this.#part(node);
    if (part) return { kind: "part", part };
    const { line } = this.#source.where(startOf(node)),
      text = this.#written(node),
      at = { start: startOf(node), end: endOf(node) };
    return node.type === "heading"
      ? { kind: "heading", text: text.replace(/^#+\s*|\s*#*$/g, ""), line, at }
      : { kind: "text", text, line, at };
  }

  #step(node: Extract<RootContent, { type: "containerDirective" }>): StepOutline {
    const parts: PartOutline[] = [],
      paragraphs: string[] = [],
      spans: Span[] = [];
    for (const child of node.children) {
      const part = this.#part(child as RootContent);
      if (part) parts.push(part);
      else {
        paragraphs.push(this.#written(child));
        spans.push({ start: startOf(child), end: endOf(child) });
      }
    }
    return { ...this.#given(node), text: paragraphs.join("\n\n"), paragraphs, spans, parts };
  }

  #part(node: RootContent): PartOutline | undefined {
    if (node.type !== "leafDirective" && (node.type !== "containerDirective" || node.name === "step")) return undefined;
    const first = node.children[0],
      last = node.children.at(-1),
      inside = first && last ? { start: startOf(first), end: endOf(last) } : undefined;
    const text = inside ? this.#source.written.slice(inside.start, inside.end) : "";
    return { ...this.#given(node), name: node.name, text, ...(inside ? { inside } : {}) };
  }

  #given(node: Nodes): Written {
    const attributes = attributesOf(node).entries.map(({ key, value }): [string, string | true] => [
      key,
      value.kind === "text" && !value.bare ? value.text : true,
    ]);
    return {
      attributes: Object.fromEntries(attributes),
      start: startOf(node),
      end: endOf(node),
      line: this.#source.where(startOf(node)).line,
      lastLine: this.#source.where(endOf(node)).line,
    };
  }

  #written(node: Nodes): string {
    return this.#source.written.slice(startOf(node), endOf(node));
  }
}
