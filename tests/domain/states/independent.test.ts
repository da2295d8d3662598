/**
 * Changeovers of whole collections against an independent search: the naive simulation and a plain list of open states.
 */
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type Patient } from "../../../src/domain/bands/bands.ts";
import { graphFor, planAll } from "../../../src/domain/states/changeover.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { elementaryBands } from "../../../src/domain/bands/patients.ts";
import type { Collection, Platform } from "../../../src/schema/collection.ts";
import { naiveGraph } from "./naive-graph.ts";
import { readCollection } from "../../read-collection.ts";

/** Whether a large collection is asked about whole: before a release. */
const isEvery = process.env["RERIG_EVERY"] === "1";
const root = resolve(import.meta.dirname, "../../..");

/**
 * Least seconds from each arrangement that is asked about to every other for a patient, by name: relaxes all states
 * until nothing gets shorter.
 */
function naiveTimes(platform: Platform, patient: Patient, isAsked: (name: string) => boolean): Map<string, number> {
  const { edges, arrangements } = naiveGraph(platform, patient);
  const times = new Map<string, number>();
  for (const from of arrangements.filter(({ arrangement }) => isAsked(arrangement.name))) {
    const least = new Map([[from.state, 0]]);
    for (let changed = true; changed;) {
      changed = false;
      for (const edge of edges) {
        const time = (least.get(edge.from) ?? Infinity) + edge.seconds;
        if (time < (least.get(edge.to) ?? Infinity)) [changed] = [true, least.set(edge.to, time)];
      }
    }
    for (const to of arrangements) {
      const time = least.get(to.state);
      if (time !== undefined) times.set(`${from.arrangement.name} to ${to.arrangement.name}`, time);
    }
  }
  return times;
}

describe.each([
  ["the sled collection of these tests", "tests/fixtures/collections/sled"],
  ["the workshop collection of these tests", "tests/fixtures/collections/workshop"],
  [
    "the dolly collection of these tests (three crew roles, places on items on items, options that empty a place)",
    "tests/fixtures/collections/dolly",
  ],
  [
    "the theatre collection of these tests (two platforms, ids such as `constructor`, CRLF and byte-order marks)",
    "tests/fixtures/collections/theatre",
  ],
  ["the demo", "procedures"],
])("every pair of %s", (_, folder) => {
  let collection: Collection;
  beforeAll(async () => {
    collection = await readCollection(resolve(root, folder));
  });
  it(
    "takes as long as the independent search says, for a patient of every elementary band",
    { timeout: 240_000 },
    () => {
      let pairs = 0;
      for (const platform of collection.platforms) {
        const model = buildModel(platform);
        const bands = platform.procedures.flatMap(({ band, steps }) => [band, ...steps.map((step) => step.band)]);
        const cells = elementaryBands(collection.service.band, [
          ...bands,
          ...model.arrangements.map(({ band }) => band),
        ]);
        const seen = new Set<string>();
        for (const { patient } of cells) {
          const graph = graphFor(model, patient);
          const signature = graph.programs
            .map(({ procedure, steps }) => procedure.id + steps.map(({ number }) => number).join(","))
            .join(";");
          if (seen.has(signature)) continue;
          seen.add(signature);
          // Of a large collection every third kind of patient.
          const isLarge = model.arrangements.length >= 20;
          if (!isEvery && isLarge && seen.size % 3 !== 1) continue;
          // Of many arrangements from every fourth, to all.
          const few = model.arrangements.filter((_, at) => isEvery || !isLarge || (at + seen.size) % 4 === 0);
          const times = naiveTimes(platform, patient, (name) => few.some((each) => each.name === name));
          for (const from of few)
            planAll(model, graph, from, model.arrangements).forEach((plan, at) => {
              expect([from.name, model.arrangements[at]!.name, plan?.seconds]).toEqual([
                from.name,
                model.arrangements[at]!.name,
                times.get(`${from.name} to ${model.arrangements[at]!.name}`),
              ]);
              pairs++;
            });
        }
      }
      expect(pairs).toBeGreaterThan(8);
    },
  );
});
