/**
 * The stages of every changeover of the demo against the naive simulation, which moves single pieces: what stands where
 * after each of them, and what they come to together (no source: the two ways of counting must agree).
 */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { layoutFilm } from "../../../src/drawing/film.ts";
import type { Contents } from "../../../src/domain/parts/arrangements.ts";
import type { PlannedStep } from "../../../src/domain/parts/reading.ts";
import { type Model, modelOf } from "../../../src/domain/states/model.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import { type Stage, stagesOf } from "../../../src/domain/time/stages.ts";
import type { TimedStep } from "../../../src/domain/time/timeline.ts";
import type { Collection, Platform } from "../../../src/schema/collection.ts";
import { makeItem, makePlace, makePlatform, makeProcedure, makeStep, move } from "../parts/make.ts";
import { naiveAct, naiveStart, naiveStates } from "../states/naive-run.ts";
import { readCollection } from "../../read-collection.ts";

/** Steps one after another, each by one person. */
function inTurn(steps: readonly PlannedStep[]): { steps: TimedStep[] } {
  let now = 0;
  return {
    steps: steps.map((each, index) => {
      const start = now;
      now += each.step.takesSeconds;
      return { ...each, index, by: ["lead"], given: false, start, end: now, slack: 0, critical: true };
    }),
  };
}

/** `2 pin tray` for whatever stands somewhere, sorted. */
function counted(contents: Iterable<readonly [piece: string, place: string]>): string[] {
  const counts = new Map<string, number>();
  for (const [piece, place] of contents) {
    const key = `${piece.split("#")[0]} ${place}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].map(([key, count]) => `${count} ${key}`).sort();
}
const written = (contents: readonly Contents[]) =>
  contents.map(({ item, place, count }) => `${count} ${item} ${place}`).sort();

describe("stages", () => {
  let collection: Collection, platform: Platform, model: Model;
  beforeAll(async () => {
    collection = await readCollection(join(import.meta.dirname, "../../../procedures"));
    platform = collection.platforms[0]!;
    model = modelOf(platform);
  });

  it("stand as the naive simulation has them after each run, and end in the arrangement that was asked for", () => {
    let looked = 0;
    for (const from of model.arrangements) {
      for (const to of model.arrangements) {
        if (from === to) continue;
        for (const { changeover } of plansBetween(model, collection.service, from, to)) {
          if (!changeover) continue;
          const stages = stagesOf(changeover.steps, inTurn(changeover.steps), platform, from.contents);
          const start = naiveStart(platform, from.contents, from.fastenings);
          const pieces = new Map(start.pieces),
            states = naiveStates(platform, start);
          for (const stage of stages) {
            for (const act of stage.steps.flatMap(({ operations }) => operations))
              expect(naiveAct(platform, pieces, states, act, false)).toBeUndefined();
            expect(written(stage.contents)).toEqual(counted(pieces));
            looked++;
          }
          if (stages.length > 0) expect(written(stages.at(-1)!.contents)).toEqual(written(to.contents));
          expect(stages.flatMap(({ steps }) => steps.map(({ number }) => number))).toEqual(
            changeover.steps.map((_, at) => at + 1),
          );
        }
      }
    }
    expect(looked).toBeGreaterThan(36 * 35);
  }, 120_000);

  it("are drawn in one frame: what came is new, what went is dashed, and nothing else (naive: what differs)", () => {
    let drawn = 0;
    for (const to of model.arrangements) {
      const from = model.arrangements[0]!;
      const [{ changeover } = {}] = plansBetween(model, collection.service, from, to);
      if (!changeover || changeover.steps.length === 0) continue;
      const stages = stagesOf(changeover.steps, inTurn(changeover.steps), platform, from.contents);
      const all = [from.contents, ...stages.map(({ contents }) => contents)];
      const film = layoutFilm(platform, all)!;
      expect(film.frames).toHaveLength(stages.length);
      film.frames.forEach(({ boxes, gone }, at) => {
        const [before, after] = [new Set(written(all[at]!)), new Set(written(all[at + 1]!))];
        const name = ({ entry }: (typeof gone)[number]) => `${entry.count} ${entry.item} ${entry.place}`;
        for (const { box, isNew } of boxes)
          expect([after.has(name(box)), before.has(name(box))]).toEqual([true, !isNew]);
        // What stands in something that is carried away goes with it.
        const there = naiveStart(platform, all[at + 1]!).pieces;
        const isCarried = (place: string): boolean => {
          const under = platform.places.find(({ id }) => id === place)?.on;
          if (under === undefined) return platform.places.find(({ id }) => id === place)?.kind === "store";
          return isCarried(there.get(`${under}#0`)!);
        };
        for (const box of gone) {
          expect(before.has(name(box))).toBe(true);
          expect(after.has(name(box)) && !isCarried(box.entry.place)).toBe(false);
        }
        drawn += boxes.filter(({ isNew }) => isNew).length + gone.length;
      });
    }
    expect(drawn).toBeGreaterThan(100);
  });
});

it("say what a run takes, brings and passes through, and its time (invented)", () => {
  const made = makePlatform({
    places: [makePlace("shelf", { kind: "store" }), makePlace("deck"), makePlace("rail")],
    items: [makeItem("box", { home: "shelf" }), makeItem("pin", { home: "rail", count: 3 })],
  });
  const procedure = makeProcedure("fit");
  const step = (seconds: number, ...operations: ReturnType<typeof move>[]): PlannedStep => ({
    procedure,
    step: makeStep({ number: 1, takesSeconds: seconds, operations }),
  });
  const steps = [
    step(10, move("box", "shelf", "rail"), move("pin", "rail", "deck", 2)),
    step(20, move("box", "rail", "deck")),
  ].map((each, at) => ({ ...each, step: { ...each.step, number: at + 1 } }));
  const [stage, ...others] = stagesOf(steps, inTurn(steps), made, [
    { item: "box", place: "shelf", count: 1 },
    { item: "pin", place: "rail", count: 3 },
  ]) as [Stage, ...Stage[]];
  expect(others).toEqual([]);
  expect(stage.parts).toEqual([
    { item: "box", count: 1, from: "shelf", to: "deck" },
    { item: "pin", count: 2, from: "rail", to: "deck" },
  ]);
  expect(written(stage.contents)).toEqual(["1 box deck", "1 pin rail", "2 pin deck"]);
  expect([stage.start, stage.end, stage.by]).toEqual([0, 30, ["lead"]]);
  expect(stagesOf([], { steps: [] }, made, [])).toEqual([]);
});
