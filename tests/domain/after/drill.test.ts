/**
 * Drills against brute force over many seeds and collections: the patient is in the band and of a usual weight, a naive
 * second run of the key's steps ends in its arrangement, and the pieces that are there are enough for it. The weights
 * are those of the WHO tables (named in `growth.ts`); the scenarios are invented.
 */
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type Drill, drillOf, type DrillService } from "../../../src/domain/after/drill.ts";
import { wordsFor } from "../../../src/words/words.ts";
import { sayDrill } from "../../../src/domain/after/say-drill.ts";
import { readsCard } from "../../../src/domain/parts/reading.ts";
import { inStartingOrder } from "../../../src/domain/time/timeline.ts";
import { choose } from "../../../src/domain/bands/choose.ts";
import { firstQuestionsOn } from "../../../src/domain/bands/doubts.ts";
import { readAge, readWeight } from "../../../src/domain/bands/entry.ts";
import { isUnusual } from "../../../src/domain/bands/growth.ts";
import { packPlatform, unpackPlatform } from "../../../src/domain/device/pack.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { type Arrangement, validArrangements } from "../../../src/domain/parts/arrangements.ts";
import type { Band, Crew, Item, Platform } from "../../../src/schema/collection.ts";
import { naiveAct, naiveEnd, naiveStart, naiveStates } from "../states/naive-run.ts";
import { readCollection } from "../../read-collection.ts";

const { drill: words } = wordsFor({ language: "en-GB" });

const root = resolve(import.meta.dirname, "../../..");
const SEEDS = 40;
const ROLES = ["first", "second", "third", "fourth"];

/** Pieces of an item that belong to an arrangement: away from their home, or listed as fitted there. */
const fits = ({ configuration, options, contents }: Arrangement, { id, home }: Item) =>
  contents
    .filter(({ item }) => item === id)
    .filter(
      ({ place }) =>
        place !== home ||
        [configuration, ...options].some(({ fitted }) =>
          fitted.some((each) => each.item === id && each.place === place),
        ),
    )
    .reduce((sum, { count }) => sum + count, 0);

/** The platform with its steps and lines done by other roles: by the only one there is, or by all where all did it. */
function onCrew(platform: Platform, before: readonly Crew[], roles: readonly string[]): Platform {
  const by = (own: readonly string[]) =>
    roles.length === 1 || own.length === before.length
      ? [...roles]
      : own.map((role) => roles[before.findIndex(({ id }) => id === role) % roles.length]!);
  return {
    ...platform,
    procedures: platform.procedures.map((procedure) => ({
      ...procedure,
      steps: procedure.steps.map((step) => ({
        ...step,
        by: by(step.by),
        checks: step.checks.map((check) => ({ ...check, by: by(check.by) })),
      })),
    })),
  };
}

/** The platform with one piece of an item less, or as it is. */
const without = (platform: Platform, missing: Item | undefined): Platform => ({
  ...platform,
  items: platform.items.map((item) => (item === missing ? { ...item, count: item.count - 1 } : item)),
});
/** What the second implementation begins with where an arrangement stands. */
function startOf(platform: Platform, { contents, fastenings }: Arrangement): ReturnType<typeof naiveStart> {
  const homes = new Map(platform.items.map(({ id, home }) => [id, home]));
  const fitted = contents
    .filter(({ item, place }) => place !== homes.get(item))
    .map(({ item, place, count }) => ({ item, place, count }));
  return naiveStart(platform, fitted, fastenings);
}
/** Where every piece is, whichever of its kind it is. */
const whereAll = (of: ReadonlyMap<string, string>) =>
  [...of].map(([piece, place]) => `${piece.split("#")[0]} ${place}`).sort();
/** The patient's weight and age, read again from the words. */
function readSaid({ said }: Drill["patient"]): readonly [mass: bigint, age: bigint] {
  const [weight, age] = [readWeight(said.weight), readAge(said.age)];
  if (weight.kind !== "value" || age.kind !== "value") throw new Error(JSON.stringify(said));
  return [weight.value.mass, age.value.age];
}

const fixtures = "tests/fixtures/collections";

