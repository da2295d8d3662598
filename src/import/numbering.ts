/** Which paragraphs a word processor numbers, and how: numbering.xml and the styles that lead to it. */
import { allIn, childOf, type Element, elementsIn } from "./xml.ts";

/** The list that a paragraph is in. */
export interface Listed {
  /** Paragraphs of the same list have the same. */
  readonly list: string;
  /** 0 for the outermost. */
  readonly level: number;
  readonly sort: "number" | "bullet";
}

/** What a paragraph's style says of it. */
export interface Style {
  readonly sort: "title" | "heading" | "text";
  /** As it stands in the word processor, lower-case. */
  readonly name: string;
  readonly bold: boolean;
}

/** What is asked of a document's styles and lists. */
export interface Styles {
  readonly styleOf: (paragraph: Element) => Style;
  /** Nothing if the paragraph is in no list, or in one without marks. */
  readonly listOf: (paragraph: Element) => Listed | undefined;
}

const valueOf = (element: Element | undefined): string | undefined => element?.attributes["val"];

/** Whether a switch such as `w:b` is on (ECMA-376 Part 1, 17.17.4: on without a value). */
export function isSwitchedOn(element: Element | undefined): boolean {
  return element !== undefined && !["0", "false", "off"].includes(valueOf(element) ?? "1");
}

/**
 * Reads `styles.xml` (ECMA-376 Part 1, 17.7) and `numbering.xml` (17.9); either may be missing. A paragraph's own
 * `w:numPr` goes before its style's, a style's before that of the one it is based on; `w:numId` 0 takes the number off
 * (17.9.18).
 */
export function readStyles(styles: Element | undefined, numbering: Element | undefined): Styles {
  const byId = new Map(
    elementsIn(styles)
      .filter(({ name }) => name === "style")
      .map((style) => [style.attributes["styleId"] ?? "", style]),
  );
  const standard = [...byId.values()].find(
    ({ attributes }) => attributes["type"] === "paragraph" && ["1", "true", "on"].includes(attributes["default"] ?? ""),
  );
  /** The style, then what it is based on, then what that is; a circle ends where it began. */
  const chainOf = (id: string | undefined): Element[] => {
    const chain: Element[] = [];
    let style = id === undefined ? standard : byId.get(id);
    while (style && !chain.includes(style)) {
      chain.push(style);
      style = byId.get(valueOf(childOf(style, "basedOn")) ?? "");
    }
    return chain;
  };
  const styleIdOf = (paragraph: Element) => valueOf(childOf(paragraph, "pPr", "pStyle"));
  const levels = readLevels(numbering, (id) => valueOf(childOf(byId.get(id), "pPr", "numPr", "numId")));
  return {
    styleOf(paragraph) {
      const chain = chainOf(styleIdOf(paragraph));
      const names = chain.map((style) => (valueOf(childOf(style, "name")) ?? "").toLowerCase());
      const outline = [paragraph, ...chain].map((from) => valueOf(childOf(from, "pPr", "outlineLvl"))).find(Boolean);
      const isHeading = names.some((name) => /^heading [1-9]$/.test(name)) || (outline ?? "9") < "9";
      const bold = chain.map((style) => childOf(style, "rPr", "b")).find(Boolean);
      return {
        sort: names.includes("title") ? "title" : isHeading ? "heading" : "text",
        name: names[0] ?? "",
        bold: isSwitchedOn(bold),
      };
    },
    listOf(paragraph) {
      const chain = chainOf(styleIdOf(paragraph)),
        given = [paragraph, ...chain]
          .map((from) => ({ from, is: childOf(from, "pPr", "numPr") }))
          .filter(({ is }) => is);
      const numId = given.map(({ is }) => valueOf(childOf(is, "numId"))).find(Boolean);
      const of = numId === undefined || numId === "0" ? undefined : levels.get(numId);
      if (!of) return undefined;
      const written = given.map(({ is }) => valueOf(childOf(is, "ilvl"))).find(Boolean);
      // A style names only the list: the level is the one that names the style (17.9.23).
      const byStyle = chain.map(({ attributes }) => of.byStyle.get(attributes["styleId"] ?? "")).find(Boolean);
      const level = Number(written ?? byStyle ?? 0),
        format = of.formats.get(level) ?? "decimal";
      if (format === "none") return undefined;
      return { list: of.list, level, sort: format === "bullet" ? "bullet" : "number" };
    },
  };
}

interface Levels {
  readonly list: string;
  /** Level -> its `w:numFmt`. */
  readonly formats: ReadonlyMap<number, string>;
  /** Style -> the level that names it. */
  readonly byStyle: ReadonlyMap<string, string>;
}

/** Each `w:num` by its id, with its levels: those of its `w:abstractNum`, then its own overrides (17.9.8). */
function readLevels(
  numbering: Element | undefined,
  numberOfStyle: (style: string) => string | undefined,
): ReadonlyMap<string, Levels> {
  const all = elementsIn(numbering);
  const abstracts = new Map(
    all.filter(({ name }) => name === "abstractNum").map((each) => [each.attributes["abstractNumId"] ?? "", each]),
  );
  const numbers = new Map(
    all.filter(({ name }) => name === "num").map((each) => [each.attributes["numId"] ?? "", each]),
  );
  const abstractOf = (number: Element | undefined) => abstracts.get(valueOf(childOf(number, "abstractNumId")) ?? "");
  return new Map(
    [...numbers].map(([id, number]) => {
      const own = abstractOf(number),
        // A list may only say that it is a style's (17.9.21); that style's list says how it is numbered.
        link = valueOf(childOf(own, "numStyleLink")),
        base = link === undefined ? own : (abstractOf(numbers.get(numberOfStyle(link) ?? "")) ?? own);
      const levels = [...elementsIn(base).filter(({ name }) => name === "lvl"), ...allIn(number, "lvl")];
      const named = levels.map((level) => [Number(level.attributes["ilvl"]), level] as const);
      return [
        id,
        {
          list: base?.attributes["abstractNumId"] ?? id,
          formats: new Map(named.map(([at, level]) => [at, valueOf(childOf(level, "numFmt")) ?? "decimal"])),
          byStyle: new Map(named.map(([at, level]) => [valueOf(childOf(level, "pStyle")) ?? "", String(at)])),
        },
      ];
    }),
  );
}
