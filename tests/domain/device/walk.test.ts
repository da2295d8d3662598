/**
 * The walk: every step once, in an order in which it can be done, alerts never lost, groups that begin where a crew can
 * begin again.
 */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { graphFor, planAll } from "../../../src/domain/states/changeover.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { planTimeline, type Timeline } from "../../../src/domain/time/timeline.ts";
import { type Walk, layWalk } from "../../../src/domain/device/walk.ts";
import { alertsBefore } from "../../../src/domain/parts/plan-alerts.ts";
import { linesOf } from "../../../src/domain/words/say.ts";
import type { Crew } from "../../../src/schema/collection.ts";
import {
  makeFastening,
  makeItem,
  makePlace,
  makePlatform,
  makeProcedure,
  makeStep,
  move,
  turn,
  WHERE,
} from "../parts/make.ts";
import { readCollection } from "../../read-collection.ts";

const crew: Crew[] = ["lead", "second"].map((id) => ({ where: WHERE, at: {}, id, name: id }));
const say = (text: string) => ({
  kind: "paragraph" as const,
  children: [{ kind: "text" as const, text, where: WHERE }],
  where: WHERE,
});
const alert = (text: string) => ({
  kind: "alert" as const,
  signal: "warning" as const,
  children: [say(text)],
  where: WHERE,
});

