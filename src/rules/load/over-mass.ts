/** `load/over-mass`: no arrangement is heavier than the platform may be. */
import type { Rule } from "../../findings/finding.ts";
import { brokenLoads, placeOfBlame, sayAlso, sayBandEnd, sayKg, sayBrokenFor } from "./words.ts";
import { heard } from "../../words/heard.ts";

/** Reports each configuration or option that takes the platform over `limits: mass` at an end of its band. */
export const overMass: Rule = {
  id: "load/over-mass",
  severity: "error",
  asks: "The platform, everything on it and the heaviest patient weigh no more than its mass limit.",
  why: "Over its limit a platform may not be lifted or flown, and its wheels, frame and locks were not tested for it.",
  source: "FAA-H-8083-1B, chapter 2 (total weight against a maximum; from memory)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const broken of brokenLoads(collection, damaged)) {
      if (broken.kind !== "limit" || broken.limit !== "mass") continue;
      const { crossing, patientKg, totals } = broken;
      report(placeOfBlame(broken), {
        actual: sayKg(totals.massKg),
        expected: [`at most ${sayKg(crossing.limitValue)}`],
        message: heard("loadFindings").overMass({
          arrangement: broken.arrangement.name,
          mass: sayKg(totals.massKg),
          weight: sayKg(patientKg),
          limit: sayKg(crossing.limitValue),
          whom: sayBrokenFor(broken),
          also: sayAlso(broken.also),
        }),
        fix:
          broken.always || !crossing.atKg
            ? `Take something off, or correct \`limits: mass\` in platform.yaml from the maker's data`
            : `Take something off, let the band end at ${sayBandEnd(crossing.atKg, "end")}, or correct ` +
              `\`limits: mass\` in platform.yaml from the maker's data`,
      });
    }
  },
};
