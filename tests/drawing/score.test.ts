/** The score of a timeline: parts, waits, holds, ticks and scale, worked out by hand. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { layoutScore } from "../../src/drawing/score.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import type { Step } from "../../src/schema/collection.ts";
import { makePlatform, makeProcedure, makeStep } from "../domain/parts/make.ts";

const CREW = ["lead", "second"];

function scoreOf(steps: readonly Partial<Step>[], text = "Do it.", crew = CREW) {
  const procedure = makeProcedure(
    "swap",
    steps.map((step) => makeStep(step)),
  );
  const timeline = planTimeline(
    procedure.steps.map((step) => ({ procedure, step })),
    crew,
    makePlatform(),
  );
  return layoutScore(timeline, crew, () => text);
}

describe("layoutScore", () => {
  const score = scoreOf([
    { by: ["lead"], takesSeconds: 20 },
    { by: ["second"], takesSeconds: 40 },
    { by: CREW, takesSeconds: 30, hold: true },
    { by: ["second"], takesSeconds: 20 },
    { by: ["lead"], takesSeconds: 30 },
    { by: CREW, takesSeconds: 25 },
  ]);

  it("cuts the time where nobody is in the middle of anything, and after each hold", () => {
    expect(
      score.parts.map(({ start, end, blocks, hold }) => [
        start,
        end,
        blocks.map(({ timed }) => timed.index),
        hold?.index,
      ]),
    ).toEqual([
      [0, 40, [0, 1], undefined],
      [40, 70, [2], 2],
      [70, 100, [3, 4], undefined],
      [100, 125, [5], undefined],
    ]);
  });

  it("puts each block on the lanes of whoever acts, measured from the top of its part", () => {
    expect(
      score.parts.flatMap(({ blocks }) => blocks.map(({ from, to, top, seconds }) => [from, to, top, seconds])),
    ).toEqual([
      [0, 0, 0, 20],
      [1, 1, 0, 40],
      [0, 1, 0, 30],
      [1, 1, 0, 20],
      [0, 0, 0, 30],
      [0, 1, 0, 25],
    ]);
  });

  it("shows who waits, and tells it at the step that is waited for", () => {
    expect(score.parts.flatMap(({ waits }) => waits.map(({ lane, top, seconds }) => [lane, top, seconds]))).toEqual([
      [0, 20, 20],
      [1, 20, 10],
    ]);
    expect(score.parts[1]!.blocks[0]!.waited.map(({ person, end, start }) => [person, end - start])).toEqual([
      ["lead", 20],
    ]);
  });

  it("ticks at round times and at the end, each in the part in which it falls", () => {
    expect(score.pxPerSecond).toBe(2.6);
    expect(score.parts.map(({ ticks }) => ticks.map(({ at, top }) => [at, top]))).toEqual([
      [
        [0, 0],
        [30, 30],
      ],
      [[60, 20]],
      [[90, 20]],
      [[125, 25]],
    ]);
  });

  it("stretches the time for long texts, up to a limit, and says which texts need smaller letters", () => {
    const long = scoreOf(
      [
        { by: ["lead"], takesSeconds: 20 },
        { by: ["second"], takesSeconds: 60 },
      ],
      "x".repeat(120),
    );
    // 301 px of text width: 4 lines of 18 px and 8 px of edges in 20 s.
    expect(long.pxPerSecond).toBe(4);
    expect(long.parts[0]!.blocks.map(({ tight }) => tight)).toEqual([true, false]);
    expect(scoreOf([{ by: ["lead"], takesSeconds: 2 }], "x".repeat(120)).pxPerSecond).toBe(16);
  });

  it("gives a role outside the crew a lane of its own, and is empty without steps", () => {
    expect(scoreOf([{ by: ["driver"] }]).lanes).toEqual(["lead", "second", "driver"]);
    expect(scoreOf([])).toMatchObject({ parts: [], elapsed: 0, pxPerSecond: 2.6 });
  });

  it("holds every step once, within its part, and the parts follow one another without a gap", () => {
    const step = fc.record({
      by: fc.constantFrom(["lead"], ["second"], CREW, []),
      takesSeconds: fc.integer({ min: 1, max: 60 }),
      hold: fc.integer({ min: 0, max: 5 }).map((n) => n === 0),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 10 }), (steps) => {
        const { parts, elapsed } = scoreOf(steps);
        expect(parts.flatMap(({ blocks }) => blocks.map(({ timed }) => timed.index)).sort((a, b) => a - b)).toEqual(
          steps.map((_, at) => at),
        );
        expect(parts.map(({ end }) => end)).toEqual([...parts.slice(1).map(({ start }) => start), elapsed]);
        for (const { start, end, blocks, waits } of parts)
          for (const { top, seconds } of [...blocks, ...waits])
            expect(top >= 0 && top + seconds <= end - start).toBe(true);
      }),
    );
  });
});
