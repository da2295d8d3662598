/** `load/out-of-balance`: every arrangement balances within the platform's limits. */
import type { Rule } from "../../findings/finding.ts";
import { brokenLoads, placeOfBlame, sayAlso, sayBandEnd, sayKg, sayMm, sayBrokenFor } from "./words.ts";
import { heard } from "../../words/heard.ts";

/** Reports each configuration or option that takes the balance point out of `limits: balance` at an end of its band. */
export const outOfBalance: Rule = {
  id: "load/out-of-balance",
  severity: "error",
  asks: "The platform balances within its limits with the lightest and with the heaviest patient.",
  why:
    "Between the two ends of a band the balance point moves one way only, so both ends within the limits are " +
    "proof for all patients. Outside them a platform can tip on its wheels or under its lift points.",
  source: "FAA-H-8083-1B, chapter 2 (moment over weight against a range; from memory)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const broken of brokenLoads(collection, damaged)) {
      if (broken.kind !== "limit" || broken.limit === "mass" || !broken.totals.balanceMm) continue;
      const { crossing, patientKg, totals } = broken;
      const end = crossing.broken === "over" ? "end" : "begin";
      report(placeOfBlame(broken), {
        actual: sayMm(totals.balanceMm!),
        expected: [`${broken.limit === "balance-from" ? "at least" : "at most"} ${sayMm(crossing.limitValue)}`],
        message: heard("loadFindings")[broken.limit === "balance-from" ? "tooFarForward" : "tooFarBack"]({
          arrangement: broken.arrangement.name,
          balance: sayMm(totals.balanceMm!),
          weight: sayKg(patientKg),
          limit: sayMm(crossing.limitValue),
          whom: sayBrokenFor(broken),
          also: sayAlso(broken.also),
        }),
        fix:
          `Move something ${broken.limit === "balance-from" ? "away from" : "towards"} the datum` +
          (broken.always || !crossing.atKg ? "" : `, let the band ${end} at ${sayBandEnd(crossing.atKg, end)}`) +
          `, or correct \`limits: balance\` in platform.yaml from the maker's data`,
      });
    }
  },
};
