/** Readiness, restock, endurance and calls in the form of `rerig ready --json` and `data/ready.json`. */
import type { Platform, Service } from "../../schema/collection.ts";
import { sayBand } from "../bands/bands.ts";
import { joinBands } from "../bands/join-bands.ts";
import { type Arrangement, validArrangements } from "../parts/arrangements.ts";
import { standingArrangement } from "../parts/lookup.ts";
import { modelOf } from "../states/model.ts";
import { plansBetween } from "../time/plans.ts";
import { callToReady } from "./call.ts";
import { enduranceTable } from "./endurance.ts";
import { readinessOf, readyDates } from "./readiness.ts";
import { restockOf } from "./restock.ts";

/** The readiness sheet of an arrangement; what is not said is null. */
export function sheetResult(platform: Platform, arrangement: Arrangement) {
  return readinessOf(platform, arrangement).map(({ place, depth, stands, looks }) => ({
    place: place.id,
    depth,
    stands: stands.map(({ item, count }) => ({ item: item.id, count })),
    looks: looks.map(({ line: { every = null, look, until = null }, of }) => ({ of: of.id, every, look, until })),
  }));
}

/** The restock sheet after a run in an arrangement that was built from another one. */
export function restockResult(
  platform: Platform,
  service: Pick<Service, "band" | "crew">,
  from: Arrangement,
  to: Arrangement,
) {
  const { rows, unsaid } = restockOf(platform, service, from, to);
  return {
    from: from.name,
    to: to.name,
    rows: rows.map(({ of, ...row }) => ({ of: of.id, ...row })),
    unsaid: unsaid.map(({ id }) => id),
  };
}

/** The endurance table. */
export function enduranceResult(platform: Platform, service: Pick<Service, "demands" | "reserve">) {
  return enduranceTable(platform, service).map(({ item, pieces, demand = null, minutes, arithmetic }) => ({
    item: item.id,
    pieces,
    demand,
    minutes,
    arithmetic,
  }));
}

/** The dates of a platform, the earliest first. */
export function datesResult(platform: Platform) {
  return readyDates([platform]).map(({ of, line: { look, until } }) => ({ of: of.id, look, until }));
}

/**
 * The call to ready from one arrangement to another, once for each group of patients for whom the steps differ, with
 * every question about the band that any of them is asked; empty where there is no way.
 */
export function callsTo(
  platform: Platform,
  service: Pick<Service, "band" | "crew">,
  from: Arrangement,
  to: Arrangement,
): { readonly to: Arrangement; readonly patients: string; readonly call: ReturnType<typeof callToReady> }[] {
  return plansBetween(modelOf(platform), service, from, to).flatMap(({ cells, changeover }) =>
    changeover
      ? [
          {
            to,
            patients: joinBands(cells.map(({ band }) => band))
              .map(sayBand)
              .join("; "),
            call: callToReady(platform, service, changeover),
          },
        ]
      : [],
  );
}

/** A call as JSON. */
export function callResult({ stages, seconds, walks }: ReturnType<typeof callToReady>) {
  return {
    seconds,
    stages,
    walks: walks.map(({ store, walkSeconds = null }) => ({ store, walkSeconds })),
  };
}

/**
 * All of it for a platform, from its standing arrangement; calls to each configuration without options and with each
 * one of them. Without a standing arrangement there is no sheet, no restock and no call.
 */
export function readyResult(platform: Platform, service: Service) {
  const standing = standingArrangement(platform),
    all = standing ? validArrangements(platform) : [];
  return {
    platform: platform.id,
    sheet: standing ? sheetResult(platform, standing) : [],
    restock: standing ? all.map((to) => restockResult(platform, service, standing, to)) : [],
    endurance: enduranceResult(platform, service),
    dates: datesResult(platform),
    calls: standing
      ? all
          .filter(({ options }) => options.length <= 1)
          .flatMap((to) => callsTo(platform, service, standing, to))
          .map(({ to, patients, call }) => ({ to: to.name, patients, ...callResult(call) }))
      : [],
  };
}
