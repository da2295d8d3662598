/** `load/over-rating`: no fastening has to hold more than its rated strength. */
import { exactly, toText } from "../../domain/numbers/rational.ts";
import type { Rule } from "../../findings/finding.ts";
import { brokenLoads, placeOfBlame, sayAlso, sayKg, sayForce } from "./words.ts";
import { heard } from "../../words/heard.ts";

/**
 * Reports each configuration or option in which the inertia load on a fastening is over `rated`, in the direction with
 * the largest load.
 */
export const overRating: Rule = {
  id: "load/over-rating",
  severity: "error",
  asks: "With the platform's factors no fastening has to hold more than it is rated for, whoever lies there.",
  why:
    "What a fastening lets go of in an emergency landing or a crash becomes a missile. A direction without a " +
    "factor is not checked, nor one that the fastening's `against` leaves out.",
  source:
    "14 CFR 29.561(b)(3), 25.561 (factors per direction, confirmed); F = m · n · 9.80665 m/s² (3rd CGPM 1901, " +
    "from memory)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const broken of brokenLoads(collection, damaged)) {
      if (broken.kind !== "rating") continue;
      const { held, fastening, direction, patientKg } = broken;
      const load = heard("loadFindings")[held.patient ? "loadWithPatient" : "load"]({
        mass: sayKg(held.massKg),
        weight: sayKg(patientKg),
        factor: toText(direction.factor!, 6),
      });
      report(placeOfBlame(broken), {
        actual: sayForce(direction.newtons!),
        expected: [`at most ${sayForce(exactly(fastening.ratedN!))}`],
        message:
          `In \`${broken.arrangement.name}\` \`${fastening.id}\` has to ` +
          `hold ${sayForce(direction.newtons!)} ${direction.name} (${load}), and is ` +
          `rated ${sayForce(exactly(fastening.ratedN!))}${sayAlso(broken.also)}`,
        fix:
          `Fit less there, lower the upper end of the band, or use a stronger fastening and correct \`rated\` ` +
          `of \`${fastening.id}\` from its maker's data`,
        cause: fastening.where,
      });
    }
  },
};