describe.each<[folder: string, people?: number]>([
  ["procedures"],
  [`${fixtures}/dolly`],
  [`${fixtures}/sled`],
  [`${fixtures}/theatre`],
  [`${fixtures}/theatre`, 1],
  [`${fixtures}/theatre`, 3],
  [`${fixtures}/theatre`, 4],
  [`${fixtures}/workshop`],
  [`${fixtures}/workshop`, 1],
])("drills of %s, crew of its own or of so many: %s", (folder, people) => {
  let all: { platform: Platform; service: DrillService; crew: readonly Crew[]; drills: Drill[] }[];
  beforeAll(async () => {
    const { collection } = forceOn(await readCollection(join(root, folder)), "2026-11-28");
    const own = collection.service.crew,
      crew = people ? ROLES.slice(0, people).map((id) => ({ ...own[0]!, id, name: id })) : own;
    all = collection.platforms
      // A platform of one arrangement has nothing to change over to.
      .filter((platform) => validArrangements(platform).length > 1)
      .map((listed) => {
        const platform = people ? onCrew(listed, own, ROLES.slice(0, people)) : listed,
          service = { ...collection.service, crew, questions: firstQuestionsOn(collection, platform) };
        const drills = Array.from({ length: SEEDS }, (_, seed) => drillOf(platform, service, seed)).filter(
          (drill) => drill !== undefined,
        );
        return { platform, service, crew, drills };
      });
    expect(all.length).toBeGreaterThan(0);
  }, 400_000);

  it("exist for every seed, differ, and are the same on page and command", () => {
    for (const { platform, service, crew, drills } of all) {
      expect(drills).toHaveLength(SEEDS);
      expect(new Set(drills.map(({ from, patient }) => `${from.name} ${patient.said.weight}`)).size).toBeGreaterThan(
        SEEDS / 4,
      );
      const unpacked = unpackPlatform(packPlatform(platform, { crew: [...crew], band: service.band }));
      for (const drill of drills.slice(0, 12)) {
        const there = drillOf(
          unpacked.platform,
          { ...service, crew: unpacked.crew, band: unpacked.service },
          drill.seed,
        )!;
        expect(sayDrill(there, unpacked.platform, unpacked.crew, words)).toEqual(
          sayDrill(drill, platform, crew, words),
        );
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
        const less = without(platform, missing),
          start = startOf(less, from),
          wanted = startOf(less, key.to);
        const pieces = new Map(start.pieces);
        let states = naiveStates(less, start);
        let before: unknown;
        for (const { procedure, step } of key.changeover.steps) {
          if (before !== procedure) states = naiveStates(less, naiveEnd(less, pieces, states));
          before = procedure;
          for (const operation of step.operations)
            expect(naiveAct(less, pieces, states, operation, false), `seed ${seed}, ${procedure.id}`).toBeUndefined();
        }
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
  it("change the call in some, to an arrangement that a second implementation reaches from exactly there", () => {
    for (const { platform, drills } of all) {
      let changes = 0;
      for (const { from, missing, key, seed } of drills) {
        if (key.kind !== "changeover" || !key.change) continue;
        changes += 1;
        const { change } = key;
        const less = without(platform, missing),
          start = startOf(less, from),
          wanted = startOf(less, change.to),
          pieces = new Map(start.pieces);
        const acting = inStartingOrder(key.timeline).filter(({ step }) => !readsCard(step));
        expect(change.after).toBeGreaterThan(0);
        expect(change.after).toBeLessThan(acting.length);
        // The states are those of whoever did so many steps, in the order in which they begin, and then the others.
        const walked = [...acting.slice(0, change.after), ...change.changeover.steps];
        const states = naiveStates(less, start);
        for (const { step, procedure } of walked)
          for (const operation of step.operations)
            expect(naiveAct(less, pieces, states, operation, true), `seed ${seed}, ${procedure.id}`).toBeUndefined();
        expect(whereAll(pieces), `seed ${seed}`).toEqual(whereAll(wanted.pieces));
        expect(naiveEnd(less, pieces, states).fastenings, `seed ${seed}`).toEqual(wanted.fastenings);
        expect(change.to.name).not.toBe(key.to.name);
        if (change.patient) expect(readSaid(change.patient)).toEqual([change.patient.weight, change.patient.age]);
      }
      // One in three is drawn; some ways are too short to change on, some collections have nothing else to change to.
      if (folder === "procedures") expect(changes).toBeGreaterThan(SEEDS / 10);
    }
  });
  it("miss nothing that stands, and say that nobody is carried only where no arrangement can be built", () => {
    for (const { platform, drills } of all)
      for (const { from, missing, patient, key } of drills) {
        if (!missing) continue;
        expect(fits(from, missing)).toBeLessThan(missing.count);
        if (key.kind === "changeover") {
          expect(fits(key.to, missing)).toBeLessThan(missing.count);
          continue;
        }
        const isIn = ({ weight, age }: Band) =>
          (
            [
              [weight, patient.weight],
              [age, patient.age],
            ] as const
          ).every(
            ([{ from: least, to: most }, value]) =>
              (!least || value > least.value || (least.owned && value === least.value)) &&
              (!most || value < most.value || (most.owned && value === most.value)),
          );
        const suited = validArrangements(platform).filter(({ band, without }) => isIn(band) && !without.some(isIn));
        expect(suited.length).toBeGreaterThan(0);
        for (const each of suited) expect(fits(each, missing), each.name).toBe(missing.count);
      }
  });
  it("have a crew's sheet that is the same whatever the key is", () => {
    for (const { platform, crew, drills } of all)
      for (const drill of drills) {
        const sheet = sayDrill(drill, platform, crew, words).crew;
        expect(JSON.stringify(sheet)).not.toContain("Key");
        expect(sayDrill({ ...drill, key: { kind: "nobody", questions: [] } }, platform, crew, words).crew).toEqual(
          sheet,
        );
      }
  });
});
