/**
 * Records as text and back, and work whose results are kept. Compared with the values themselves, as Node's own
 * `structuredClone` and `isDeepStrictEqual` see them, and with work that keeps nothing.
 */
import { isDeepStrictEqual } from "node:util";
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import { readGraph, writeGraph } from "../../../src/domain/words/graph.ts";
import { kept, keepOn, type ResultShelf } from "../../../src/domain/words/keep.ts";

afterEach(() => keepOn(undefined));

/** A shelf in memory that counts what it answers. */
function shelf(): ResultShelf & { found: number } {
  const all = new Map<string, string>();
  return {
    found: 0,
    find(name, question) {
      const answer = all.get(`${name} ${question}`);
      if (answer !== undefined) this.found += 1;
      return answer;
    },
    put: (name, question, answer) => void all.set(`${name} ${question}`, answer),
  };
}

const values = fc.anything({ withBigInt: true, withMap: true, maxDepth: 4, withNullPrototype: false });

describe("the text of a value", () => {
  it("is read back as that value", () => {
    fc.assert(
      fc.property(values, (value) => {
        const back = readGraph(writeGraph(value));
        expect(isDeepStrictEqual(back, value)).toBe(true);
        expect(isDeepStrictEqual(back, structuredClone(value))).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  it("keeps what is shared, and what goes round in a circle", () => {
    const shared = { a: 1 },
      ring: { self?: unknown; two: unknown[] } = { two: [shared, shared] };
    ring.self = ring;
    const back = readGraph(writeGraph(ring)) as typeof ring;
    expect(back.self).toBe(back);
    expect(back.two[0]).toBe(back.two[1]);
    expect(writeGraph([{ a: 1 }, { a: 1 }])).not.toBe(writeGraph([shared, shared]));
  });

  it("names what is known, and finds it again", () => {
    const step = { id: "pin" };
    const text = writeGraph({ of: step }, new Map([[step, 0]]));
    expect((readGraph(text, [step]) as { of: unknown }).of).toBe(step);
  });

  it("is refused for what is no record", () => {
    for (const value of [() => 1, new Date(0), new Set(), /x/, Symbol("x")])
      expect(() => writeGraph({ value })).toThrow(TypeError);
  });
});

describe("kept work", () => {
  interface Line {
    readonly words: string;
    readonly size: number;
    readonly where: { readonly file: string; readonly line: number; readonly column: number };
  }
  const line = (words: string, size: number, at: number): Line => ({
    words,
    size,
    where: { file: "a.mdx", line: at, column: 3 },
  });
  let worked = 0;
  const largest = kept(
    "largest",
    (field) => field === "words",
    (lines: readonly Line[]) => {
      worked += 1;
      const most = lines.toSorted((a, b) => b.size - a.size)[0]!;
      return { most, where: most.where, words: most.words };
    },
  );

  it("is done once for what it rests on, and answers with what it is asked about now", () => {
    const on = shelf();
    keepOn(on);
    worked = 0;
    const first = [line("one", 1, 4), line("two", 2, 9)],
      moved = [line("uno", 1, 5), line("due", 2, 17)];
    expect(largest(first).most).toBe(first[1]);
    const again = largest(moved);
    expect([worked, on.found]).toEqual([1, 1]);
    expect(again.most).toBe(moved[1]);
    expect(again.where).toBe(moved[1]!.where);
    // It is given no words, so that none that have changed since can be kept.
    expect(again.words).toBe("");
  });

  it("is done again where anything else is otherwise: a value, a file, what is shared, equal places", () => {
    keepOn(shelf());
    worked = 0;
    const one = line("", 1, 1);
    const questions: readonly (readonly Line[])[] = [
      [one, line("", 2, 2)],
      [one, line("", 3, 2)],
      [one, { ...line("", 2, 2), where: { ...line("", 2, 2).where, file: "b.mdx" } }],
      [one, one],
      [one, line("", 1, 1)],
    ];
    for (const question of questions) largest(question);
    expect(worked).toBe(questions.length);
  });

  it("is not kept where its result has a place of its own making, which would be one of the copy", () => {
    const on = shelf();
    keepOn(on);
    const after = kept(
      "after",
      () => false,
      (lines: readonly Line[]) => lines.map(({ where }) => ({ where: { ...where, column: where.column + 2 } })),
    );
    for (const at of [7, 70])
      expect(after([line("", 1, at)])).toEqual([{ where: { file: "a.mdx", line: at, column: 5 } }]);
    expect(on.found).toBe(0);
  });

  it("is done and not kept where its result can't be written", () => {
    const on = shelf();
    keepOn(on);
    const set = kept(
      "set",
      () => false,
      (of: readonly number[]) => new Set(of),
    );
    expect([set([1]), set([1]), on.found]).toEqual([new Set([1]), new Set([1]), 0]);
  });
});
