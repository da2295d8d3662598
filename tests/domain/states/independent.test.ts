/**
 * Changeovers of whole collections against an independent search: the naive simulation and a plain list of open states.
 */
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { holdsPatient, type Patient } from "../../../src/domain/bands/bands.ts";
import { graphFor, planAll } from "../../../src/domain/states/changeover.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { elementaryBands } from "../../../src/domain/bands/patients.ts";
import type { Collection, Platform } from "../../../src/schema/collection.ts";
import { heldContents, type Named, naiveRun, naiveStart, type NaiveState } from "./naive-run.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");

/** Pieces of a kind are alike, so a state is told by how many of each are where. */
function keyOf({ pieces, fastenings }: NaiveState): string {
  return [
    ...[...pieces].map(([piece, place]) => `${piece.split("#")[0]}@${place}`).sort(),
    ...[...fastenings].map(([id, state]) => `${id}=${state}`).sort(),
  ].join(";");
}

/**
 * Least seconds from every arrangement to every other for a patient, by name: relaxes all states until nothing gets
 * shorter.
 */
function naiveTimes(platform: Platform, patient: Patient): Map<string, number> {
  const arrangements = validArrangements(platform);
  const starts = arrangements.map(({ contents, fastenings }) => naiveStart(platform, contents, fastenings));
  const named: Named[] = arrangements.flatMap(({ configuration, options, contents }, at) =>
    configuration.fastenings.map(({ fastening, state }) => ({
      fastening,
      state,
      contents: heldContents(
        starts[at]!.pieces,
        platform.fastenings.find(({ id }) => id === fastening)!,
      ),
      fitted: contents.filter((piece) =>
        [configuration, ...options].some(({ fitted }) =>
          fitted.some(({ item, place }) => item === piece.item && place === piece.place),
        ),
      ),
    })),
  );
  const own = new Map(platform.procedures.map((procedure) => [procedure.id, procedure]));
  const usable = platform.procedures
    .filter(({ status, band }) => status === "approved" && holdsPatient(band, patient))
    .map(({ id, steps }) => ({
      id,
      steps: steps.filter(
        (step) => holdsPatient(step.band, patient) && holdsPatient(own.get(step.procedure)!.band, patient),
      ),
    }));
  const states = new Map(starts.map((state) => [keyOf(state), state]));
  const edges: { from: string; to: string; seconds: number }[] = [];
  for (const [key, state] of states)
    for (const procedure of usable) {
      const end = naiveRun(platform, state, procedure, named, true);
      if (Array.isArray(end)) continue;
      if (!states.has(keyOf(end))) states.set(keyOf(end), end);
      edges.push({
        from: key,
        to: keyOf(end),
        seconds: procedure.steps.reduce((sum, step) => sum + step.takesSeconds, 0),
      });
    }
  const times = new Map<string, number>();
  arrangements.forEach((from, at) => {
    const least = new Map([[keyOf(starts[at]!), 0]]);
    for (let changed = true; changed;) {
      changed = false;
      for (const edge of edges) {
        const time = (least.get(edge.from) ?? Infinity) + edge.seconds;
        if (time < (least.get(edge.to) ?? Infinity)) [changed] = [true, least.set(edge.to, time)];
      }
    }
    arrangements.forEach((to, index) => {
      const time = least.get(keyOf(starts[index]!));
      if (time !== undefined) times.set(`${from.name} to ${to.name}`, time);
    });
  });
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
          const times = naiveTimes(platform, patient);
          for (const from of model.arrangements)
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
