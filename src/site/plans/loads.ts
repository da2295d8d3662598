/** Loads of arrangements for pages, each worked out once in a build. */
import type { Platform } from "../../schema/collection.ts";
import type { Arrangement } from "../../domain/parts/arrangements.ts";
import { bandEnds, type LoadReport, reportLoad } from "../../domain/load/load.ts";
import { exactly } from "../../domain/numbers/rational.ts";
import { remember } from "../../domain/words/remember.ts";

/**
 * The load of an arrangement with a patient of that weight (`20 kg`, `800 g`); `undefined` when the weight can't be
 * read.
 */
export function loadOf(platform: Platform, arrangement: Arrangement, patient?: string): LoadReport | undefined {
  if (patient === undefined) return reportLoad(platform, arrangement);
  const read = /^(\d+(?:\.\d+)?)\s*(kg|g)$/.exec(patient.trim());
  return read ? reportLoad(platform, arrangement, exactly(Number(read[1]) / (read[2] === "g" ? 1000 : 1))) : undefined;
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
