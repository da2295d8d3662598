/** Rule bands/step-never-applies. */
import { meet, meetBands } from "../../domain/bands/bands.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";

/** A step is for at least one patient of its procedure, and of the service. */
export const stepNeverApplies: Rule = {
  id: "bands/step-never-applies",
  severity: "error",
  asks: "A step is for at least one patient of its procedure, and of the service.",
  why: "A step that is for nobody is never done, and everybody believes that it is.",
  source: "common practice, no source",
  byPlatform: true,
  check({ service, platforms }, report) {
    for (const { procedures } of platforms)
      for (const procedure of procedures) {
        const carried = meetBands(procedure.band, service.band);
        for (const step of procedure.steps) {
          if (step.procedure !== procedure.id || (!step.ownWeight && !step.ownAge)) continue;
          const isInProcedure = meetBands(step.band, procedure.band) !== undefined;
          // A procedure that is for nobody of the service is no fault of its steps.
          if (isInProcedure && (!carried || meetBands(step.band, carried))) continue;
          const other = isInProcedure ? carried! : procedure.band;
          const key = step.ownAge && (!step.ownWeight || meet(step.ownWeight, other.weight)) ? "age" : "weight";
          const own = (key === "age" ? step.ownAge : step.ownWeight) ?? step.band[key];
          report(
            whereOf(step, key),
            isInProcedure
              ? {
                  message:
                    `This step is for \`${own.text}\`, and the service carries nobody of this band in this ` +
                    `procedure: \`${other[key].text}\``,
                  fix: `Change \`${key}\` of the step, or remove the step`,
                }
              : {
                  message:
                    `This step is for \`${own.text}\`, and its procedure for \`${other[key].text}\`: nobody is ` +
                    "in both",
                  fix: `Change \`${key}\` of the step or of the procedure`,
                },
          );
        }
      }
  },
};
