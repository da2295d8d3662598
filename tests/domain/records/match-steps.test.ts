/** Which step is which between two issues, against a second, naive reading of the rule, and what a move is across. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { StepContent } from "../../../src/domain/records/content.ts";
import { canonicalJson } from "../../../src/domain/records/freeze.ts";
import {
  matchSteps,
  movedAcrossCritical,
  numberedSteps,
  type NumberedStep,
} from "../../../src/domain/records/match-steps.ts";
import { procedureContent } from "../../arbitraries/content.ts";

const words = ({ step }: NumberedStep) =>
  step.instruction
    .map((inline) => (inline as { text: string }).text)
    .join("")
    .toLowerCase()
    .match(/[a-z0-9]+/g) ?? [];
/** Length of a longest common subsequence, by the textbook's table. */
function common(a: readonly string[], b: readonly string[]): number {
  const table = Array.from({ length: a.length + 1 }, () => Array<number>(b.length + 1).fill(0));
  for (let i = 1; i <= a.length; i++)
    for (let j = 1; j <= b.length; j++)
      table[i]![j] = a[i - 1] === b[j - 1] ? table[i - 1]![j - 1]! + 1 : Math.max(table[i - 1]![j]!, table[i]![j - 1]!);
  return table[a.length]![b.length]!;
}
const nameless = ({ step: { id: _id, after: _after, ...rest } }: NumberedStep) => canonicalJson(rest);

/**
 * Pairs of numbers: ids first, then steps that are the same but for names, then the likest of what is left, one pair at
 * a time.
 */
function naivePairs(before: readonly NumberedStep[], after: readonly NumberedStep[]): string[] {
  let [left, right] = [[...before], [...after]];
  const pairs: [number, number][] = [];
  const take = (a: NumberedStep, b: NumberedStep) => {
    pairs.push([a.number, b.number]);
    [left, right] = [left.filter((each) => each !== a), right.filter((each) => each !== b)];
  };
  for (const is of [
    (a: NumberedStep, b: NumberedStep) => a.step.id !== undefined && a.step.id === b.step.id,
    (a: NumberedStep, b: NumberedStep) => nameless(a) === nameless(b),
  ])
    for (const b of after) {
      const a = right.includes(b) && left.find((each) => is(each, b));
      if (a) take(a, b);
    }
  const score = (a: NumberedStep, b: NumberedStep) => {
    const alike = (2 * common(words(a), words(b))) / (words(a).length + words(b).length);
    if (a.step.id && b.step.id) return alike >= 0.85 ? alike : 0;
    return alike > 0 &&
      a.step.operations.length > 0 &&
      canonicalJson(a.step.operations) === canonicalJson(b.step.operations)
      ? Math.max(alike, 0.5)
      : alike;
  };
  for (;;) {
    let best: { a: NumberedStep; b: NumberedStep; is: number } | undefined;
    for (const b of right)
      for (const a of left)
        if (score(a, b) >= 0.5 && (!best || score(a, b) > best.is)) best = { a, b, is: score(a, b) };
    if (!best) return pairs.sort(([, a], [, b]) => a - b).map(([a, b]) => `${a} ${b}`);
    take(best.a, best.b);
  }
}

