/**
 * What Markdown lets pass in silence, as the parser itself reads it: the behaviour that `compile/` mends and reports.
 * If one of these fails after an update of the
 * parser, the mending has to be looked at again. Sources: the generic directives proposal for CommonMark
 * (talk.commonmark.org/t/444, from memory) as implemented by
 * micromark-extension-directive 4; CommonMark 0.31.2; MDX 3 (mdxjs.com/docs/what-is-mdx, from memory).
 */
import type { Root, RootContent } from "mdast";
import remarkDirective from "remark-directive";
import remarkMdx from "remark-mdx";
import remarkParse from "remark-parse";
import { unified } from "unified";
import { describe, expect, it } from "vitest";

const parser = unified().use(remarkParse).use(remarkMdx).use(remarkDirective).freeze();
const parse = (text: string) => (parser.parse(text) as Root).children;
const shape = (nodes: readonly RootContent[]): unknown[] =>
  nodes.map((node) =>
    "name" in node && node.type.endsWith("Directive")
      ? [
          "children" in node && node.type === "containerDirective" ? `:::${node.name}` : `::${String(node.name)}`,
          ...("children" in node ? shape(node.children as RootContent[]) : []),
        ]
      : node.type,
  );

describe("the parser, on its own", () => {
  it("takes `10:30` and `3:1` for text directives (generic directives: a name may begin with a digit)", () => {
    const [paragraph] = parse("At 10:30, ratio 3:1.");
    expect(paragraph?.type === "paragraph" && paragraph.children.map((node) => node.type)).toEqual([
      "text",
      "textDirective",
      "text",
      "textDirective",
      "text",
    ]);
  });
  it("leaves `::: step` with a space a paragraph (generic directives: the name follows the colons)", () =>
    expect(shape(parse("::: step\nA\n"))).toEqual(["paragraph"]));
  it("lets an open fence run to the end of the file, as fenced code does (CommonMark 0.31.2, section 4.5)", () =>
    expect(shape(parse(":::step\nA\n\n:::step\nB\n:::\n\nC\n"))).toEqual([
      [":::step", "paragraph", [":::step", "paragraph"]],
      "paragraph",
    ]));
  it(
    "ends the outer block at the first fence as long as its own (CommonMark 0.31.2, section 4.5: at least as " +
      "long as the opening fence)",
    () =>
      expect(shape(parse(":::step\n:::warning\nW\n:::\nA\n\n::move{item=a}\n\n:::\n"))).toEqual([
        [":::step", [":::warning", "paragraph"]],
        "paragraph",
        ["::move"],
        "paragraph",
      ]),
  );
  it("nests a block in a longer fence", () =>
    expect(shape(parse("::::step\n:::warning\nW\n:::\nA\n::::\n"))).toEqual([
      [":::step", [":::warning", "paragraph"], "paragraph"],
    ]));
  it("lets the last value of a repeated attribute win", () =>
    expect(parse("::move{item=a item=b}")[0]).toMatchObject({ attributes: { item: "b" } }));
  it("stops at `<5 kg` and at a bare brace (MDX: both begin code)", () => {
    expect(() => parse("For <5 kg.")).toThrow();
    expect(() => parse("Open { it.")).toThrow();
  });
  it("takes a line that begins with `import` or `export` for code (MDX)", () =>
    expect(shape(parse("export const a = 1\n"))).toEqual(["mdxjsEsm"]));
  it("lets a directive interrupt a paragraph", () =>
    expect(shape(parse("A\n::move{item=a}\nB\n"))).toEqual(["paragraph", ["::move"], "paragraph"]));
});
