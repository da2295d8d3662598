/** The feed of issues, read by a parser that did not make it and measured against RFC 4287. */
import fc from "fast-check";
import { XMLParser, XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { escapeXml, type Feed, makeFeed } from "../../../src/domain/records/feed.ts";

const feed = (over: Partial<Feed> = {}): Feed => ({
  title: "Fennmark: issues",
  author: "Fennmark",
  language: "en-GB",
  site: "https://procedures.example.org/",
  entries: [
    {
      id: "tern/procedures/seat-capsule/3",
      title: "FCR-T-02 Seat the capsule, revision 3",
      date: "2026-09-10",
      author: "Clinical educator",
      summary: "Pins <first>, then lift & lower.",
      address: "tern/procedures/seat-capsule/notices/3/",
    },
    {
      id: "tern/procedures/seat-capsule/2",
      title: "FCR-T-02 Seat the capsule, revision 2",
      date: "2026-01-12",
      summary: "Grips.",
    },
  ],
  ...over,
});
const parser = new XMLParser({
  ignoreAttributes: false,
  isArray: (name) => name === "entry" || name === "link",
  processEntities: true,
  parseTagValue: false,
  trimValues: false,
});
interface Read {
  feed: {
    id: string;
    title: string;
    updated: string;
    author: { name: string };
    link?: Record<string, string>[];
    entry?: {
      id: string;
      title: string;
      updated: string;
      summary: string;
      author?: { name: string };
      link?: Record<string, string>[];
    }[];
    [key: string]: unknown;
  };
}
const read = (text: string) => (parser.parse(text) as Read).feed;

describe("a feed of issues", () => {
  it("is well-formed XML in the namespace of Atom with its language (RFC 4287, 2)", () => {
    const text = makeFeed(feed());
    expect(XMLValidator.validate(text)).toBe(true);
    expect(read(text)["@_xmlns"]).toBe("http://www.w3.org/2005/Atom");
    expect(read(text)["@_xml:lang"]).toBe("en-GB");
  });

  it(
    "has exactly one id, title and updated in the feed and in each entry, an author for each, and a link to " +
      "itself (RFC 4287, 4.1.1, 4.1.2)",
    () => {
      const { id, title, updated, author, link, entry } = read(makeFeed(feed()));
      expect([id, title, updated, author.name]).toEqual([
        "https://procedures.example.org/issues.atom",
        "Fennmark: issues",
        "2026-09-10T00:00:00Z",
        "Fennmark",
      ]);
      expect(link!.find((each) => each["@_rel"] === "self")!["@_href"]).toBe(
        "https://procedures.example.org/issues.atom",
      );
      expect(entry).toHaveLength(2);
      for (const each of entry!)
        expect([typeof each.id, typeof each.title, typeof each.updated]).toEqual(["string", "string", "string"]);
      expect(entry![0]!.summary).toBe("Pins <first>, then lift & lower.");
      expect(entry![0]!.link![0]!["@_href"]).toBe(
        "https://procedures.example.org/tern/procedures/seat-capsule/notices/3/",
      );
      expect(entry![1]!.author).toBeUndefined();
    },
  );

  it("has absolute ids that all differ, with a site and without one (RFC 4287, 4.2.6)", () => {
    const { site: _site, ...rest } = feed();
    for (const each of [feed(), rest]) {
      const { id, entry } = read(makeFeed(each));
      const ids = [id, ...entry!.map((one) => one.id)];
      expect(new Set(ids).size).toBe(ids.length);
      for (const one of ids) expect(() => new URL(one)).not.toThrow();
    }
  });

  it("without a site has tag URIs of the form `tag:` authority `,` date `:` specific (RFC 4151, 2.1)", () => {
    const { site: _site, ...rest } = feed({ author: "Fennmark Coast Rétrieval" });
    for (const { id } of read(makeFeed(rest)).entry!)
      expect(id).toMatch(/^tag:[a-z0-9-]+\.invalid,\d{4}-\d{2}-\d{2}:[\w./-]+$/);
  });

  it("is dated by its newest entry in the form of RFC 3339, and reads no clock", () => {
    expect(makeFeed(feed())).toBe(makeFeed(feed()));
    for (const { updated } of read(makeFeed(feed())).entry!)
      expect(updated).toMatch(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z$/);
    expect(read(makeFeed(feed({ entries: [] }))).updated).toBe("1970-01-01T00:00:00Z");
  });

  it("gives any text back through a general parser, without the characters that XML 1.0 may not hold (2.2)", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", minLength: 1, maxLength: 120 }), (text) => {
        const xml = makeFeed(feed({ entries: [{ id: "a", title: `x${text}x`, date: "2026-01-01", summary: "s" }] }));
        expect(XMLValidator.validate(xml)).toBe(true);
        expect(xml).not.toMatch(/[\u0000-\u0008\u000B\u000C\u000E-\u001F]/);
        const kept = [...`x${text}x`]
          .filter((sign) => /[\u0009\u000A\u000D\u0020-\uD7FF\uE000-\uFFFD]|[\u{10000}-\u{10FFFF}]/u.test(sign))
          .join("");
        expect(read(xml).entry![0]!.title.replace(/\r\n?/g, "\n")).toBe(kept.replace(/\r\n?/g, "\n"));
      }),
      { numRuns: 300 },
    );
    expect(escapeXml(`a<b>&"'`)).toBe("a&lt;b&gt;&amp;&quot;&apos;");
  });
});