describe("every walk of the sled and of the demo", () => {
  const STORES = ["Kit room", "Charging shelf", "Gas store", "Vehicle locker"];
  const all: { walk: Walk; timeline: Timeline; people: number; parts: number }[] = [];
  beforeAll(async () => {
    for (const folder of ["../../../procedures", "../../fixtures/collections/sled"]) {
      const { platforms, service } = await readCollection(join(import.meta.dirname, folder));
      const platform = platforms[0]!,
        model = buildModel(platform),
        bare = model.arrangements.filter(({ options }) => options.length === 0);
      const graph = graphFor(model, {});
      for (const from of bare)
        for (const changeover of planAll(
          model,
          graph,
          from,
          bare.filter((to) => to !== from),
        )) {
          if (!changeover) continue;
          const timeline = planTimeline(
            changeover.steps,
            service.crew.map(({ id }) => id),
            platform,
            0,
          );
          all.push({
            walk: layWalk(changeover, timeline, platform, service.crew, ""),
            timeline,
            people: service.crew.length,
            parts: changeover.parts.length,
          });
        }
    }
    expect(all.length).toBeGreaterThan(6);
  });
  it("ask nobody to touch at the platform what is in a store (the demo's four, by their names)", () => {
    const counted = all.flatMap(({ walk }) => (walk.platform === "tern" ? walk.count : []));
    expect(counted.map(({ away }) => away)).toEqual(counted.map(({ place }) => STORES.includes(place)));
    expect(new Set(counted.map(({ away }) => away)).size).toBe(2);
  });
  it("has every step once, none before the steps that it waits for", () => {
    for (const { walk, timeline } of all) {
      expect(
        [...walk.stops, ...(walk.reading ? [walk.reading] : [])].map(({ number }) => number).toSorted((a, b) => a - b),
      ).toEqual(timeline.steps.map((_, at) => at + 1));
      const started = walk.stops.map(({ number }) => timeline.steps[number - 1]!.start);
      expect(started).toEqual(started.toSorted((a, b) => a - b));
    }
  });
  it("says what each other person does meanwhile", () => {
    for (const { walk, timeline, people } of all)
      for (const { number, meanwhile } of walk.stops)
        expect(meanwhile.length).toBe(people - timeline.steps[number - 1]!.by.length);
  });
  it("begins a group after every hold, and never in the middle of what is held together by one", () => {
    for (const {
      walk: { stops },
    } of all)
      stops.forEach((stop, at) => {
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
  const one = makeProcedure("one", [
    makeStep({ by: ["lead"], instruction: say("First") }),
    makeStep({ by: ["lead"], instruction: say("Second"), alerts: [alert("own")] }),
  ]);
  const procedure = {
    ...one,
    sections: [
      { title: "", where: WHERE, entries: [alert("before all"), one.steps[0]!, alert("between"), one.steps[1]!] },
    ],
  };
  const walkOf = (numbers: readonly number[]) => {
    const steps = procedure.steps.filter(({ number }) => numbers.includes(number)).map((step) => ({ procedure, step })),
      platform = makePlatform({ procedures: [procedure] });
    return layWalk(
      { from: "a", to: "b", procedures: [procedure], steps, seconds: 0, parts: [], undone: [] },
      planTimeline(steps, ["lead", "second"], platform, 0),
      platform,
      crew,
      "",
    ).stops.map(({ alerts }) => alerts.map(({ text }) => text));
  };
  it("stand before the step that they precede, with the step's own", () =>
    expect(walkOf([1, 2])).toEqual([["before all"], ["between", "own"]]));
  it("stand again when the procedure is run again, and not after its last step", () => {
    const again = [...procedure.steps, ...procedure.steps].map((step) => ({ procedure, step })),
      platform = makePlatform({ procedures: [procedure] });
    const { stops } = layWalk(
      { from: "a", to: "b", procedures: [procedure, procedure], steps: again, seconds: 0, parts: [], undone: [] },
      planTimeline(again, ["lead", "second"], platform, 0),
      platform,
      crew,
      "",
    );
    expect(stops.map(({ alerts }) => alerts.map(({ text }) => text))).toEqual([
      ["before all"],
      ["between", "own"],
      ["before all"],
      ["between", "own"],
    ]);
    expect(
      alertsBefore(
        {
          purpose: [alert("purpose")],
          sections: [
            {
              title: "",
              where: WHERE,
              entries: [
                { kind: "include", procedure: "two", steps: [procedure.steps[1]!], where: WHERE, at: {} },
                alert("last"),
              ],
            },
          ],
        } as never,
        new Map(),
      ).map(({ number, alert: { signal } }) => [number, signal]),
    ).toEqual([[2, "warning"]]);
  });
  it("move to the next step when theirs is not for the patient", () =>
    expect(walkOf([2])).toEqual([["before all", "between", "own"]]));
});

describe("a walk of two procedures for two persons (invented case)", () => {
  const platform = makePlatform({
    places: [makePlace("deck", { name: "Deck" }), makePlace("tray", { name: "Tray", kind: "stowage" })],
    items: [makeItem("pin", { name: "Pin", home: "tray", count: 4 }), makeItem("base", { name: "Base" })],
    fastenings: [makeFastening("lever", ["deck"], { name: "Deck lever" })],
  });
  const first = makeProcedure("first", [
    makeStep({
      by: ["lead"],
      takesSeconds: 10,
      instruction: say("Open the lever."),
      operations: [
        turn("lever", "out"),
        turn("loose", "in"),
        move("pin", "tray", "aside", 2),
        move("thing", "deck", "yard"),
      ],
    }),
    makeStep({
      by: ["second"],
      takesSeconds: 4,
      instruction: say("CO2 off."),
      photos: [{ id: "valve", where: WHERE }],
      checks: [
        { challenge: "Valve", answer: "shut", by: ["second"], where: WHERE, at: {} },
        { challenge: "Seal", answer: "whole", by: [], where: WHERE, at: {} },
      ],
    }),
    makeStep({ by: ["second"], takesSeconds: 3, instruction: say("Look up.") }),
    makeStep({
      by: ["lead", "second"],
      hold: true,
      critical: true,
      takesSeconds: 5,
      instruction: say("Lift."),
      detail: [
        say("By the grips."),
        {
          kind: "list",
          ordered: false,
          start: 1,
          items: [[say("left")], [say("right"), say("both hands")]],
          where: WHERE,
        } as never,
      ],
    }),
  ]);
  const second = makeProcedure("second", [
    makeStep({ by: ["lead"], takesSeconds: 6, instruction: say("Sit.") }),
    makeStep({ by: ["second"], takesSeconds: 2, instruction: say("Stand.") }),
    makeStep({ by: ["second"], takesSeconds: 0, instruction: say("Call.") }),
  ]);
  const steps = [first, second].flatMap((procedure) => procedure.steps.map((step) => ({ procedure, step })));
  const changeover = {
    from: "a",
    to: "b",
    procedures: [first, second],
    steps,
    seconds: 30,
    undone: [],
    parts: [
      { item: "pin", count: 4, from: "deck", to: "tray" },
      { item: "base", count: 1, from: "store", to: "deck" },
      { item: "base", count: 1, from: "deck", to: "rail" },
    ],
  };
  const walk = layWalk(changeover, planTimeline(steps, ["lead", "second"], platform, 0), platform, crew, "A to B");

  it("goes by the time at which steps start, then as written, and says what the other does meanwhile", () => {
    expect(walk.stops.map(({ number, meanwhile, group }) => [number, ...meanwhile, group])).toEqual([
      [1, "Second: 2, CO2 off. Then 3, look up.", 0],
      [2, "Lead: 1, open the lever.", 0],
      [3, "Lead: 1, open the lever.", 0],
      [4, 0],
      [5, "Second: 6, stand. Then 7, call.", 4],
      [6, "Lead: 5, sit.", 4],
      [7, "Lead: 5, sit.", 4],
    ]);
  });
  it("says who waits and for which step, and who has nothing left to do", () => {
    // Lead does 10 s; second has 4 s and then waits for the hold; after it lead works alone.
    const only = makeProcedure("only", [
      makeStep({ by: ["lead"], takesSeconds: 2, instruction: say("One.") }),
      makeStep({ by: ["second"], takesSeconds: 1, instruction: say("Two.") }),
      makeStep({ by: ["lead"], takesSeconds: 8, instruction: say("Three.") }),
      makeStep({ by: ["lead"], hold: true, takesSeconds: 1, instruction: say("Four.") }),
      makeStep({ by: ["lead"], takesSeconds: 1, instruction: say("Five.") }),
    ]);
    const run = only.steps.map((step) => ({ procedure: only, step }));
    const laid = layWalk(
      { ...changeover, procedures: [only], steps: run, parts: [] },
      planTimeline(run, ["lead", "second"], platform, 0),
      platform,
      crew,
      "",
    );
    expect(laid.stops.map(({ number, meanwhile }) => [number, ...meanwhile])).toEqual([
      [1, "Second: 2, two."],
      [2, "Lead: 1, one."],
      [3, "Second: waits for step 3."],
      [4],
      [5, "Second: has nothing left to do."],
    ]);
  });
  it("says moves, turns, checks, photos and details in words, and unknown ids as they are", () => {
    expect(walk.stops[0]).toMatchObject({
      procedure: "first",
      step: 1,
      who: "Lead",
      text: "Open the lever.",
      takes: "10 s",
      acts: [
        "Turn Deck lever → out",
        "Turn loose → in",
        "Move 2 × Pin: Tray → Aside, within reach",
        "Move 1 × thing: Deck → yard",
      ],
      critical: false,
      hold: false,
      checks: [],
      photos: [],
      detail: [],
    });
    expect(walk.stops[1]).toMatchObject({
      checks: [
        { challenge: "Valve", answer: "shut", who: "Second" },
        { challenge: "Seal", answer: "whole", who: "" },
      ],
      photos: ["valve"],
    });
    expect(walk.stops[3]).toMatchObject({
      critical: true,
      hold: true,
      detail: ["By the grips.", "left", "right", "both hands"],
    });
  });
  it("counts at the end what goes out, comes in and has moved, and has a key of its own", () => {
    expect(walk.count).toEqual([
      { list: "out", count: 4, item: "Pin", place: "Tray", stowed: true, away: false },
      { list: "in", count: 1, item: "Base", place: "Deck", stowed: false, away: false },
      { list: "moved", count: 1, item: "Base", place: "rail", stowed: false, away: false },
    ]);
    expect([walk.title, walk.people, walk.key]).toEqual([
      "A to B",
      ["Lead", "Second"],
      "tern a b first@1:1,2,3,4 second@1:1,2,3",
    ]);
  });
});

describe("plain lines of a block", () => {
  it("are its paragraphs, entries, rows and code, and nothing of what has no words", () => {
    const cell = (text: string) => say(text).children;
    const blocks = [
      say("a"),
      { kind: "quote", children: [say("b"), say("c")] },
      {
        kind: "table",
        rows: [
          [cell("d"), cell("e")],
          [cell("f"), cell("g")],
        ],
      },
      { kind: "code", text: "h" },
      { kind: "heading", level: 2, children: cell("i") },
      { kind: "rule" },
    ] as unknown as Parameters<typeof linesOf>[0][];
    expect(blocks.flatMap(linesOf)).toEqual(["a", "b", "c", "d, e", "f, g", "h", "i"]);
  });
});

describe("the key of a walk", () => {
  const keyFor = (revision: number) => {
    const procedure = { ...makeProcedure("one", [makeStep()]), revision },
      steps = procedure.steps.map((step) => ({ procedure, step })),
      platform = makePlatform();
    return layWalk(
      { from: "a", to: "b", procedures: [procedure], steps, seconds: 0, parts: [], undone: [] },
      planTimeline(steps, ["lead"], platform, 0),
      platform,
      crew,
      "",
    ).key;
  };
  it("is another one for another revision, so that nobody goes on in changed steps", () =>
    expect(keyFor(1)).not.toBe(keyFor(2)));
});
