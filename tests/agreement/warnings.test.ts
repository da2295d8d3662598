/**
 * Every output that shows a step shows its warnings and cautions, before it: step-through, printed card, device, and
 * the pages of changeovers, procedures and lessons. What is to be shown is collected here by another way than the
 * program's: down the file of each procedure, as a reader would.
 */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { layWalk } from "../../src/domain/device/walk.ts";
import { packPlatform, unpackPlatform } from "../../src/domain/device/pack.ts";
import type { Changeover } from "../../src/domain/states/changeover.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { plansBetween } from "../../src/domain/time/plans.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import { linesOf, sayInstruction } from "../../src/domain/words/say.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import type { Alert, Collection, Platform, Procedure, Step } from "../../src/schema/collection.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");
const { RERIG_SITE: site } = process.env;

const sayAlert = ({ children }: Alert) => children.flatMap(linesOf).join(" ");
const isDanger = ({ signal }: Alert) => signal !== "note";

/**
 * The warnings and cautions of a procedure in reading order, each with the step that follows it in the file: included
 * procedures are read where they are included.
 */
function readDown(platform: Platform, procedure: Procedure, steps: readonly Step[]): { alert: string; step: number }[] {
  const found: { alert: string; step: number }[] = [];
  let at = 0,
    waiting: string[] = [];
  const meet = (step: Step) => {
    const now = steps[at++]!;
    expect(sayInstruction(now)).toBe(sayInstruction(step));
    const own = [...step.alerts, ...step.alertsAfter].filter(isDanger).map(sayAlert);
    found.push(...[...waiting, ...own].map((alert) => ({ alert, step: now.number })));
    waiting = [];
  };
  const read = ({ purpose, sections }: Procedure): void => {
    for (const entry of [...purpose, ...sections.flatMap(({ entries }) => entries)])
      if (entry.kind === "alert") waiting.push(...(isDanger(entry) ? [sayAlert(entry)] : []));
      else if (entry.kind === "step") meet(entry);
      else if (entry.kind === "include") read(platform.procedures.find(({ id }) => id === entry.procedure)!);
  };
  read(procedure);
  return found;
}

/** What a changeover has to show: each alert with the index of the first step done that comes after it. */
function expected(platform: Platform, { steps }: Changeover): { alert: string; index: number }[] {
  return steps.flatMap(({ procedure, step }, index) => {
    const before = steps[index - 1];
    const isTop = before?.procedure !== procedure || before.step.number >= step.number;
    return readDown(platform, procedure, procedure.steps)
      .filter((each) => each.step <= step.number && (isTop || each.step > before.step.number))
      .map(({ alert }) => ({ alert, index }));
  });
}

