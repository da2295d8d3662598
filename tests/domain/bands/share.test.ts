/** For how many of a band's patients another one is: by hand, and against asking every hundred grams (invented). */
import fc from "fast-check";
import { expect, it } from "vitest";
import { holds, shareOf } from "../../../src/domain/bands/bands.ts";
import type { Band } from "../../../src/schema/collection.ts";
import { grams, range } from "../../arbitraries/platform.ts";

const any = { text: "any age" };
const of = (from: number, to: number): Band => ({ weight: range(grams(from, true), grams(to, false)), age: any });

it("is all, some or none", () => {
  expect(shareOf({ weight: range(undefined, grams(50_000, false)), age: any }, of(5000, 40_000))).toBe("all");
  expect(shareOf({ weight: range(grams(20_000, true), undefined), age: any }, of(5000, 40_000))).toBe("some");
  expect(shareOf({ weight: range(undefined, grams(5000, false)), age: any }, of(5000, 40_000))).toBe("none");
});

it("agrees with asking every weight", () => {
  const band = fc.tuple(fc.integer({ min: 0, max: 29 }), fc.integer({ min: 1, max: 30 })).filter(([a, b]) => a < b);
  fc.assert(
    fc.property(band, band, ([a, b], [c, d]) => {
      const part = of(a * 100, b * 100),
        whole = of(c * 100, d * 100);
      const asked = Array.from({ length: d - c }, (_, at) => holds(part.weight, grams((c + at) * 100, true).value));
      expect(shareOf(part, whole)).toBe(asked.every(Boolean) ? "all" : asked.some(Boolean) ? "some" : "none");
    }),
  );
});
