/** The smallest set of lines against trying every set; the greedy one against its published bound. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coverOf } from "../../../src/domain/slips/cover.ts";

/** The size of a smallest set, by trying all of them. */
function leastOf(seenBy: readonly (readonly number[])[], lines: number): number {
  let least = Infinity;
  for (let mask = 0; mask < 1 << lines; mask++) {
    const has = (line: number) => (mask >> line) % 2 === 1;
    const size = Array.from({ length: lines }, (_, line) => has(line)).filter(Boolean).length;
    if (size < least && seenBy.every((by) => by.length === 0 || by.some(has))) least = size;
  }
  return least;
}

const slips = (lines: number) => fc.array(fc.uniqueArray(fc.nat(lines - 1), { maxLength: 4 }), { maxLength: 14 });

describe("the fewest lines that see every slip", () => {
  it("are as few as trying every set says, and see every slip that can be seen", () => {
    fc.assert(
      fc.property(slips(9), (seenBy) => {
        const { lines, isLeast, atLeast } = coverOf(seenBy);
        expect(seenBy.every((by) => by.length === 0 || by.some((line) => lines.includes(line)))).toBe(true);
        expect([lines.length, isLeast, atLeast]).toEqual([leastOf(seenBy, 9), true, lines.length]);
      }),
      { numRuns: 500 },
    );
  });

  it("are none where nothing is seen", () => {
    expect(coverOf([[], []])).toEqual({ lines: [], isLeast: true, atLeast: 0 });
  });

  it("are chosen greedily with more than 20 candidates, within the harmonic bound (Chvátal 1979, from memory)", () => {
    // Three lines see everything; the greedy choice is led astray by the larger one in the middle.
    const many = Array.from({ length: 24 }, (_, slip) => [slip % 2, 2 + Math.floor(Math.log2(slip + 1)), 10 + slip]);
    const { lines, isLeast, atLeast } = coverOf(many);
    expect(many.every((by) => by.some((line) => lines.includes(line)))).toBe(true);
    expect(atLeast).toBeLessThanOrEqual(2);
    expect(lines.length).toBeLessThanOrEqual(2 * (1 + Math.log(12)));
    expect(isLeast).toBe(lines.length <= atLeast);
    fc.assert(
      fc.property(slips(40), (seenBy) => {
        const cover = coverOf(seenBy);
        expect(seenBy.every((by) => by.length === 0 || by.some((line) => cover.lines.includes(line)))).toBe(true);
        expect(cover.atLeast).toBeLessThanOrEqual(cover.lines.length);
      }),
      { numRuns: 200 },
    );
  });
});
