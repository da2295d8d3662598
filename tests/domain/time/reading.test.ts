/**
 * The card is read once, at the end of every changeover (common practice, no source: what is put on after the reading
 * is looked at by nobody). The demo and small invented platforms.
 */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { buildModel, modelOf } from "../../../src/domain/states/model.ts";
import { PHASES, phaseOf } from "../../../src/domain/parts/phase.ts";
import { pageOfProcedure } from "../../../src/domain/parts/reading.ts";
import { planFor, plansBetween } from "../../../src/domain/time/plans.ts";
import { planTimeline } from "../../../src/domain/time/timeline.ts";
import { layWalk } from "../../../src/domain/device/walk.ts";
import type { Collection } from "../../../src/schema/collection.ts";
import {
  makeConfiguration,
  makeItem,
  makeOption,
  makePlace,
  makePlatform,
  makeProcedure,
  makeStep,
  move,
  WHERE,
} from "../parts/make.ts";
import { readCollection } from "../../read-collection.ts";

describe("every changeover between two arrangements of the demo, options included", () => {
  let collection: Collection;
  beforeAll(async () => {
    collection = await readCollection(join(import.meta.dirname, "../../../procedures"));
  });

  it("reads the card once, after everything else has ended, and begins with what confirms", () => {
    const platform = collection.platforms[0]!,
      { service } = collection,
      crew = service.crew.map(({ id }) => id),
      model = modelOf(platform);
    let plans = 0,
      added = 0;
    for (const from of model.arrangements)
      for (const to of model.arrangements) {
        if (from === to) continue;
        for (const { changeover } of plansBetween(model, service, from, to)) {
          plans++;
          const { steps, procedures } = changeover!;
          const says = steps.map(({ step }) => step.readsCard !== undefined || /^Read the .* card/.test(sayOf(step)));
          if (steps.at(-1)!.procedure.id.startsWith("card/")) added++;
          expect([changeover!.to, says.indexOf(true), says.filter(Boolean).length]).toEqual([
            to.name,
            steps.length - 1,
            1,
          ]);
          const { steps: timed, elapsed } = planTimeline(steps, crew, platform, 0);
          expect(Math.max(...timed.slice(0, -1).map(({ end }) => end))).toBeLessThanOrEqual(timed.at(-1)!.start);
          expect(timed.at(-1)!.end).toBe(elapsed);
          const phases = procedures.map((procedure) => PHASES.indexOf(phaseOf(platform, procedure)));
          expect(phases.lastIndexOf(0)).toBe(phases.filter((phase) => phase === 0).length - 1);
        }
      }
    expect([plans >= 36 * 35, added > 0, added < plans]).toEqual([true, true, true]);
  });
});

const sayOf = ({ instruction }: { readonly instruction: { readonly children: readonly unknown[] } }) =>
  instruction.children.map((child) => (child as { text?: string }).text ?? "").join("");

describe("the reading", () => {
  const reads = { readsCard: WHERE, by: ["second"], takesSeconds: 60 };
  const collection = (first: object, second: object) =>
    makePlatform({
      places: [makePlace("deck"), makePlace("rail"), makePlace("store", { kind: "store" })],
      items: [makeItem("bed"), makeItem("lamp")],
      procedures: [
        makeProcedure("a-bed", [
          makeStep({ by: ["lead"], operations: [move("bed", "store", "deck")] }),
          makeStep({ number: 2, ...first }),
        ]),
        makeProcedure("b-lamp", [
          makeStep({ by: ["lead"], operations: [move("lamp", "store", "rail")] }),
          makeStep({ number: 2, ...second }),
        ]),
      ],
      configurations: [
        makeConfiguration("bare", { title: "Bare deck", options: [{ id: "lit", where: WHERE }] }),
        makeConfiguration("bed", {
          title: "Bed",
          options: [{ id: "lit", where: WHERE }],
          fitted: [{ place: "deck", item: "bed", count: 1, where: WHERE }],
        }),
      ],
      options: [makeOption("lit", { fitted: [{ place: "rail", item: "lamp", count: 1, where: WHERE }] })],
    });
  const crew = [
    { id: "lead", name: "Lead", where: WHERE, at: {} },
    { id: "second", name: "Second", where: WHERE, at: {} },
  ];
  const planOf = (platform: ReturnType<typeof collection>, name = "bed+lit") => {
    const model = buildModel(platform);
    const to = model.arrangements.find((arrangement) => arrangement.name === name)!;
    return planFor(model, { crew }, model.arrangements[0]!, to, {})!;
  };
  const said = (platform: ReturnType<typeof collection>, name?: string) =>
    planOf(platform, name).steps.map(({ procedure, step }) => `${procedure.id} ${step.number}`);

  it("is the author's step, moved to the end, where one says that it reads the card", () => {
    expect(said(collection(reads, {}))).toEqual(["a-bed 1", "b-lamp 1", "b-lamp 2", "a-bed 2"]);
  });

  it("is the last of several such steps; the others are left out, and their time too", () => {
    const plan = collection(reads, reads);
    expect(said(plan)).toEqual(["a-bed 1", "b-lamp 1", "b-lamp 2"]);
    expect(planOf(plan).seconds).toBe(20 + 20 + 60);
  });

  it("is added by the tool where no step reads the card, holds everybody, and leads to the card", () => {
    const plan = planOf(collection({}, {}), "bare+lit"),
      { procedure, step } = plan.steps.at(-1)!;
    expect([procedure.id, step.hold, step.by, sayOf(step)]).toEqual([
      "card/bare",
      true,
      ["lead", "second"],
      "Read the bare deck card aloud, top to bottom.",
    ]);
    expect(plan.procedures.map(({ id }) => id)).toEqual(["b-lamp"]);
    expect(pageOfProcedure("tern", procedure.id)).toBe("tern/cards/bare/");
    expect(pageOfProcedure("tern", "b-lamp")).toBe("tern/procedures/b-lamp/");
  });

  it("waits for a step that runs beside it, and comes after the count on a device", () => {
    const platform = collection(reads, { by: ["lead"], takesSeconds: 100 }),
      plan = planOf(platform);
    const timeline = planTimeline(plan.steps, ["lead", "second"], platform);
    expect(timeline.steps.at(-1)).toMatchObject({ start: 140, end: 200 });
    const walk = layWalk(plan, timeline, platform, crew, "Bare to bed");
    expect(walk.stops.map(({ procedure, step }) => `${procedure} ${step}`)).toEqual([
      "a-bed 1",
      "b-lamp 1",
      "b-lamp 2",
    ]);
    expect(walk.reading).toMatchObject({ procedure: "a-bed", step: 2 });
  });

  it("leaves a step in its place that moves something, though it says that it reads the card", () => {
    const moving = { readsCard: WHERE, operations: [move("lamp", "store", "rail")] };
    const platform = collection({ readsCard: WHERE }, {});
    const [bed, lamp] = platform.procedures;
    const mended = {
      ...platform,
      procedures: [bed!, { ...lamp!, steps: [makeStep({ procedure: "b-lamp", ...moving })] }],
    };
    expect(said(mended)).toEqual(["a-bed 1", "b-lamp 1", "a-bed 2"]);
  });
});
