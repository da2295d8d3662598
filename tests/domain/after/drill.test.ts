/**
 * Drills against brute force over many seeds and collections: the patient is in the band and of a usual weight, a naive
 * second run of the key's steps ends in its arrangement, and the pieces that are there are enough for it. The weights
 * are those of the WHO tables (named in `growth.ts`); the scenarios are invented.
 */
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { type Drill, drillOf, type DrillService } from "../../../src/domain/after/drill.ts";
import { sayDrill } from "../../../src/domain/after/say-drill.ts";
import { choose } from "../../../src/domain/bands/choose.ts";
import { firstQuestionsOn } from "../../../src/domain/bands/doubts.ts";
import { readAge, readWeight } from "../../../src/domain/bands/entry.ts";
import { isUnusual } from "../../../src/domain/bands/growth.ts";
import { packPlatform, unpackPlatform } from "../../../src/domain/device/pack.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { type Arrangement, validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { Findings } from "../../../src/findings/finding.ts";
import type { Crew, Platform } from "../../../src/schema/collection.ts";
import { naiveAct, naiveEnd, naiveStart, naiveStates } from "../states/naive-run.ts";

const root = resolve(import.meta.dirname, "../../..");
const SEEDS = 60;

/** Pieces of an item that an arrangement fits away from their home. */
const fits = ({ contents }: Arrangement, item: string, home: string) =>
  contents.filter((each) => each.item === item && each.place !== home).reduce((sum, { count }) => sum + count, 0);

describe.each(["procedures", "tests/fixtures/collections/sled", "tests/fixtures/collections/theatre"])(
  "drills of %s",
  (folder) => {
    let all: { platform: Platform; service: DrillService; crew: readonly Crew[]; drills: Drill[] }[];
    beforeAll(async () => {
      const { collection } = forceOn(await loadCollection(join(root, folder), new Findings()), "2026-11-28");
      all = collection.platforms.map((platform) => {
        const service = { ...collection.service, questions: firstQuestionsOn(collection, platform) };
        const drills = Array.from({ length: SEEDS }, (_, seed) => drillOf(platform, service, seed)).filter(
          (drill) => drill !== undefined,
        );
        return { platform, service, crew: collection.service.crew, drills };
      });
    }, 120_000);

    it("exist for every seed, differ, and are the same on page and command", () => {
      for (const { platform, service, crew, drills } of all) {
        expect(drills).toHaveLength(SEEDS);
        expect(new Set(drills.map(({ from, patient }) => `${from.name} ${patient.said.weight}`)).size).toBeGreaterThan(
          10,
        );
        const unpacked = unpackPlatform(packPlatform(platform, { crew: [...crew], band: service.band }));
        for (const drill of drills.slice(0, 12)) {
          const there = drillOf(
            unpacked.platform,
            { ...service, crew: unpacked.crew, band: unpacked.service },
            drill.seed,
          )!;
          expect(sayDrill(there, unpacked.platform, unpacked.crew)).toEqual(sayDrill(drill, platform, crew));
        }
      }
    });
    it("have patients of a usual weight, whom the table of bands gives the key's configuration", () => {
      for (const { platform, service, drills } of all)
        for (const { patient, key } of drills) {
          const [weight, age] = [readWeight(patient.said.weight), readAge(patient.said.age)];
          if (weight.kind !== "value" || age.kind !== "value") throw new Error(JSON.stringify(patient.said));
          expect([weight.value.mass, age.value.age]).toEqual([patient.weight, patient.age]);
          expect(isUnusual(patient.weight, patient.age)).toBe(false);
          const answer = choose({ service: service.band, rows: platform.configurations }, weight.value, age.value, {
            isReadBack: true,
          });
          expect(answer.kind).toBe("found");
          if (key.kind === "changeover" && answer.kind === "found")
            expect(answer.rows.map(({ id }) => id)).toEqual([key.to.configuration.id]);
        }
    });
    it("have a key whose steps, run by a second implementation, end in its arrangement, every piece counted", () => {
      for (const { platform, drills } of all)
        for (const { from, missing, key, seed } of drills) {
          if (key.kind !== "changeover") continue;
          const less = {
            ...platform,
            items: platform.items.map((item) => (item === missing ? { ...item, count: item.count - 1 } : item)),
          };
          const fitted = (each: Arrangement) => {
            const items = new Map(less.items.map((item) => [item.id, item]));
            return each.contents
              .filter(({ item, place }) => place !== items.get(item)!.home)
              .map(({ item, place, count }) => ({ item, place, count }));
          };
          const start = naiveStart(less, fitted(from), from.fastenings),
            wanted = naiveStart(less, fitted(key.to), key.to.fastenings);
          const pieces = new Map(start.pieces);
          let states = naiveStates(less, start);
          let before: unknown;
          for (const { procedure, step } of key.changeover.steps) {
            if (before !== procedure) states = naiveStates(less, naiveEnd(less, pieces, states));
            before = procedure;
            for (const operation of step.operations)
              expect(naiveAct(less, pieces, states, operation, false), `seed ${seed}, ${procedure.id}`).toBeUndefined();
          }
          const whereAll = (of: ReadonlyMap<string, string>) =>
            [...of].map(([piece, place]) => `${piece.split("#")[0]} ${place}`).sort();
          expect(whereAll(pieces), `seed ${seed}`).toEqual(whereAll(wanted.pieces));
          expect(naiveEnd(less, pieces, states).fastenings).toEqual(wanted.fastenings);
          // Out, in and moved are what is elsewhere than before, piece by piece.
          const elsewhere = whereAll(wanted.pieces).filter((each) => {
            const count = (list: string[]) => list.filter((other) => other === each).length;
            return count(whereAll(wanted.pieces)) > count(whereAll(start.pieces));
          });
          const counted = key.changeover.parts.reduce((sum, { count }) => sum + count, 0);
          const more = [...new Set(elsewhere)].reduce((sum, each) => {
            const count = (list: string[]) => list.filter((other) => other === each).length;
            return sum + count(whereAll(wanted.pieces)) - count(whereAll(start.pieces));
          }, 0);
          expect(counted).toBe(more);
          expect(key.timeline.elapsed).toBeLessThanOrEqual(key.changeover.seconds);
        }
    });
    it("miss nothing that stands, and say that nobody is carried only where no arrangement can be built", () => {
      for (const { platform, drills } of all)
        for (const { from, missing, patient, key } of drills) {
          if (!missing) continue;
          expect(fits(from, missing.id, missing.home)).toBeLessThan(missing.count);
          if (key.kind === "changeover") {
            expect(fits(key.to, missing.id, missing.home)).toBeLessThan(missing.count);
            continue;
          }
          const { weight, age } = patient;
          const rows = platform.configurations.filter(
            ({ band }) =>
              (!band.weight.from || weight >= band.weight.from.value) &&
              (!band.weight.to || weight <= band.weight.to.value) &&
              (!band.age.from || age >= band.age.from.value) &&
              (!band.age.to || age <= band.age.to.value),
          );
          for (const each of validArrangements(platform))
            if (rows.includes(each.configuration))
              expect(fits(each, missing.id, missing.home) >= missing.count || each.without.length > 0).toBe(true);
        }
    });
    it("hold nothing of the key on the crew's sheet", () => {
      for (const { platform, crew, drills } of all)
        for (const drill of drills) {
          const said = JSON.stringify(sayDrill(drill, platform, crew).crew);
          expect(said).not.toContain("Key");
          if (drill.key.kind === "changeover" && drill.key.to.configuration !== drill.from.configuration)
            expect(said).not.toContain(drill.key.to.configuration.title);
        }
    });
  },
);
