/** The walk to the stores is what is fetched, store by store, in the order in which it is fetched (invented data). */
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { loadCollection } from "../../../src/compile/load.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { listFetches } from "../../../src/domain/states/counts.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { viewChangeover, walkOf } from "../../../src/domain/time/changeover-view.ts";
import { plansBetween } from "../../../src/domain/time/plans.ts";
import { Findings } from "../../../src/findings/finding.ts";
import { COLLECTIONS } from "../../fixtures/collections.ts";

const root = resolve(import.meta.dirname, "../../..");

it("stops once at every store that something is fetched from, for as many pieces; one store is no walk", async () => {
  let walks = 0;
  for (const folder of COLLECTIONS) {
    const { collection } = forceOn(await loadCollection(join(root, folder), new Findings()), "2026-11-28");
    for (const platform of collection.platforms) {
      const bare = validArrangements(platform).filter(({ options }) => options.length === 0);
      for (const from of bare)
        for (const to of bare)
          for (const { changeover } of from === to
            ? []
            : plansBetween(modelOf(platform), collection.service, from, to)) {
            if (!changeover) continue;
            const stops = walkOf(viewChangeover(changeover, platform), platform);
            const fetched = new Map<string, number>();
            for (const { place, count } of listFetches(changeover.steps, platform))
              fetched.set(place, (fetched.get(place) ?? 0) + count);
            const wanted = [...fetched].map(([place, count]) => {
              const { name, walkSeconds } = platform.places.find(({ id }) => id === place)!;
              return { placeName: name, count, ...(walkSeconds === undefined ? {} : { walkSeconds }) };
            });
            expect(stops).toEqual(wanted.length > 1 ? wanted : []);
            if (stops.length > 0) walks += 1;
          }
    }
  }
  expect(walks).toBeGreaterThan(0);
}, 120_000);
