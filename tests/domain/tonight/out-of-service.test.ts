/**
 * What is still possible without some pieces: against a collection whose equipment.yaml says so many fewer, read and
 * planned anew, and against a plain count of what each set of options takes.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { parseDocument } from "yaml";
import { cutsOf, holdsPatient, type Patient } from "../../../src/domain/bands/bands.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import {
  otherWaysByPair,
  singlePoints,
  standIns,
  stillPossible,
  unansweredLines,
  without,
} from "../../../src/domain/tonight/out-of-service.ts";
import { keepOn } from "../../../src/domain/words/keep.ts";
import type { Collection, Configuration, Option, Platform } from "../../../src/schema/collection.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");
const work = mkdtempSync(join(tmpdir(), "rerig-without-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const TODAY = "2026-11-28";

const read = async (folder: string): Promise<Collection> => forceOn(await readCollection(folder), TODAY).collection;

/** The same collection with fewer pieces: equipment.yaml says so, or, since it can't say none, the record. */
async function readWithout(folder: string, platform: string, out: ReadonlyMap<string, number>): Promise<Collection> {
  const copy = mkdtempSync(join(work, "less-"));
  cpSync(folder, copy, { recursive: true });
  const file = join(copy, platform, "equipment.yaml"),
    document = parseDocument(readFileSync(file, "utf8"));
  const none: string[] = [];
  for (const [item, count] of out) {
    const left = Number(document.getIn([item, "count"]) ?? 1) - count;
    if (left > 0) document.setIn([item, "count"], left);
    else none.push(item);
  }
  writeFileSync(file, String(document));
  const collection = await read(copy);
  return {
    ...collection,
    platforms: collection.platforms.map((each) =>
      each.id === platform
        ? { ...each, items: each.items.map((item) => (none.includes(item.id) ? { ...item, count: 0 } : item)) }
        : each,
    ),
  };
}

/** What a configuration with options takes of each item, counted by hand from the format's words. */
function takes(configuration: Configuration, options: readonly Option[]): Map<string, number> {
  let fitted = [...configuration.fitted];
  for (const { fitted: own, empty } of options) {
    fitted = fitted.filter(({ place }) => !own.some((each) => each.place === place));
    fitted = fitted.filter(({ place }) => !empty.some((each) => each.place === place));
    fitted.push(...own);
  }
  const counts = new Map<string, number>();
  for (const { item, count } of fitted) counts.set(item, (counts.get(item) ?? 0) + count);
  return counts;
}

/** One patient of every kind: at each end of every band, and just above and below it. */
function patients({ service, platforms }: Collection): Patient[] {
  const bands = [
    service.band,
    ...platforms.flatMap(({ configurations, options }) => [...configurations, ...options].map(({ band }) => band)),
    ...platforms.flatMap(({ configurations }) =>
      configurations.flatMap(({ requires = [] }) => requires.map(({ band }) => band)),
    ),
  ];
  const near = (key: "weight" | "age") =>
    cutsOf(bands.map((band) => band[key])).flatMap(({ value }) => [value - 1n, value, value + 1n]);
  return near("weight").flatMap((weight) => [0n, ...near("age")].map((age) => ({ weight, age })));
}

const COLLECTIONS = [
  "procedures",
  ...["sled", "theatre", "workshop"].map((name) => `tests/fixtures/collections/${name}`),
];

/** Whether every pair of the demo's items is lost. */
const isEvery = process.env["RERIG_EVERY"] === "1";

/**
 * Every single item, and every pair of items; all pieces of a pair's first, one of its second. Of the thousand pairs
 * and more of a large collection every fourth, so that each item is in many.
 */
function losses({ items }: Platform): ReadonlyMap<string, number>[] {
  const singles = items.flatMap(({ id, count }) => Array.from({ length: count }, (_, at) => new Map([[id, at + 1]])));
  const pairs = items.flatMap((a, at) =>
    items.slice(at + 1).map(
      (b) =>
        new Map([
          [a.id, a.count],
          [b.id, 1],
        ]),
    ),
  );
  return [...singles, ...pairs.filter((_, at) => isEvery || pairs.length < 500 || at % 4 === 0)];
}

