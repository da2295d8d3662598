/** Rails, time rails, numbers beside marks and the rows of steps: what is drawn on pages stays where it can be read. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Change, Range } from "../../src/schema/collection.ts";
import { MASS_PER_KG } from "../../src/schema/units.ts";
import { arrowShape } from "../../src/drawing/arrow.ts";
import { placeCallouts, RADIUS } from "../../src/drawing/callouts.ts";
import { railSpan } from "../../src/drawing/rail-span.ts";
import { timelineOfProcedure } from "../../src/domain/time/timeline.ts";
import { layRows } from "../../src/domain/time/step-rows.ts";
import { stationsOf } from "../../src/drawing/time-rail.ts";
import { makePlatform, makeProcedure, makeStep, move, WHERE } from "../domain/parts/make.ts";

const crew = ["lead", "second"].map((id) => ({ id, name: id, where: WHERE, at: {} }));
const kg = (value: number, owned = true) => ({
  value: BigInt(value * 10) * (MASS_PER_KG / 10n),
  owned,
  text: `${value} kg`,
});

describe("railSpan", () => {
  it("puts the geometric mean in the middle, as a logarithmic scale does", () => {
    const whole: Range = { from: kg(1), to: kg(100), text: "" };
    expect(railSpan(whole, { from: kg(1), to: kg(10), text: "" })).toEqual({
      whole: { a: 0, b: 100 },
      part: { a: 0, b: 50 },
    });
  });
  it("draws an end without a limit at the edge, and nothing when there is no end at all", () => {
    expect(railSpan({ text: "any weight" }, { to: kg(5), text: "under 5 kg" })?.part.a).toBe(0);
    expect(railSpan({ text: "any weight" }, { text: "any weight" })).toBeUndefined();
  });
});

describe("stationsOf", () => {
  const change = (revision: number, date: string): Change => ({
    revision,
    date,
    by: "x",
    summary: "s",
    where: WHERE,
    at: {},
  });
  it("keeps the order of time and the texts apart, within the rail", () => {
    const date = fc
      .integer({ min: 0, max: 4000 })
      .map((day) => new Date(Date.UTC(2020, 0, 1 + day)).toISOString().slice(0, 10));
    fc.assert(
      fc.property(fc.array(date, { minLength: 1, maxLength: 6 }), date, (dates, reviewBy) => {
        const changes = dates.sort().map((day, at) => change(at + 1, day));
        const { stations } = stationsOf(
          {
            revision: changes.length,
            changes,
            status: "approved",
            effective: dates.at(-1)!,
            reviewBy: reviewBy > dates.at(-1)! ? reviewBy : "2099-01-01",
          },
          "2026-11-25",
          () => undefined,
        );
        expect(stations.length).toBeLessThanOrEqual(4);
        for (const [at, { x }] of stations.entries()) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(79.0001);
          if (at > 0) expect(x - stations[at - 1]!.x).toBeGreaterThanOrEqual(20.9999);
        }
      }),
    );
  });
  it("stands at the day from which a revision was in force, and says so where only the day of writing is known", () => {
    const changes = [change(1, "2026-01-01"), change(2, "2026-03-01"), change(3, "2026-05-01")];
    const known: Record<number, string> = { 2: "2026-04-01", 3: "2026-06-01" };
    const { stations } = stationsOf(
      { revision: 3, changes, status: "approved", effective: "2026-06-01" },
      "2026-11-25",
      (revision) => known[revision],
    );
    expect(stations.map(({ date, isWritten = false }) => [date, isWritten])).toEqual([
      ["2026-01-01", true],
      ["2026-04-01", false],
      ["2026-06-01", false],
    ]);
  });
  it("has no bar for a document that is not in force yet, and says when a review is overdue", () => {
    const never = () => undefined;
    const base = { revision: 1, changes: [], status: "approved" as const, effective: "2026-12-01" };
    expect(stationsOf(base, "2026-11-25", never).span).toBeUndefined();
    expect(
      stationsOf({ ...base, effective: "2025-01-01", reviewBy: "2026-01-01" }, "2026-11-25", never).stations.at(-1),
    ).toMatchObject({ kind: "review", overdue: true });
  });
});

describe("placeCallouts", () => {
  it("keeps every number inside the drawing and gives the same picture twice", () => {
    const mark = fc.record({
      x: fc.double({ min: 0, max: 1, noNaN: true }),
      y: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(mark, { minLength: 1, maxLength: 6 }), (marks) => {
        const numbered = marks.map((each, at) => ({ ...each, n: at + 1 }));
        const placed = placeCallouts(numbered, [], 420, 315);
        expect(placeCallouts(numbered, [], 420, 315)).toEqual(placed);
        for (const {
          at: [x, y],
        } of placed) {
          expect(x).toBeGreaterThanOrEqual(RADIUS);
          expect(x).toBeLessThanOrEqual(420 - RADIUS);
          expect(y).toBeGreaterThanOrEqual(RADIUS);
          expect(y).toBeLessThanOrEqual(315 - RADIUS);
        }
      }),
    );
  });
  it("does not put one number on another", () => {
    const [a, b] = placeCallouts(
      [
        { n: 1, x: 0.5, y: 0.5 },
        { n: 2, x: 0.52, y: 0.5 },
      ],
      [],
      420,
      315,
    );
    expect(Math.hypot(a!.at[0] - b!.at[0], a!.at[1] - b!.at[1])).toBeGreaterThan(2 * RADIUS);
  });
});

describe("arrowShape", () => {
  it("ends in a point at its target, and is nothing without a length", () => {
    expect(arrowShape([0, 0], [100, 0])).toContain("L100.0 0.0");
    expect(arrowShape([5, 5], [5, 5])).toBe("");
  });
});

describe("layRows", () => {
  const rowsOf = (...steps: Parameters<typeof makeStep>[0][]) => {
    const made = steps.map((step) => makeStep(step));
    const procedure = makeProcedure("p", made);
    return procedure.steps.map((step) =>
      layRows([{ entries: procedure.steps }], timelineOfProcedure(procedure, crew, makePlatform({})), crew).get(step)!,
    );
  };
  it("puts two people's steps side by side when they overlap in time", () => {
    expect(
      rowsOf({ by: ["lead"], takesSeconds: 20 }, { by: ["second"], takesSeconds: 20 }).map(({ beside, lanes }) => [
        beside,
        lanes,
      ]),
    ).toEqual([
      [true, [0]],
      [true, [1]],
    ]);
  });
  it("keeps apart what one person does, what both do, what waits for the other, and holds", () => {
    expect(rowsOf({ by: ["lead"] }, { by: ["lead"] }).some(({ beside }) => beside)).toBe(false);
    expect(rowsOf({ by: ["lead"] }, { by: ["lead", "second"] }).some(({ beside }) => beside)).toBe(false);
    expect(rowsOf({ by: ["lead"], hold: true }, { by: ["second"] }).some(({ beside }) => beside)).toBe(false);
    expect(
      rowsOf(
        { by: ["lead"], operations: [move("pin", "a", "b")] },
        { by: ["second"], operations: [move("pin", "b", "c")] },
      ).some(({ beside }) => beside),
    ).toBe(false);
  });
  it("puts a step that names nobody on every rail", () => {
    expect(rowsOf({ by: [] })[0]!.lanes).toEqual([0, 1]);
  });
});
