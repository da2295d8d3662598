/**
 * Texts that would keep the parser busy for minutes are refused with their line, before they are parsed; what is as
 * large and can be read is read. Invented; the sizes are those at which minutes were measured.
 */
import { describe, expect, it } from "vitest";
import { Findings } from "../../src/findings/finding.ts";
import { MOST_IN_PARAGRAPH, MOST_MARKS, MOST_NESTED, MOST_OPEN } from "../../src/read/bounds.ts";
import { readMarkdown, readPage } from "../../src/read/markdown.ts";
import { Source } from "../../src/read/source.ts";

const HEAD = "---\ntitle: A\n---\nSome text.\n\n";
function read(body: string) {
  const findings = new Findings(),
    file = readMarkdown(new Source("a.mdx", HEAD + body), findings);
  return { file, findings: findings.list };
}
const lines = (count: number, line: (at: number) => string) => Array.from({ length: count }, (_, at) => line(at));
const growing = (count: number) => lines(count, (at) => "`".repeat(at + 1)).join(" a ");

describe("a text that would take minutes", () => {
  it.each([
    ["5,000 times `*a_ ` in one paragraph", "*a_ ".repeat(5000), 6, /marks of emphasis/],
    ["20,000 times", "*a_ ".repeat(20_000), 6, /marks of emphasis/],
    ["a directive in whose line it stands", `::note[${"*a_ ".repeat(5000)}]`, 6, /marks of emphasis/],
    ["300 growing runs of backticks", growing(300), 6, /10,000 characters/],
    ["1,200 growing runs of backticks", growing(1200), 6, /10,000 characters/],
    ["1,000 open fences", ":::note\n".repeat(1000), 6 + MOST_OPEN, /blocks `:::` are open/],
    ["lists nested 400 deep", lines(400, (at) => `${" ".repeat(2 * at)}- a`).join("\n"), 6 + MOST_NESTED + 1, /nested/],
    ["quotes nested 400 deep", `${">".repeat(400)} a`, 6, /nested/],
    ["3,000 tags", "<a>".repeat(3000), 6, /tags/],
  ])("is refused with its line: %s", (_, body, line, message) => {
    const { file, findings } = read(body);
    expect(findings.map((finding) => [finding.rule, finding.line, finding.column])).toEqual([["text/syntax", line, 1]]);
    expect(findings[0]!.message).toMatch(message);
    expect(findings[0]!.fix).not.toBe("");
    expect(file.tree.children).toEqual([]);
    expect(file.brokenBody).toBe(true);
    const ofPage = new Findings();
    expect(readPage(new Source("a.mdx", HEAD + body), ofPage).tree).toBeUndefined();
    expect(ofPage.list).toEqual(findings);
  });
});

describe("a text that is long and can be read", () => {
  it.each([
    ["a paragraph as long as may be", "word ".repeat(MOST_IN_PARAGRAPH / 5 - 1)],
    ["as many marks as may be", "*a* ".repeat(MOST_MARKS / 2)],
    ["a list of 500 items without blank lines", lines(500, (at) => `- item ${at} with *words* beside it`).join("\n")],
    [
      "a table of 500 rows",
      `| a | b |\n| - | - |\n${lines(500, (at) => `| row_${at} | *words* beside it |`).join("\n")}`,
    ],
    ["200 steps after each other", ":::note\nWords.\n:::\n\n".repeat(200)],
    ["code of many marks", `\`\`\`\n${"*a_ ".repeat(2000)}\n\`\`\``],
    ["lists nested twelve deep", lines(12, (at) => `${" ".repeat(2 * at)}- a`).join("\n")],
  ])("is read: %s", (_, body) => {
    const { file, findings } = read(body);
    expect(findings).toEqual([]);
    expect(file.tree.children.length).toBeGreaterThan(1);
  });
});