describe.each(COLLECTIONS)("out of service in %s", (name) => {
  const folder = join(root, name);

  it("leaves the arrangements that a plain count leaves, and their patients, for every item and pair", async () => {
    const collection = await read(folder);
    const everybody = patients(collection);
    let lossesSeen = 0;
    for (const platform of collection.platforms) {
      // For whom an arrangement is, by the words of the format: in every band, and with each option that is required.
      // Asked once for each patient: what is lost changes only which arrangements there are.
      const whoCarries = new Map(
        validArrangements(platform).map(({ name, configuration, options }) => [
          name,
          new Set(
            everybody.filter(
              (patient) =>
                [configuration, ...options].every(({ band }) => holdsPatient(band, patient)) &&
                (configuration.requires ?? []).every(
                  ({ option, band }) => !holdsPatient(band, patient) || options.some(({ id }) => id === option),
                ),
            ),
          ),
        ]),
      );
      // Patients of the service whom some arrangement carries while nothing is lost.
      const served = new Set(
        everybody.filter(
          (patient) =>
            holdsPatient(collection.service.band, patient) && [...whoCarries.values()].some((own) => own.has(patient)),
        ),
      );
      for (const out of losses(platform)) {
        const left = stillPossible(platform, collection.service, out);
        const counted = validArrangements(platform).filter(({ configuration, options }) =>
          [...takes(configuration, options)].every(
            ([item, count]) =>
              count <= (platform.items.find(({ id }) => id === item)?.count ?? 0) - (out.get(item) ?? 0),
          ),
        );
        expect(left.possible.map(({ name }) => name)).toEqual(counted.map(({ name }) => name));
        lossesSeen += left.lost.length;
        const isLeft = (patient: Patient) =>
          counted.some(({ name: own }) => whoCarries.get(own)!.has(patient)) || !served.has(patient);
        const wrong = everybody.filter(
          (patient) => left.nobodyFor.some((band) => holdsPatient(band, patient)) === isLeft(patient),
        );
        expect(wrong).toEqual([]);
      }
    }
    expect(lossesSeen).toBeGreaterThan(0);
  }, 120_000);

  it("is what the collection proves with so many fewer in its equipment", async () => {
    const collection = await read(folder);
    for (const platform of collection.platforms)
      // Of a large collection, which takes a second to read, one item in ten.
      for (const { id } of platform.items.filter((_, at) => platform.items.length < 20 || at % 10 === 2)) {
        const out = new Map([[id, 1]]);
        const less = await readWithout(folder, platform.id, out);
        const anew = less.platforms.find((each) => each.id === platform.id)!;
        const left = stillPossible(platform, collection.service, out);
        expect(left.possible.map(({ name }) => name)).toEqual(validArrangements(anew).map(({ name }) => name));
        expect(left.possible.map(({ contents }) => contents)).toEqual(
          validArrangements(anew).map(({ contents }) => contents),
        );
      }
  }, 240_000);
});

/** The steps of a changeover, or that there is none, by pair of arrangements and patient. */
function waysOf(collection: Collection, platform: Platform): Map<string, string> {
  const model = modelOf(platform);
  return new Map(
    model.arrangements.flatMap((from) =>
      model.arrangements.flatMap((to) =>
        from === to
          ? []
          : plansBetween(model, collection.service, from, to).flatMap(({ cells, changeover }) =>
              cells.map(({ band }): [string, string] => [
                `${from.name} ${to.name} ${band.weight.text} ${band.age.text}`,
                changeover?.steps.map(({ procedure, step }) => `${procedure.id} ${step.number}`).join() ?? "none",
              ]),
            ),
      ),
    ),
  );
}

