/** Lists, first letters, ids and links (values invented; the law of lists against the joining that they replaced). */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isOutside, schemeOf } from "../../src/schema/links.ts";
import { ID } from "../../src/schema/leaves.ts";
import { lowerFirst, sayList, slugOf } from "../../src/schema/wording.ts";

describe("words", () => {
  it.each([
    [[], ""],
    [["a"], "a"],
    [["a", "b"], "a and b"],
    [["a", "b", "c"], "a, b and c"],
  ])("in a row: %j", (words, said) => expect(sayList(words)).toBe(said));
  it("are joined by `or` as by commas and one `or`", () => {
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z]{1,5}$/), { minLength: 2 }), (words) => {
        expect(sayList(words, "or")).toBe(`${words.slice(0, -1).join(", ")} or ${words.at(-1)}`);
      }),
    );
  });
  it.each([
    ["Newborn capsule", "newborn capsule"],
    ["A strap", "a strap"],
    ["QR code", "QR code"],
    ["A4 sheet", "A4 sheet"],
    ["X-ray plate", "X-ray plate"],
    ["`capsule`", "`capsule`"],
    ["", ""],
  ])("begin small, abbreviations do not: %s", (title, said) => expect(lowerFirst(title)).toBe(said));
});

describe("an id from words", () => {
  it.each([
    ["Café Nord", "cafe-nord"],
    ["  Pump rack (2) ", "pump-rack-2"],
    ["…", ""],
  ])("%s", (words, id) => expect(slugOf(words)).toBe(id));
  it("is an id, or nothing, whatever the words", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (words) => {
        const slug = slugOf(words);
        expect(slug === "" || ID.test(slug)).toBe(true);
        expect(slugOf(slug)).toBe(slug);
      }),
    );
  });
});

describe("a link", () => {
  // WHATWG URL Standard, 4.4: tabs and line ends inside an address are removed, so `java\nscript:` is `javascript:`.
  it.each([
    ["https://example.org/", "https", true],
    ["MAILTO:desk@example.org", "mailto", true],
    ["java\nscript:alert(1)", "javascript", false],
    [" data:text/html,x", "data", false],
    ["tern/items/", undefined, false],
    ["#step-3", undefined, false],
  ])("%j", (address, scheme, outside) => {
    expect([schemeOf(address), isOutside(address)]).toEqual([scheme, outside]);
  });
});
