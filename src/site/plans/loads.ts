/** Loads of arrangements for pages, each worked out once in a build. */
import type { Platform } from "../../schema/collection.ts";
import type { Arrangement } from "../../domain/parts/arrangements.ts";
import { bandEnds, type LoadReport, massOf, reportLoad } from "../../domain/load/load.ts";
import { parseMass } from "../../schema/quantities.ts";
import { remember } from "../../domain/words/remember.ts";

/**
 * The load of an arrangement with a patient of that weight (`20 kg`, `800 g`, `11 lb`); `undefined` when the weight
 * can't be read.
 */
export function loadOf(platform: Platform, arrangement: Arrangement, patient?: string): LoadReport | undefined {
  if (patient === undefined) return reportLoad(platform, arrangement);
  // Read as `check` reads it, so that what passes there is shown.
  const read = parseMass(patient);
  return read.ok ? reportLoad(platform, arrangement, massOf(read.value.value)) : undefined;
}

/**
 * The load of an arrangement with the lightest and the heaviest patient of its band; `high` is missing when the band
 * has no upper end.
 */
export const loadAtEnds: (
  platform: Platform,
  arrangement: Arrangement,
) => { readonly low: LoadReport; readonly high?: LoadReport } = remember(
  (platform: Platform, arrangement: Arrangement) => {
    const { fromKg, toKg } = bandEnds(arrangement.band);
    return {
      low: reportLoad(platform, arrangement, fromKg),
      ...(toKg ? { high: reportLoad(platform, arrangement, toKg) } : {}),
    };
  },
);
