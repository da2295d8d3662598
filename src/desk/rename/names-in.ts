/** Every word of a file that names something with an id: which sorts of things it can mean, and where it stands. */
import { z } from "zod";
import type { Nodes } from "mdast";
import { DIRECTIVES } from "../../compile/text/directives.ts";
import { Findings } from "../../findings/finding.ts";
import { attributesOf } from "../../read/attributes.ts";
import { readMarkdown, readPage } from "../../read/markdown.ts";
import type { Raw } from "../../read/raw.ts";
import { Source } from "../../read/source.ts";
import { readYaml } from "../../read/yaml.ts";
import { insideOf, type Named, sortOf } from "../../schema/described.ts";
import { PLACED_COMPONENTS, type PlacedAttribute } from "../../schema/placed-components.ts";
import { kindOfFile } from "../screens/guide-of.ts";

/** A word that names something, or by which something is declared. */
export interface NamingWord {
  /** What it can mean; of a declaration that alone. */
  readonly names: readonly (Named | "platform")[];
  readonly word: string;
  /** Where it stands, from 0, a byte-order mark not counted; absent where no other can be put in its place. */
  readonly from?: number;
  readonly line: number;
  /** The platform that is written before it. */
  readonly platform?: string;
}

/** The words; `undefined` where the text is broken, so that nobody knows them all. None of a file of no kind. */
export function namesIn(file: string, text: string): readonly NamingWord[] | undefined {
  const kind = kindOfFile(file);
  if (!kind) return [];
  const source = new Source(file, text),
    look = new Look(source);
  if (file.endsWith(".yaml")) {
    const { raw, broken } = readYaml(source, source.text, 0, new Findings());
    if (broken) return undefined;
    if (raw) look.fields(kind.shape, raw);
    return look.found;
  }
  const page =
    kind.id === "reading" ? readPage(source, new Findings()) : withoutBroken(readMarkdown(source, new Findings()));
  if (!page?.tree || page.brokenHead) return undefined;
  if (page.head) look.fields(kind.shape, page.head);
  look.body(page.tree);
  return look.found;
}

const withoutBroken = <T extends { readonly brokenBody: boolean }>(page: T): T | undefined =>
  page.brokenBody ? undefined : page;

class Look {
  readonly found: NamingWord[] = [];
  readonly #source: Source;

  constructor(source: Source) {
    this.#source = source;
  }

  /** What stands in a value of that shape. */
  fields(type: z.ZodType, raw: Raw): void {
    const inside = insideOf(type),
      sort = sortOf(type);
    if (raw.kind === "list") {
      if (inside instanceof z.ZodArray) for (const item of raw.items) this.fields(inside.element as z.ZodType, item);
    } else if (raw.kind === "map") {
      for (const { key, keyOffset, value } of raw.entries) {
        if (inside instanceof z.ZodRecord) {
          const quote = /["']/.test(this.#source.written[keyOffset] ?? "") ? 1 : 0;
          this.#text(inside.keyType as unknown as z.ZodType, key, keyOffset + quote, true);
          this.fields(inside.valueType as z.ZodType, value);
        } else if (inside instanceof z.ZodObject && Object.hasOwn(inside.shape, key))
          this.fields((inside.shape as Record<string, z.ZodType>)[key]!, value);
      }
    } else if (sort) this.#text(type, raw.text, raw.offset, raw.exact);
    // One value stands for a list of one.
    else if (inside instanceof z.ZodArray && !raw.empty) this.fields(inside.element as z.ZodType, raw);
  }

  /** What stands in a body. */
  body(node: Nodes): void {
    if (node.type === "containerDirective" || node.type === "leafDirective" || node.type === "textDirective") {
      const shape = DIRECTIVES.get(node.name)?.attributes;
      if (shape) this.fields(shape, attributesOf(node));
    }
    if (node.type === "mdxJsxFlowElement" || node.type === "mdxJsxTextElement")
      for (const attribute of node.attributes) {
        const takes =
          attribute.type === "mdxJsxAttribute"
            ? PLACED_COMPONENTS.get(node.name ?? "")?.get(attribute.name)
            : undefined;
        if (takes && attribute.type === "mdxJsxAttribute")
          this.#placed(takes.value, attribute.position?.start.offset ?? 0, attribute.position?.end.offset ?? 0);
      }
    if ("children" in node) for (const child of node.children) this.body(child);
  }

  /** An attribute of a component: its value stands in quotes, in braces or not. */
  #placed(value: PlacedAttribute["value"], start: number, end: number): void {
    const written = this.#source.text.slice(start, end),
      quoted = /=\s*(?:\{\s*)?(["'])(.*?)\1/s.exec(written);
    const names = PLACED_NAMES[value];
    if (!quoted || !names) return;
    const from = start + quoted.index + quoted[0].length - quoted[2]!.length - (quoted[0].endsWith(quoted[1]!) ? 1 : 0);
    this.#words(names, quoted[2]!, from, true);
  }

  #text(type: z.ZodType, text: string, offset: number, isExact: boolean): void {
    const { names, declares } = sortOf(type) ?? {};
    if (declares) this.#words([declares], text, offset, isExact);
    else if (names) this.#words(names, text, offset, isExact);
  }

  /** The words of a text, parted by spaces; in an arrangement by `+` and `--`. A platform stands before `/`. */
  #words(names: NamingWord["names"], text: string, offset: number, isExact: boolean): void {
    const isCard = names.length === 2 && names.includes("configuration") && names.includes("option"),
      isDocument = names.includes("procedure") && names.includes("configuration");
    let platform: string | undefined,
      sign = "";
    for (const { 0: word, index } of text.matchAll(isCard ? /--|[+/]|(?:(?!--)[^\s+/])+/g : /[^\s/]+|\//g)) {
      const at = offset + index;
      if (word === "/" || word === "+" || word === "--") {
        sign = word;
      } else if ((isCard || isDocument) && text.startsWith("/", index + word.length)) {
        platform = word;
        this.#add(["platform"], word, at, isExact);
      } else this.#add(!isCard ? names : sign === "+" ? ["option"] : ["configuration"], word, at, isExact, platform);
    }
  }

  #add(names: NamingWord["names"], word: string, from: number, isExact: boolean, platform?: string): void {
    const { line } = this.#source.where(from);
    this.found.push({
      names,
      word,
      line,
      ...(isExact && this.#isAt(word, from) ? { from } : {}),
      ...(platform === undefined ? {} : { platform }),
    });
  }

  #isAt(word: string, offset: number): boolean {
    return this.#source.written.startsWith(word, offset);
  }
}

/** What the value of a component's attribute names. */
const PLACED_NAMES: Readonly<Partial<Record<PlacedAttribute["value"], NamingWord["names"]>>> = {
  platform: ["platform"],
  item: ["item"],
  photo: ["photo"],
  arrangement: ["configuration", "option"],
};
