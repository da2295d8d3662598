/** A packed platform plans the same as the one it was packed from, pair by pair and step by step. */
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Band, Crew, Platform } from "../../../src/schema/collection.ts";
import { buildModel } from "../../../src/domain/states/model.ts";
import { packPlatform, unpackPlatform } from "../../../src/domain/device/pack.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import { planTimeline } from "../../../src/domain/time/timeline.ts";
import { layWalk } from "../../../src/domain/device/walk.ts";
import { anyone, nowhere, somePlatform } from "../../arbitraries/platform.ts";
import { readCollection } from "../../read-collection.ts";

interface Given {
  readonly platform: Platform;
  readonly crew: readonly Crew[];
  readonly service: Band;
}

/** Through JSON text and back, as a page carries it. */
function carry({ platform, crew, service }: Given): Given {
  return unpackPlatform(JSON.parse(JSON.stringify(packPlatform(platform, { crew, band: service }))));
}

/** Everything that a crew is told of every pair. */
function tellAll(
  { platform, crew, service }: Given,
  pairs: (from: string, to: string) => boolean = () => true,
): unknown[] {
  const model = buildModel(platform);
  return model.arrangements.flatMap((from) =>
    model.arrangements
      .filter((to) => to !== from && pairs(from.name, to.name))
      .map((to) => [
        from.name,
        to.name,
        plansBetween(model, { band: service, crew }, from, to).map(({ cells, changeover }) => {
          if (!changeover) return [cells.length, "no way"];
          const timeline = planTimeline(
            changeover.steps,
            crew.map(({ id }) => id),
            platform,
            0,
          );
          const { elapsed, alone, waits, criticalPath } = timeline;
          return [
            cells.map(({ band }) => [band.weight.text, band.age.text]),
            changeover.procedures.map(({ id }) => id),
            changeover.seconds,
            changeover.parts,
            changeover.undone,
            elapsed,
            alone,
            waits,
            criticalPath,
            layWalk(changeover, timeline, platform, crew, ""),
          ];
        }),
      ]),
  );
}

const demo = join(import.meta.dirname, "../../../procedures"),
  sled = join(import.meta.dirname, "../../fixtures/collections/sled");
const given = async (folder: string): Promise<Given> => {
  const { service, platforms } = await readCollection(folder);
  return { platform: platforms[0]!, crew: service.crew, service: service.band };
};

describe("a packed platform", () => {
  it(
    "plans every pair of arrangements of the sled as before: steps, times, waits, parts, and every word of the " +
      "walk",
    async () => {
      const sledge = await given(sled),
        told = tellAll(sledge);
      expect(JSON.stringify(told)).toMatch(/"elapsed|mattress|sled/i);
      expect(tellAll(carry(sledge))).toEqual(told);
    },
  );
  it("plans the demo's pairs from the standing arrangement and back as before", async () => {
    const tern = await given(demo),
      pairs = (from: string, to: string) =>
        [from, to].includes("newborn-capsule") && `${from}${to}`.split("+").length < 3;
    const told = tellAll(tern, pairs);
    expect(told.length).toBeGreaterThan(10);
    expect(tellAll(carry(tern), pairs)).toEqual(told);
  });
  it("plans any small platform as before", () => {
    const crew: Crew[] = [{ where: nowhere, at: {}, id: "lead", name: "Lead" }];
    fc.assert(
      fc.property(somePlatform(), (platform) => {
        const whole = { platform, crew, service: anyone };
        expect(tellAll(carry(whole))).toEqual(tellAll(whole));
      }),
      { numRuns: 200 },
    );
  });
  it("keeps exact ends of bands: pounds to the last digit", async () => {
    const sledge = await given(sled);
    expect(carry(sledge).service).toEqual(sledge.service);
  });
  it("of the demo is light enough for a page", async () => {
    const { platform, crew, service } = await given(demo);
    const json = JSON.stringify(packPlatform(platform, { crew, band: service }));
    const steps = platform.procedures.reduce((sum, { steps: own }) => sum + own.length, 0);
    // As it goes through the air (gzip), and as a page holds it: bytes for each step of the demo, whatever it holds.
    expect([gzipSync(json).length / steps < 80, json.length / steps < 480]).toEqual([true, true]);
  });
});
