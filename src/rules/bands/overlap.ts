/** Rule bands/overlap. */
import { meetBands, sayBand } from "../../domain/bands/bands.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";
import { hasDamage } from "./damage.ts";
import { heard } from "../../words/heard.ts";

/** Every patient has one arrangement only, and the service asks about each once. */
export const overlap: Rule = {
  id: "bands/overlap",
  severity: "error",
  asks: "No two configurations are for the same patient, and no two entries of `doubt` ask about the same one.",
  why: "Two right answers mean that two crews prepare differently, and that neither card is trusted.",
  source: "Interval notation of ISO 80000-2: [a, b] and [b, c] both hold b (from memory)",
  byPlatform: true,
  check({ service, platforms }, report, { damaged }) {
    (service.doubts ?? []).forEach((later, at, all) => {
      for (const earlier of all.slice(0, at)) {
        const both = meetBands(earlier.band, later.band);
        if (!both) continue;
        report(later.at["weight"] ?? whereOf(later, "age"), {
          message: heard("bandFindings").doubtsOverlap({ band: sayBand(both) }),
          fix: "Let the one end where the other begins, with `under` and `from`, or make one entry of the two",
          cause: earlier.at["weight"] ?? whereOf(earlier, "age"),
        });
      }
    });
    for (const platform of platforms) {
      if (hasDamage(platform, damaged)) continue;
      const inFileOrder = [...platform.configurations].sort((a, b) => (a.file < b.file ? -1 : 1));
      inFileOrder.forEach((later, at) => {
        for (const earlier of inFileOrder.slice(0, at)) {
          const both = meetBands(earlier.band, later.band);
          if (!both) continue;
          report(whereOf(later, "weight"), {
            message: heard("bandFindings").overlap({ later: later.id, earlier: earlier.id, band: sayBand(both) }),
            fix: "Let one of them own it: `under` where the other says `from`, or `over` where the other says `up to`",
            cause: whereOf(earlier, "weight"),
          });
        }
      });
    }
  },
};
