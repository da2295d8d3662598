/** Directives of background pages, as they are rendered. */
import type { Root } from "mdast";
import remarkDirective from "remark-directive";
import remarkMdx from "remark-mdx";
import remarkParse from "remark-parse";
import { unified } from "unified";
import { VFile } from "vfile";
import { describe, expect, it } from "vitest";
import { readingDirectives } from "../../src/site/text/reading-directives.ts";

function render(text: string): Root {
  const parser = unified().use(remarkParse).use(remarkMdx).use(remarkDirective).use(readingDirectives);
  return parser.runSync(parser.parse(text), new VFile(text)) as Root;
}

describe("directives of a background page", () => {
  // Source: the CommonMark generic-directives proposal: `:::name` is a block, `::name[…]` a line, `:name[…]{…}` in
  // text.
  it("are signal boxes, as blocks and as lines", () => {
    expect(render(":::warning\nIce.\n:::\n\n::note[Snow.]").children).toMatchObject([
      {
        type: "mdxJsxFlowElement",
        name: "SignalBox",
        attributes: [{ name: "signal", value: "warning" }],
        children: [{ type: "paragraph", children: [{ value: "Ice." }] }],
      },
      {
        type: "mdxJsxFlowElement",
        name: "SignalBox",
        attributes: [{ name: "signal", value: "note" }],
        children: [{ type: "paragraph", children: [{ value: "Snow." }] }],
      },
    ]);
  });

  it("are links to items and places, inside a box as well", () => {
    const [box, line] = render(
      ":::caution\nThe :item[shell]{id=child-shell}.\n:::\n\nThe :place[bed]{id=bed}.",
    ).children;
    expect(box).toMatchObject({
      children: [
        { children: [{}, { type: "link", url: "../../items/child-shell/", children: [{ value: "shell" }] }, {}] },
      ],
    });
    expect(line).toMatchObject({ children: [{}, { type: "link", url: "../../places/bed/" }, {}] });
  });

  it.each(["At 10:30 sharp.", "A ratio of 3:1.", "A :smile: and a:b."])("leave %j as it is written", (text) => {
    const [paragraph] = render(text).children;
    expect(
      paragraph!.type === "paragraph" &&
        paragraph.children.map((child) => child.type === "text" && child.value).join(""),
    ).toBe(text);
  });
});