describe.each(COLLECTIONS)("warnings and cautions of %s", (folder) => {
  let collection: Collection;
  const changeovers: { platform: Platform; pair: string; changeover: Changeover; at: number }[] = [];
  beforeAll(async () => {
    collection = await readCollection(join(root, folder));
    for (const platform of collection.platforms) {
      const model = modelOf(platform),
        bare = model.arrangements.filter(({ options }) => options.length === 0);
      for (const from of bare)
        for (const to of bare.filter((each) => each !== from))
          plansBetween(model, collection.service, from, to)
            .flatMap(({ changeover }) => changeover ?? [])
            .forEach((changeover, at) =>
              changeovers.push({ platform, pair: `${from.name}--${to.name}`, changeover, at }),
            );
    }
  });

  it("are there at all", () => {
    expect(changeovers.length).toBeGreaterThan(0);
    if (folder === "procedures")
      expect(changeovers.flatMap((each) => expected(each.platform, each.changeover)).length).toBeGreaterThan(20);
  });

  it("stand before their step in every step-through", () => {
    for (const { platform, changeover } of changeovers) {
      const { crew } = collection.service,
        people = crew.map(({ id }) => id);
      const walk = layWalk(changeover, planTimeline(changeover.steps, people, platform, 0), platform, crew, "");
      const shown = [...walk.stops, walk.reading!]
        .toSorted((a, b) => a.number - b.number)
        .flatMap(({ number, alerts }) =>
          alerts.filter(({ signal }) => signal !== "note").map(({ text }) => ({ alert: text, index: number - 1 })),
        );
      expect(shown).toEqual(expected(platform, changeover));
    }
  });

  it("are the same in the step-through that a device works out", () => {
    for (const { platform, changeover } of changeovers) {
      const unpacked = unpackPlatform(packPlatform(platform, collection.service));
      const sameSteps = changeover.steps.map(({ procedure, step }) => {
        const own = unpacked.platform.procedures.find(({ id }) => id === procedure.id);
        // The reading that the planner adds is of no file.
        if (!own) return { procedure, step };
        return { procedure: own, step: own.steps.find(({ number }) => number === step.number)! };
      });
      const { crew } = collection.service,
        timeline = planTimeline(
          sameSteps,
          crew.map(({ id }) => id),
          unpacked.platform,
          0,
        );
      const walk = layWalk({ ...changeover, steps: sameSteps }, timeline, unpacked.platform, crew, "");
      const shown = [...walk.stops, walk.reading!]
        .toSorted((a, b) => a.number - b.number)
        .flatMap(({ number, alerts }) =>
          alerts.filter(({ signal }) => signal !== "note").map(({ text }) => ({ alert: text, index: number - 1 })),
        );
      expect(shown).toEqual(expected(platform, changeover));
    }
  });

  it("stand before their step on every printed card", () => {
    for (const { platform, pair, changeover, at } of changeovers) {
      if ([changeover.from, changeover.to].some((id) => isWithdrawn(platform, id))) continue;
      const card = changeoverCards(collection, platform)(pair)[at]!;
      const lines = card.parts.flatMap((part) => part.lines).filter(({ kind }) => kind !== "pause");
      const shown: { alert: string; index: number }[] = [];
      let waiting: string[] = [],
        index = 0;
      for (const line of lines)
        if (line.kind === "alarm") waiting.push(line.text);
        else {
          shown.push(...waiting.map((alert) => ({ alert, index })));
          waiting = [];
          index += 1;
        }
      expect(waiting).toEqual([]);
      expect(index).toBe(changeover.steps.length);
      expect(shown).toEqual(expected(platform, changeover));
    }
  });
});

const isWithdrawn = (platform: Platform, id: string) =>
  platform.configurations.find((configuration) => configuration.id === id)?.status === "withdrawn";

/** The words of a page, white space folded; what is read by eye, scripts left out. */
function wordsOf(path: string): string {
  const html = readFileSync(join(site!, path, "index.html"), "utf8");
  return fold(
    html
      .replace(/<script\b[^]*?<\/script>/g, "")
      .replace(/<[^>]*>/g, " ")
      .replace(/&quot;|&#34;/g, '"')
      .replace(/&#39;/g, "'")
      .replace(/&lt;/g, "<")
      .replace(/&gt;/g, ">")
      .replace(/&amp;/g, "&"),
  );
}
const fold = (text: string) => text.replace(/\s+/g, " ").replace(/ ([,.;:!?’”)])/g, "$1");

describe.skipIf(!site)("warnings and cautions on the demo's pages", () => {
  let collection: Collection;
  beforeAll(async () => {
    collection = await readCollection(join(root, "procedures"));
  });

  it("stand on every page of a changeover and of its card, before their step", () => {
    for (const platform of collection.platforms) {
      const model = modelOf(platform),
        bare = model.arrangements.filter(({ options }) => options.length === 0);
      for (const from of bare)
        for (const to of bare.filter((each) => each !== from)) {
          const plans = plansBetween(model, collection.service, from, to);
          const base = `${platform.id}/changeovers/${from.name}--${to.name}`;
          const pages = isWithdrawn(platform, from.name) || isWithdrawn(platform, to.name) ? [] : ["", "/card"];
          for (const [page, words] of pages.map((each) => [each, wordsOf(base + each)] as const))
            for (const { changeover } of plans)
              for (const { alert, index } of changeover ? expected(platform, changeover) : []) {
                const instruction = fold(sayInstruction(changeover!.steps[index]!.step));
                const at = words.indexOf(fold(alert));
                expect(at, `${base}${page}: ${alert}`).toBeGreaterThanOrEqual(0);
                expect(words.indexOf(instruction, at), `${base}${page}: ${instruction}`).toBeGreaterThan(at);
              }
        }
    }
  });

  it("stand on every page of a procedure and of its lesson", () => {
    for (const platform of collection.platforms)
      for (const procedure of platform.procedures)
        for (const kind of ["procedures", "study"]) {
          const words = wordsOf(`${platform.id}/${kind}/${procedure.id}`);
          for (const { alert } of readDown(platform, procedure, procedure.steps))
            expect(words, `${kind}/${procedure.id}`).toContain(fold(alert));
        }
  });
});