describe("the ways that are left", () => {
  it.each([
    ["tests/fixtures/collections/sled", /./, 0],
    ["tests/fixtures/collections/theatre", /./, 0],
    ["tests/fixtures/collections/workshop", /./, 9],
    // Nothing of the demo is moved in passing: what is lost takes its arrangements away and changes no other way.
    ["procedures", /^warming-mattress$/, 0],
  ])(
    "are those of the collection with so many fewer: %s",
    async (name, items, least) => {
      const folder = join(root, name),
        collection = await read(folder);
      let changed = 0;
      for (const platform of collection.platforms) {
        const before = waysOf(collection, platform);
        for (const { id } of platform.items.filter((item) => items.test(item.id))) {
          const out = new Map([[id, 1]]),
            less = await readWithout(folder, platform.id, out);
          const now = waysOf(
            less,
            less.platforms.find((each) => each.id === platform.id)!,
          );
          const differ = [...now.keys()].filter(
            (key) => before.get(key) !== "none" && before.get(key) !== now.get(key),
          );
          const byPair = [...otherWaysByPair(platform, collection.service, out)],
            said = byPair.flat();
          // Whoever works them out may stop after each pair.
          const { length } = validArrangements(without(platform, out));
          expect(byPair).toHaveLength(length * (length - 1));
          const pairs = (keys: readonly string[]) => [...new Set(keys)].sort();
          expect(pairs(said.map(({ from, to }) => `${from.name} ${to.name}`))).toEqual(
            pairs(differ.map((key) => key.split(" ").slice(0, 2).join(" "))),
          );
          changed += said.length;
        }
      }
      expect(changed).toBeGreaterThanOrEqual(least);
    },
    240_000,
  );
});

describe("single points of failure", () => {
  it("say the least number whose loss leaves somebody without an arrangement, and whom", async () => {
    const { platforms, service } = await read(join(root, "procedures"));
    for (const { item, spare, nobodyFor } of singlePoints(platforms[0]!, service)) {
      const lost = (count: number) => stillPossible(platforms[0]!, service, new Map([[item.id, count]])).nobodyFor;
      const least = Array.from({ length: item.count }, (_, at) => at + 1).find((count) => lost(count).length > 0);
      expect(spare).toBe(least === undefined ? undefined : least - 1);
      expect(nobodyFor).toEqual(least === undefined ? [] : lost(least));
    }
  });

  // A device that is asked must answer while somebody looks: a tenth of a second for the whole table on a quiet
  // machine. Of processor time, which others on the machine do not add to; the bound is for a slow one.
  it("are told in well under a second", async () => {
    const { platforms, service } = await read(join(root, "procedures"));
    // Nothing that a command of another test has put up to keep results on.
    keepOn(undefined);
    const best = Math.min(
      ...Array.from({ length: 5 }, () => {
        const began = process.cpuUsage();
        singlePoints({ ...platforms[0]! }, service);
        return process.cpuUsage(began).user / 1000;
      }),
    );
    expect(best).toBeLessThan(700);
  });
});

describe("with it go", () => {
  it("lines that look for a piece that is not there, on the cards of what can still be built", async () => {
    const { platforms, service } = await read(join(root, "procedures"));
    const platform = platforms[0]!,
      left = stillPossible(platform, service, new Map([["capsule-pin", 1]]));
    const lines = unansweredLines(platform, left, service.otherNames);
    expect(lines.map(({ check }) => check.challenge)).toContain("Capsule pins");
    expect(lines.flatMap(({ arrangements }) => arrangements).some((each) => left.lost.includes(each))).toBe(false);
    const nothing = stillPossible(platform, service, new Map());
    expect(unansweredLines(platform, nothing, service.otherNames)).toEqual([]);
  });

  it("what holds the same patients may stand in, unless it is fitted together with what is lost", async () => {
    const { platforms, service } = await read(join(root, "tests/fixtures/collections/theatre"));
    const platform = platforms.find(({ id }) => id === "carriage")!;
    const twin = platform.items.find(({ id }) => id === "seat-harness")!;
    expect(standIns(platform, new Map([["seat-harness", 1]]))).toEqual([{ item: twin, instead: [] }]);
    const other = { ...twin, id: "second-harness", name: "Second harness" };
    const more = { ...platform, items: [...platform.items, other] };
    expect(standIns(more, new Map([["seat-harness", 1]]))[0]!.instead).toEqual([other]);
    expect(stillPossible(more, service, new Map([["second-harness", 1]])).lost).toEqual([]);
  });
});
