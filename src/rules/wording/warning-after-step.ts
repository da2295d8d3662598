/** Warnings that come too late. */
import { wordsFor } from "../../words/words.ts";
import type { Alert, Procedure } from "../../schema/collection.ts";
import type { Rule } from "../../findings/finding.ts";
import { ownSteps } from "../texts.ts";

/** A warning or caution stands before what it guards; a note may stand anywhere. Applies to every language. */
export const warningAfterStep: Rule = {
  id: "wording/warning-after-step",
  severity: "warning",
  asks: "A warning or a caution stands before the step, or before the instruction within it.",
  why: "Whoever reads and does line by line has done it when the warning comes.",
  source: "ASD-STE100 section 7 and aviation manual practice (from memory)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    const say = wordsFor(collection.service).findings;
    for (const { step } of ownSteps(collection, damaged))
      for (const alert of step.alertsAfter.filter(isDanger))
        report(alert.where, {
          message: say.alertAfter({ signal: alert.signal }),
          fix: say.alertAfterFix,
        });
    for (const platform of collection.platforms)
      for (const procedure of platform.procedures)
        if (procedure.status !== "withdrawn" && !damaged.has(procedure.file))
          for (const alert of alertsAtEnd(procedure))
            report(alert.where, {
              message: say.alertAtEnd({ signal: alert.signal }),
              fix: say.alertAtEndFix,
            });
  },
};

/** Warnings and cautions after a procedure's last step; none if it has no steps. */
function alertsAtEnd(procedure: Procedure): Alert[] {
  const entries = procedure.sections.flatMap((section) => section.entries);
  const last = entries.findLastIndex((entry) => entry.kind === "step" || entry.kind === "include");
  return last < 0
    ? []
    : entries
        .slice(last + 1)
        .filter((entry) => entry.kind === "alert")
        .filter(isDanger);
}

function isDanger(alert: Alert): boolean {
  return alert.signal !== "note";
}
