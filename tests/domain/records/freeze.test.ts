/** Canonical JSON and hashes of frozen content. */
import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import fc from "fast-check";
import type { Content, PhotoContent } from "../../../src/domain/records/content.ts";
import { canonicalJson, contentOfIssue, differs, hashOf, samePhotos } from "../../../src/domain/records/freeze.ts";
import { applyDifference, differenceBetween } from "../../../src/domain/records/revisions.ts";
import { procedureContent } from "../../arbitraries/content.ts";

describe("canonical JSON", () => {
  it("sorts keys by UTF-16 code units (RFC 8785, section 3.2.3, the example, from memory)", () => {
    const input = {
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis",
    };
    expect([...canonicalJson(input).matchAll(/:"([^"]+)"/g)].map(([, name]) => name)).toEqual([
      "Carriage Return",
      "One",
      "Control",
      "Latin Small Letter O With Diaeresis",
      "Euro Sign",
      "Emoji: Grinning Face",
      "Hebrew Letter Dalet With Dagesh",
    ]);
  });

  it("writes values as ECMAScript does, without white space (RFC 8785, section 3.2.2)", () => {
    expect(
      canonicalJson({
        b: [333333333.33333329, 1e30, 4.5, 2e-3, 1e-27],
        a: { literals: [null, true, false] },
        none: undefined,
      }),
    ).toBe('{"a":{"literals":[null,true,false]},"b":[333333333.3333333,1e+30,4.5,0.002,1e-27]}');
  });

  it("does not depend on the order of keys, and reads back as the same value", () => {
    fc.assert(
      fc.property(procedureContent, (content) => {
        const backwards = Object.fromEntries(Object.entries(content).reverse());
        expect(hashOf(backwards)).toBe(hashOf(content));
        expect(JSON.parse(canonicalJson(content))).toEqual(content);
      }),
    );
  });
});

describe("hashes", () => {
  it('are SHA-256: the hash of "abc" in JSON is that of another implementation (FIPS 180-4)', () => {
    expect(hashOf("abc")).toBe(createHash("sha256").update('"abc"').digest("hex"));
  });

  it("find any altered issue", () => {
    fc.assert(
      fc.property(procedureContent, fc.string({ minLength: 1 }), (content, words) => {
        const issue = {
          file: "issued/tern/seat@1.json",
          platform: "tern",
          kind: "procedure" as const,
          id: "seat",
          revision: 1,
          hash: hashOf(content),
          content,
          where: { file: "", line: 1, column: 1 },
          at: {},
        };
        expect(contentOfIssue(issue)).toEqual(content);
        expect(contentOfIssue({ ...issue, content: { ...content, title: content.title + words } })).toBeUndefined();
        expect(contentOfIssue({ ...issue, file: "issued/tern/other@1.json" })).toBeUndefined();
      }),
    );
  });
});

describe("the hash of a photo's file", () => {
  const photo = (sha256?: string, more: Partial<PhotoContent> = {}): PhotoContent => ({
    id: "pins.2",
    alt: "Four pins",
    ...more,
    image: { width: 40, height: 30, ...(sha256 ? { sha256 } : {}) },
  });
  const [ONE, TWO] = ["one", "two"].map(hashOf) as [string, string];

  it.each([
    [[photo(ONE)], [photo(ONE)], true, "the same file"],
    [[photo(ONE)], [photo(TWO)], false, "another file under the same name, as large and with the same words"],
    [[photo()], [photo(TWO)], true, "an issue frozen before files were hashed, which says nothing of the bytes"],
    [[photo(ONE)], [photo()], true, "the other way round"],
    [[photo()], [photo(TWO, { alt: "Three pins" })], false, "other words, hashed or not"],
    [
      [photo(ONE), photo(undefined, { id: "lever" })],
      [photo(TWO), photo(undefined, { id: "lever" })],
      false,
      "one of two, of which the other is not hashed",
    ],
    [
      [photo(ONE), photo(undefined, { id: "pins-2" })],
      [photo(), photo(TWO, { id: "pins-2" })],
      true,
      "ids that only differ in a sign",
    ],
  ])("tells photos apart: %#, %4$s", (before, after, same) => expect(samePhotos(before, after)).toBe(same));

  it("alone is no change of an issue, and the later issue is still what the difference gives", () => {
    fc.assert(
      fc.property(procedureContent, (content) => {
        const hashed = JSON.parse(JSON.stringify(content), (key, value: unknown) =>
          key === "photos"
            ? (value as PhotoContent[]).map(({ id, ...rest }) => ({ ...rest, id, image: { width: 4, height: 3 } }))
            : value,
        ) as Content;
        const later = JSON.parse(JSON.stringify(hashed), (key, value: unknown) =>
          key === "image" ? { ...(value as object), sha256: ONE } : value,
        ) as Content;
        expect(differs(hashed, later)).toBe(false);
        const difference = differenceBetween(hashed, later);
        expect(difference.fields).toEqual([]);
        expect(difference.steps.every(({ kind }) => kind === "same")).toBe(true);
        expect(applyDifference(hashed, difference)).toEqual(later);
      }),
    );
  });
});
