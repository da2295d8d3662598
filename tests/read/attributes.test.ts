/** Attributes with their places against micromark-extension-directive, the reference for how directives are read. */
import fc from "fast-check";
import type { Root } from "mdast";
import remarkDirective from "remark-directive";
import remarkParse from "remark-parse";
import { unified } from "unified";
import type { Processor } from "unified";
import { describe, expect, it } from "vitest";
import { attributesOf, directivePlaces } from "../../src/read/attributes.ts";

const parser = unified().use(remarkParse).use(remarkDirective).freeze();
const placing = unified()
  .use(remarkParse)
  .use(remarkDirective)
  .use(function (this: Processor) {
    this.data().fromMarkdownExtensions!.push(directivePlaces());
  })
  .freeze();
const entriesOf = (text: string) => attributesOf(placing.parse(text).children[0]!).entries;
const valuesOf = (text: string) =>
  Object.fromEntries(entriesOf(text).map(({ key, value }) => [key, value.kind === "text" ? value.text : undefined]));
const reference = (text: string) => {
  const node = (parser.parse(text) as Root).children[0];
  return node?.type === "containerDirective" || node?.type === "leafDirective" ? { ...node.attributes } : undefined;
};

describe("attributes of a directive", () => {
  it.each([
    "::move{item=capsule-pin count=4 from=pin-tray to=capsule-seat}",
    ":::step{#press by=second critical photo=\"pins lever\" takes='1 min 30 s'}\n:::",
    '::check[Pins [all] \\] four]{by=lead answer="a } b"}',
    '::check[Pins]{answer="Tom &amp; Jerry &quot;x&quot;"}',
    "::check[]{answer = spaced by  =  lead}",
    "::x",
    "::x{}",
    ":::step{critical}\n:::",
  ])("are those of the reference in `%s`", (text) => expect(valuesOf(text)).toEqual(reference(text)));

  // A tab right after a name without a value belongs to the name in micromark-extension-directive 4; here it parts the
  // two, since tabs are fine in a collection.
  it("are those of the reference in any list of attributes", () => {
    const name = fc.constantFrom("by", "photo", "takes", "to-x", "a_b", "critical");
    const word = fc.stringMatching(/^[a-z0-9äß.:/-]{1,8}$/),
      quoted = fc.stringMatching(/^[a-z0-9 ä{}[\]#.,=<>-]{0,12}$/);
    const attribute = fc.oneof(
      name,
      fc.tuple(name, word).map(([key, value]) => `${key}=${value}`),
      fc.tuple(name, quoted).map(([key, value]) => `${key}="${value}"`),
      fc.tuple(name, quoted).map(([key, value]) => `${key}='${value}'`),
      fc.stringMatching(/^#[a-z-]{1,5}$/),
    );
    const list = fc
      .tuple(
        fc.uniqueArray(attribute, {
          maxLength: 5,
          selector: (text) => (text.startsWith("#") ? "id" : text.split("=")[0]),
        }),
        fc.constantFrom(" ", "  ", " \t"),
      )
      .map(([all, gap]) => `::move{${all.join(gap)}}`);
    fc.assert(
      fc.property(list, (text) => {
        const expected = reference(text);
        if (expected) expect(valuesOf(text)).toEqual(expected);
      }),
    );
  });

  it("stand where they are written, key and value, character by character", () => {
    const text = ':::step{#press by=second photo="pins  lever"}\n:::';
    const places = entriesOf(text).map(({ keyOffset, value }) => [
      text.slice(keyOffset, keyOffset + 3),
      value.kind === "text" ? text.slice(value.offset, value.offset + value.text.length) : "",
    ]);
    expect(places).toEqual([
      ["#pr", "press"],
      ["by=", "second"],
      ["pho", "pins  lever"],
    ]);
  });

  it("are all kept when given twice, where the reference lets the last value win", () => {
    expect(reference("::move{item=a item=b}")).toEqual({ item: "b" });
    expect(entriesOf("::move{item=a item=b}").map(({ key, keyOffset }) => [key, keyOffset])).toEqual([
      ["item", 7],
      ["item", 14],
    ]);
  });

  it("read entities by their names and numbers, in any case and in values without quotes too (HTML 13.5)", () => {
    expect(
      valuesOf('::check[Caf&eacute;]{answer="caf&eacute; &#233; &#xE9; &half; 5&nbsp;&deg;C" by=d&eacute;j&agrave;}'),
    ).toEqual({
      answer: "café é é ½ 5\u00a0°C",
      by: "déjà",
    });
  });

  it("are parted by tabs, which the reference takes for a part of a name", () => {
    expect(valuesOf(":::step{critical\thold\tby=lead}\n:::")).toEqual({ critical: "", hold: "", by: "lead" });
  });
});