describe("steps of two issues", () => {
  it("are paired as a naive reading pairs them, in the order of the later issue", () => {
    fc.assert(
      fc.property(procedureContent, procedureContent, (first, second) => {
        const [before, after] = [numberedSteps(first), numberedSteps(second)];
        expect(before.map(({ number }) => number)).toEqual(before.map((_, at) => at + 1));
        expect(before.map(({ section, step }) => [section, step])).toEqual(
          first.sections.flatMap(({ title, entries }) =>
            entries.flatMap((entry) => (entry.kind === "step" ? [[title, entry]] : [])),
          ),
        );
        expect(matchSteps(before, after).map((pair) => `${pair.before.number} ${pair.after.number}`)).toEqual(
          naivePairs(before, after),
        );
      }),
      { numRuns: 400 },
    );
  });

  const said = (...lines: readonly (readonly [string, string?])[]): NumberedStep[] =>
    lines.map(([line, id], at) => ({
      number: at + 1,
      section: "",
      waitsFor: [],
      step: {
        kind: "step",
        ...(id ? { id } : {}),
        critical: false,
        instruction: [{ kind: "text", text: line }],
        operations: [],
      } as unknown as StepContent,
    }));
  const pairsOf = (before: NumberedStep[], after: NumberedStep[]) =>
    matchSteps(before, after).map((pair) => `${pair.before.number} ${pair.after.number}`);
  it("are paired likest first, and of equally like ones the earlier (invented cases)", () => {
    expect(pairsOf(said(["lift the capsule slowly"]), said(["lift the bag now"], ["lift the capsule now"]))).toEqual([
      "1 2",
    ]);
    expect(pairsOf(said(["lift the capsule"]), said(["lift the capsule now"], ["lift the capsule slowly"]))).toEqual([
      "1 1",
    ]);
    expect(pairsOf(said(["lift the capsule now"], ["lift the capsule slowly"]), said(["lift the capsule"]))).toEqual([
      "1 1",
    ]);
  });
  it("are paired across different ids only with nearly the same words (invented cases)", () => {
    const line = "turn the lever down until it stops";
    expect(pairsOf(said([line, "a"]), said(["turn the lever down until it clicks", "b"]))).toEqual(["1 1"]);
    expect(pairsOf(said([line, "a"]), said(["turn the lever up until it clicks", "b"]))).toEqual([]);
    expect(pairsOf(said([line, "a"]), said(["turn the lever up until it clicks"]))).toEqual(["1 1"]);
  });

  const numbered = (critical: readonly boolean[]): NumberedStep[] =>
    critical.map((each, at) => ({
      number: at + 1,
      section: "",
      waitsFor: [],
      step: { kind: "step", id: `s${at}`, critical: each, instruction: [], operations: [] } as unknown as StepContent,
    }));
  it(
    "have moved if they are not in each of the longest lists that stay in order, and across a critical one if it " +
      "is on their other side now",
    () => {
      fc.assert(
        fc.property(
          fc.array(fc.tuple(fc.boolean(), fc.boolean()), { maxLength: 6 }).chain((marks) =>
            fc.tuple(
              fc.constant(marks),
              fc.shuffledSubarray(
                marks.map((_, at) => at),
                { minLength: marks.length },
              ),
            ),
          ),
          ([marks, order]) => {
            const before = numbered(marks.map(([was]) => was));
            const after = order.map((at, place) => ({
              ...before[at]!,
              number: place + 1,
              step: { ...before[at]!.step, critical: marks[at]![1] },
            }));
            const pairs = matchSteps(before, after);
            const stays = pairs.filter(({ moved }) => !moved).map((pair) => pair.before.number);
            expect(stays).toEqual([...stays].sort((a, b) => a - b));
            const runs = Array.from({ length: 2 ** pairs.length }, (_, bits) =>
              pairs.filter((_pair, at) => bits & (1 << at)).map((pair) => pair.before.number),
            ).filter((list) => list.every((number, at) => at === 0 || number > list[at - 1]!));
            const most = Math.max(...runs.map(({ length }) => length));
            const longest = runs.filter(({ length }) => length === most);
            expect(stays).toEqual(
              pairs.map((pair) => pair.before.number).filter((number) => longest.every((run) => run.includes(number))),
            );
            for (const pair of pairs) {
              const critical = pairs.filter((other) => other.before.step.critical || other.after.step.critical);
              const across =
                critical.includes(pair) ||
                critical.some(
                  (other) =>
                    Math.sign(other.before.number - pair.before.number) !==
                    Math.sign(other.after.number - pair.after.number),
                );
              expect(movedAcrossCritical(pair, pairs)).toBe(pair.moved && across);
            }
          },
        ),
        { numRuns: 300 },
      );
    },
  );
});
