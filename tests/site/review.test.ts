/**
 * Open findings on the review page and the review sheets: the same as in `data/check.json`, in the words of an
 * educator; file, line and rule only behind a press. Compared with the data; that people who do not program are not
 * shown file names is common practice, no source.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse, type DefaultTreeAdapterTypes } from "parse5";
import { describe, expect, it } from "vitest";

const { RERIG_SITE: site } = process.env;
type Node = DefaultTreeAdapterTypes.ChildNode;

const isPlace = (node: Node) =>
  "attrs" in node &&
  node.attrs.some(({ name, value }) => name === "class" && value.split(" ").includes("finding-place"));
/** The text of a page's part, with or without what stands behind the presses. */
const textOf = (node: Node, withPlaces: boolean): string => {
  if ("value" in node) return node.value;
  if (!("childNodes" in node) || (!withPlaces && isPlace(node)) || ["script", "style"].includes(node.nodeName))
    return "";
  return node.childNodes.map((child) => textOf(child, withPlaces)).join(" ");
};
const mainOf = (name: string): Node => {
  const find = (node: Node): Node | undefined =>
    node.nodeName === "main"
      ? node
      : "childNodes" in node
        ? node.childNodes.map(find).find((found) => found !== undefined)
        : undefined;
  return parse(readFileSync(join(site!, name), "utf8"))
    .childNodes.map(find)
    .find((found) => found !== undefined)!;
};
const even = (text: string) => text.replace(/`/g, "").replace(/\s+/g, "");
const WORKSHOP = /\b[\w-]+\.(?:yaml|mdx)\b|\brerig [a-z]+\b/;

describe.skipIf(!site || !existsSync(join(site, "index.html")))("open findings", () => {
  it("are those of the data, each with its remedy, its place behind a press", () => {
    const { findings } = JSON.parse(readFileSync(join(site!, "data/check.json"), "utf8")) as {
      findings: { file: string; line: number; message: string; fix: string }[];
    };
    expect(findings.length).toBeGreaterThan(0);
    const page = mainOf("review/index.html"),
      shown = even(textOf(page, false)),
      whole = even(textOf(page, true));
    for (const { file, line, message, fix } of findings) {
      expect(shown).toContain(even(message));
      expect(shown).toContain(even(fix));
      expect(whole).toContain(even(`${file}, line ${line}.`));
    }
  });
  it("name no file, no command and no rule before somebody presses for them, on any page of reviews", () => {
    const pages = readdirSync(site!, { recursive: true, encoding: "utf8" }).filter((name) =>
      // The guide tells authors of files of reviews, and names them.
      /^(?!guide\/)(?:.*\/)?review\/index\.html$/.test(name),
    );
    expect(pages.length).toBeGreaterThan(10);
    const rules = (
      JSON.parse(readFileSync(join(site!, "data/check.json"), "utf8")) as { findings: { rule: string }[] }
    ).findings.map(({ rule }) => rule);
    for (const name of pages) {
      const shown = textOf(mainOf(name), false);
      expect(shown.match(WORKSHOP)?.[0], name).toBeUndefined();
      expect(
        rules.filter((rule) => shown.includes(rule)),
        name,
      ).toEqual([]);
    }
  });
});

describe.skipIf(!site || !existsSync(join(site, "index.html")))("the year of reviews", () => {
  it("has a pin for each month with as many reviews as the calendar file has in it, and each leads to them", () => {
    // RFC 5545, 3.8.2.4: the day of an event is its DTSTART.
    const dates = [...readFileSync(join(site!, "review.ics"), "utf8").matchAll(/^DTSTART[^:]*:(\d{4})(\d\d)/gm)];
    const wanted = new Map<string, number>();
    for (const [, year, month] of dates) wanted.set(`${year}-${month}`, (wanted.get(`${year}-${month}`) ?? 0) + 1);
    const page = readFileSync(join(site!, "review/index.html"), "utf8"),
      rail = /<ol class="review-rail[^]*?<\/ol>/.exec(page)?.[0] ?? "";
    const pins = [...rail.matchAll(/<a href="#due-([\d-]+)"[^>]*>\s*<b>(\d+)<\/b>/g)];
    expect(pins.length).toBeGreaterThan(1);
    expect(new Map(pins.map(([, month, count]) => [month, Number(count)]))).toEqual(wanted);
    for (const [, month] of pins) expect(page).toContain(`id="due-${month}"`);
    expect(rail.match(/class="month"/g)).toHaveLength(13);
  });
});
