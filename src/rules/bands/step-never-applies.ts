/** Rule bands/step-never-applies. */
import { meetBands } from "../../domain/bands.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";

/** A step is for at least one patient of its procedure. */
export const stepNeverApplies: Rule = {
  id: "bands/step-never-applies",
  severity: "error",
  asks: "A step is for at least one patient of its procedure.",
  why: "A step that is for nobody is never done, and everybody believes that it is.",
  source: "common practice, no source",
  check({ platforms }, report) {
    for (const { procedures } of platforms)
      for (const procedure of procedures)
        for (const step of procedure.steps) {
          if (step.procedure !== procedure.id || meetBands(step.band, procedure.band)) continue;
          const key = step.ownWeight ? "weight" : "age";
          report(whereOf(step, key), {
            message: `This step is for \`${(step.ownWeight ?? step.ownAge ?? step.band.weight).text}\`, and its procedure for \`${procedure.band[key].text}\`: nobody is in both`,
            fix: `Change \`${key}\` of the step or of the procedure`,
          });
        }
  },
};
