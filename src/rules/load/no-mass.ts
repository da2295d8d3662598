/** `load/no-mass`: everything on the platform has a mass and, where the balance is limited, a place where it acts. */
import { findUnknownLoads } from "../../domain/load/broken-loads.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";
import { isWhole } from "./words.ts";

/**
 * Reports items without `mass`, and, with `limits: balance`, places without `x` and a platform that does not say where
 * the patient lies.
 */
export const noMass: Rule = {
  id: "load/no-mass",
  severity: "warning",
  asks:
    "Every item that can be on the platform has a mass, and the balance is worked out from places that have an " +
    "`x`.",
  why:
    "A thing without a mass counts as 0 kg and one without a place counts at the datum: the totals are then " +
    "wrong, and may be wrong on the unsafe side.",
  source: "FAA-H-8083-1B, chapter 2 (every item has a weight and an arm; from memory)",
  byPlatform: true,
  check({ platforms }, report, { damaged }) {
    for (const platform of platforms.filter((platform) => isWhole(platform, damaged))) {
      const unknown = findUnknownLoads(platform),
        say = heard("loadFindings");
      for (const item of unknown.items) report(item.where, { message: say.noMass({ item: item.id }), fix: say.weigh });
      for (const place of unknown.places)
        report(place.where, { message: say.noPlace({ place: place.id }), fix: say.measure });
      if (unknown.patient)
        report(whereOf(platform, "limits.balance"), {
          message: "The balance is limited, and nothing says where the patient's mass acts: it counts at the datum",
          fix: "Write `patient: { x: … mm }` in platform.yaml",
        });
    }
  },
};
