/**
 * Every output that shows a step shows its warnings and cautions, before it: step-through, printed card, device,
 * drill, sign-off record, and the pages of changeovers, procedures and lessons. What is to be shown is collected here
 * by another way than the program's: down the file of each procedure, as a reader would.
 */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { drillOf, stepsBefore } from "../../src/domain/after/drill.ts";
import { sayDrill } from "../../src/domain/after/say-drill.ts";
import { firstQuestionsOn } from "../../src/domain/bands/doubts.ts";
import { layWalk } from "../../src/domain/device/walk.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { packPlatform, unpackPlatform } from "../../src/domain/device/pack.ts";
import type { Changeover } from "../../src/domain/states/changeover.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { plansBetween } from "../../src/domain/time/plans.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import { linesOf, sayInstruction } from "../../src/domain/words/say.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import type { Alert, Collection, Platform, Procedure, Step } from "../../src/schema/collection.ts";
import { signOffRecord } from "../../src/site/records/sign-off-pages.ts";
import { makeSite } from "../../src/site/site.ts";
import { wordsFor } from "../../src/words/words.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";
import { fold, wordsOfPage } from "./words-of.ts";

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
    // What is in force, as every output has it: of a configuration in review its last issue.
    collection = forceOn(await readCollection(join(root, folder)), "2026-11-28").collection;
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

  it("stand before their step in the key of every drill, of one in which the call changes too", () => {
    let told = 0;
    for (const platform of collection.platforms) {
      const { service } = collection,
        questions = firstQuestionsOn(collection, platform);
      for (let seed = 1; seed <= 12; seed++) {
        const drill = drillOf(platform, { ...service, questions }, seed);
        if (drill?.key.kind !== "changeover") continue;
        const { key } = drill,
          lines = sayDrill(drill, platform, service.crew, wordsFor(service).drill).key.flatMap((block) => block.lines);
        const shown: { index: number; alerts: string[] }[] = [];
        let waiting: string[] = [];
        for (const line of lines) {
          const [, number] = /^(\d+)\. \d+:\d\d /.exec(line) ?? [],
            [, alert] = /^(?:WARNING|CAUTION): (.*)$/s.exec(line) ?? [];
          if (alert !== undefined) waiting.push(alert);
          else if (number !== undefined) {
            shown.push({ index: Number(number) - 1, alerts: waiting });
            waiting = [];
          }
        }
        expect(waiting).toEqual([]);
        told += shown.flatMap(({ alerts }) => alerts).length;
        const steps = key.change ? [...stepsBefore(key, key.change), ...key.change.timeline.steps] : key.timeline.steps;
        expect(shown.map(({ index }) => index)).toEqual(steps.map(({ index }) => index));
        steps.forEach(({ step }, at) => {
          const own = [...step.alerts, ...step.alertsAfter].filter(isDanger).map(sayAlert);
          expect(shown[at]!.alerts, `drill ${seed}, line ${at}`).toEqual(expect.arrayContaining(own));
        });
        // Two procedures may be done at once: which of their alerts stand before which first step is asked above.
        if (!key.change)
          expect(new Set(shown.flatMap(({ alerts }) => alerts))).toEqual(
            new Set(expected(platform, key.changeover).map(({ alert }) => alert)),
          );
      }
    }
    expect(told > 0 || folder !== "procedures").toBe(true);
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

describe.each(COLLECTIONS)("warnings and cautions of the arrangements of %s", (folder) => {
  it("stand before the first line of their sign-off record, as on their card", async () => {
    const files = await readCollection(join(root, folder)),
      site = makeSite(join(root, folder), files, "2026-11-28");
    for (const platform of site.collection.platforms)
      for (const configuration of platform.configurations) {
        const written = configuration.body.flatMap((block) => (block.kind === "alert" ? [block] : [])).filter(isDanger);
        const { lines, dangers } = signOffRecord(site, platform, configuration);
        expect(lines.length > 0 ? (dangers[0] ?? []).map(sayAlert) : []).toEqual(
          lines.length > 0 ? written.map(sayAlert) : [],
        );
        if (folder === "procedures") expect(written.length).toBeGreaterThan(0);
      }
  }, 120_000);
});

const isWithdrawn = (platform: Platform, id: string) =>
  platform.configurations.find((configuration) => configuration.id === id)?.status === "withdrawn";

const wordsOf = (path: string): string => wordsOfPage(readFileSync(join(site!, path, "index.html"), "utf8"));

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

  it("stand in every sign-off record whose line they belong to", () => {
    let found = 0;
    for (const platform of collection.platforms)
      for (const procedure of platform.procedures) {
        const words = wordsOf(`${platform.id}/sign-off/${procedure.id}`);
        for (const { alert, step } of readDown(platform, procedure, procedure.steps)) {
          const instruction = fold(sayInstruction(procedure.steps.find(({ number }) => number === step)!));
          if (!words.includes(instruction)) continue;
          found++;
          expect(words.indexOf(fold(alert)), `${procedure.id}: ${alert}`).toBeGreaterThanOrEqual(0);
          expect(words.indexOf(instruction, words.indexOf(fold(alert))), procedure.id).toBeGreaterThan(0);
        }
      }
    expect(found).toBeGreaterThan(30);
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
