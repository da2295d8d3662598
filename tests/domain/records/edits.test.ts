/** Shortest edits between lists and texts. */
import { describe, expect, it } from "vitest";
import fc from "fast-check";
import { applyEdits, editsBetween, likeness, surelyRising, wordEdits } from "../../../src/domain/records/edits.ts";

const letters = fc.array(fc.constantFrom("a", "b", "c", "d"), { maxLength: 12 });

describe("edits", () => {
  it("turns ABCABBA into CBABAC in five edits (Myers 1986, An O(ND) difference algorithm, section 2)", () => {
    expect(editsBetween([..."ABCABBA"], [..."CBABAC"]).filter((edit) => edit.kind !== "keep")).toHaveLength(5);
  });

  it(
    "keeps a longest common subsequence: XMJYAUZ and MZJAWXU share four (MJAU; Wikipedia, Longest common " +
      "subsequence, from memory)",
    () => {
      expect(editsBetween([..."XMJYAUZ"], [..."MZJAWXU"]).filter((edit) => edit.kind === "keep")).toHaveLength(4);
    },
  );

  it("rebuilds the later list from the earlier one and the edits", () => {
    fc.assert(
      fc.property(letters, letters, (before, after) => {
        expect(applyEdits(before, editsBetween(before, after))).toEqual(after);
      }),
    );
  });

  it("is as short as dynamic programming finds it", () => {
    fc.assert(
      fc.property(letters, letters, (before, after) => {
        expect(editsBetween(before, after).filter(({ kind }) => kind !== "keep")).toHaveLength(
          before.length + after.length - 2 * longestCommon(before, after),
        );
      }),
    );
  });

  it("refuses edits that do not fit", () => {
    expect(() => applyEdits(["a"], editsBetween(["a", "b"], ["b"]))).toThrow();
  });

  it("gives the earlier text from kept and removed words, the later from kept and added", () => {
    const words = fc
      .array(fc.constantFrom("push", "the", "four", "pins", "in", "until", "each", ",", "."), { maxLength: 12 })
      .map((list) => list.join(" "));
    fc.assert(
      fc.property(words, words, (before, after) => {
        const edits = wordEdits(before, after);
        expect(
          edits
            .filter(({ kind }) => kind !== "added")
            .map(({ value }) => value)
            .join(""),
        ).toBe(before);
        expect(
          edits
            .filter(({ kind }) => kind !== "removed")
            .map(({ value }) => value)
            .join(""),
        ).toBe(after);
      }),
    );
  });

  it("finds what is in every longest rising run, as trying all runs finds it", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(20), { maxLength: 8 }), (numbers) => {
        const runs = Array.from({ length: 2 ** numbers.length }, (_, bits) =>
          numbers.flatMap((_number, at) => (bits & (1 << at) ? [at] : [])),
        ).filter((run) => run.every((at, place) => place === 0 || numbers[run[place - 1]!]! < numbers[at]!));
        const most = Math.max(...runs.map(({ length }) => length));
        const longest = runs.filter(({ length }) => length === most);
        expect([...surelyRising(numbers)].sort((a, b) => a - b)).toEqual(
          numbers.flatMap((_, at) => (longest.every((run) => run.includes(at)) ? [at] : [])),
        );
      }),
    );
    expect([...surelyRising([1, 3, 2, 4])]).toEqual([0, 3]);
    expect([...surelyRising([2, 3, 4, 1])]).toEqual([0, 1, 2]);
  });

  it("calls texts alike by the words that they share in order, punctuation and case aside", () => {
    expect(likeness("Push the pins in.", "push the pins in")).toBe(1);
    expect(likeness("Push the pins in.", "Lock a lever")).toBe(0);
    expect(likeness("Push the four pins in", "Push the pins in until each clicks")).toBeCloseTo((2 * 4) / 12, 10);
  });
});

/** Length of a longest common subsequence by the textbook's table, for comparison. */
function longestCommon<T>(a: readonly T[], b: readonly T[]): number {
  const table = Array.from({ length: a.length + 1 }, () => Array<number>(b.length + 1).fill(0));
  for (let i = 1; i <= a.length; i += 1)
    for (let j = 1; j <= b.length; j += 1)
      table[i]![j] = a[i - 1] === b[j - 1] ? table[i - 1]![j - 1]! + 1 : Math.max(table[i - 1]![j]!, table[i]![j - 1]!);
  return table[a.length]![b.length]!;
}
