/** The walk: every step once, in an order in which it can be done, alerts never lost, groups that begin where a crew can begin again. */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { graphFor, planAll } from "../../src/domain/changeover.ts";
import { buildModel } from "../../src/domain/model.ts";
import { planTimeline, type Timeline } from "../../src/domain/timeline.ts";
import { type Walk, layWalk } from "../../src/domain/walk.ts";
import { Findings } from "../../src/findings/finding.ts";
import type { Crew } from "../../src/schema/collection.ts";
import { makePlatform, makeProcedure, makeStep, WHERE } from "./make.ts";

const crew: Crew[] = ["lead", "second"].map((id) => ({ where: WHERE, at: {}, id, name: id }));
const say = (text: string) => ({ kind: "paragraph" as const, children: [{ kind: "text" as const, text, where: WHERE }], where: WHERE });
const alert = (text: string) => ({ kind: "alert" as const, signal: "warning" as const, children: [say(text)], where: WHERE });

describe("every walk of the sled and of the demo", () => {
  const all: { walk: Walk; timeline: Timeline; people: number; parts: number }[] = [];
  beforeAll(async () => {
    for (const folder of ["../../procedures", "../fixtures/collections/sled"]) {
      const { platforms, service } = await loadCollection(join(import.meta.dirname, folder), new Findings());
      const platform = platforms[0]!, model = buildModel(platform), bare = model.arrangements.filter(({ options }) => options.length === 0);
      const graph = graphFor(model, {});
      for (const from of bare) for (const changeover of planAll(model, graph, from, bare.filter((to) => to !== from))) {
        if (!changeover) continue;
        const timeline = planTimeline(changeover.steps, service.crew.map(({ id }) => id), platform, 0);
        all.push({ walk: layWalk(changeover, timeline, platform, service.crew, ""), timeline, people: service.crew.length, parts: changeover.parts.length });
      }
    }
    expect(all.length).toBeGreaterThan(6);
  });
  it("has every step once, none before the steps that it waits for", () => {
    for (const { walk, timeline } of all) {
      expect(walk.stops.map(({ number }) => number).toSorted((a, b) => a - b)).toEqual(timeline.steps.map((_, at) => at + 1));
      const started = walk.stops.map(({ number }) => timeline.steps[number - 1]!.start);
      expect(started).toEqual(started.toSorted((a, b) => a - b));
    }
  });
  it("says what each other person does meanwhile", () => {
    for (const { walk, timeline, people } of all) for (const { number, meanwhile } of walk.stops) expect(meanwhile.length).toBe(people - timeline.steps[number - 1]!.by.length);
  });
  it("begins a group after every hold, and never in the middle of what is held together by one", () => {
    for (const { walk: { stops } } of all) stops.forEach((stop, at) => {
      expect(stop.group).toBeLessThanOrEqual(at);
      if (stops[at - 1]?.hold) expect(stop.group).toBe(at);
      expect(stops.slice(stop.group, at).some(({ hold }) => hold)).toBe(false);
    });
  });
  it("counts every net part", () => {
    for (const { walk, parts } of all) expect(walk.count).toHaveLength(parts);
  });
});

describe("alerts of a procedure", () => {
  const one = makeProcedure("one", [makeStep({ by: ["lead"], instruction: say("First") }), makeStep({ by: ["lead"], instruction: say("Second"), alerts: [alert("own")] })]);
  const procedure = { ...one, sections: [{ title: "", where: WHERE, entries: [alert("before all"), one.steps[0]!, alert("between"), one.steps[1]!] }] };
  const walkOf = (numbers: readonly number[]) => {
    const steps = procedure.steps.filter(({ number }) => numbers.includes(number)).map((step) => ({ procedure, step })), platform = makePlatform({ procedures: [procedure] });
    return layWalk({ from: "a", to: "b", procedures: [procedure], steps, seconds: 0, parts: [], undone: [] }, planTimeline(steps, ["lead", "second"], platform, 0), platform, crew, "").stops.map(({ alerts }) => alerts.map(({ text }) => text));
  };
  it("stand before the step that they precede, with the step's own", () => expect(walkOf([1, 2])).toEqual([["before all"], ["between", "own"]]));
  it("move to the next step when theirs is not for the patient", () => expect(walkOf([2])).toEqual([["before all", "between", "own"]]));
});

describe("the key of a walk", () => {
  const keyFor = (revision: number) => {
    const procedure = { ...makeProcedure("one", [makeStep()]), revision }, steps = procedure.steps.map((step) => ({ procedure, step })), platform = makePlatform();
    return layWalk({ from: "a", to: "b", procedures: [procedure], steps, seconds: 0, parts: [], undone: [] }, planTimeline(steps, ["lead"], platform, 0), platform, crew, "").key;
  };
  it("is another one for another revision, so that nobody goes on in changed steps", () => expect(keyFor(1)).not.toBe(keyFor(2)));
});
