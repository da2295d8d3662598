/** Repeatable chance, held to published check values. */
import { describe, expect, it } from "vitest";
import { drawsFrom, hashText, nextMinimal, shuffle } from "../../../src/domain/numbers/chance.ts";

describe("chance", () => {
  it(
    "is the minimal standard generator: 1043618065 after 10,000 steps from 1 (Park and Miller, CACM 31 (1988) " +
      "1195)",
    () => {
      let z = 1;
      for (let step = 0; step < 10_000; step++) z = nextMinimal(z);
      expect(z).toBe(1_043_618_065);
    },
  );

  // Offset basis and vectors of the FNV reference test suite, test_fnv.c (from memory).
  it.each([
    ["", 0x811c9dc5],
    ["a", 0xe40c292c],
    ["foobar", 0xbf9cf968],
  ])("hashes %j by FNV-1a in 32 bits", (text, hash) => expect(hashText(text)).toBe(hash));

  it(
    "draws every order of four about equally often (chi-squared with 23 degrees of freedom under 49.7, the 0.1 " +
      "% point: standard table, from memory)",
    () => {
      const counts = new Map<string, number>();
      const draw = drawsFrom("orders");
      const runs = 24_000;
      for (let run = 0; run < runs; run++) {
        const order = shuffle(["a", "b", "c", "d"], draw).join("");
        counts.set(order, (counts.get(order) ?? 0) + 1);
      }
      expect(counts.size).toBe(24);
      expect([...counts.values()].reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)).toBeLessThan(49.7);
    },
  );

  it("parts neighbouring seeds", () => {
    const first = Array.from({ length: 200 }, (_, seed) => drawsFrom(String(seed))(1000));
    expect(new Set(first).size).toBeGreaterThan(150);
  });
});
