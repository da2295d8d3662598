/** Check codes: Crockford's base 32 with its check symbol, and how likely two cards share one. */
import { describe, expect, it } from "vitest";
import fc from "fast-check";
import {
  checkSymbol,
  codeOf,
  CODES,
  collisionProbability,
  encode,
  isValidCode,
  normalizeCode,
} from "../../../src/domain/cards/check-code.ts";
import { hashOf } from "../../../src/domain/records/freeze.ts";

describe("check codes", () => {
  // The example of the base32-crockford documentation, from memory; recomputed: 1234 = 1·32² + 6·32 + 18, 1234 mod 37 =
  // 13.
  it("encodes 1234 as 16J with the check symbol D", () => {
    expect(encode(1234) + checkSymbol(1234)).toBe("16JD");
  });

  it("has the check symbols of the published table for 32 to 36 (Douglas Crockford, Base 32: * ~ $ = U)", () => {
    expect([32, 33, 34, 35, 36].map(checkSymbol).join("")).toBe("*~$=U");
  });

  it("makes codes of six letters and digits, four and two, that are valid", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const code = codeOf(hashOf(text));
        expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{2}$/);
        expect(isValidCode(code)).toBe(true);
        expect(codeOf(hashOf(text))).toBe(code);
      }),
    );
  });

  it("reads O as 0, I and L as 1, small letters and spaces (Douglas Crockford, Base 32, decoding)", () => {
    expect(normalizeCode(" o1il 2a")).toBe("0111-2A");
    // Hyphens of word processors and spoken copies: U+2010 to U+2015 and the minus sign.
    for (const dash of "‐‑‒–—―−") expect(normalizeCode(`hw8d${dash}ep`)).toBe("HW8D-EP");
    const code = codeOf(hashOf("a card"));
    expect(isValidCode(code.toLowerCase().replace("-", " "))).toBe(true);
  });

  it(
    "finds every single wrong symbol and every exchange of two neighbours (the claim of Crockford's check " + "symbol)",
    () => {
      const symbols = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
      for (let card = 0; card < 40; card += 1) {
        const code = codeOf(hashOf(card)).replace("-", "");
        for (let at = 0; at < code.length; at += 1) {
          for (const symbol of symbols)
            if (symbol !== code[at]) expect(isValidCode(code.slice(0, at) + symbol + code.slice(at + 1))).toBe(false);
          const swapped = code.slice(0, at) + (code[at + 1] ?? "") + code[at]! + code.slice(at + 2);
          if (at + 1 < code.length && code[at] !== code[at + 1]) expect(isValidCode(swapped)).toBe(false);
        }
      }
    },
  );

  it("refuses what is no code", () => {
    for (const typed of ["", "7K3F", "7K3F-QSS", "7K3F-Q*", "ÄÖÜ3-Q2", "7K3F-Q2"])
      expect(isValidCode(typed)).toBe(false);
  });

  it("counts the codes there are: of 2^25 values those whose remainder by 37 is below 32", () => {
    const values = 2 ** 25;
    expect(CODES).toBe(32 * Math.floor(values / 37) + Math.min(values % 37, 32));
  });

  it("says how likely a collision is (birthday bound; 23 in 365 is the textbook's 0.5)", () => {
    let noneShared = 1;
    for (let card = 0; card < 200; card += 1) noneShared *= 1 - card / CODES;
    expect(collisionProbability(200)).toBeCloseTo(1 - noneShared, 8);
    expect(collisionProbability(200)).toBeCloseTo(0.0006855, 7);
    expect(collisionProbability(2)).toBeCloseTo(1 / CODES, 12);
    expect(-Math.expm1((-23 * 22) / (2 * 365))).toBeCloseTo(0.5, 1);
  });

  it("collides about as often as it should: 20,000 cards give 6.9 pairs on average", () => {
    const seen = new Map<string, number>();
    for (let card = 0; card < 20_000; card += 1) {
      const code = codeOf(String(card));
      seen.set(code, (seen.get(code) ?? 0) + 1);
    }
    const pairs = [...seen.values()].reduce((sum, count) => sum + (count * (count - 1)) / 2, 0);
    // Poisson with mean 6.9: outside 0 to 20 once in 50,000 draws; the draw is fixed.
    expect(pairs).toBeGreaterThan(0);
    expect(pairs).toBeLessThan(20);
  });
});
