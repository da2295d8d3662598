/** Rule fastening/not-checked. */
import type { Rule } from "../../findings/finding.ts";

/** A safety-critical step that turns a fastening also has it checked. */
export const notChecked: Rule = {
  id: "fastening/not-checked",
  severity: "warning",
  asks: "A safety-critical step that turns a fastening also has it checked.",
  why: "A fastening that nobody looks at again is trusted on one person's word.",
  source: "An error-capturing method follows a critical maintenance task (EU 145.A.48(b), second hand)",
  byPlatform: true,
  check({ platforms }, report, { damaged }) {
    for (const { procedures } of platforms)
      for (const procedure of procedures)
        // A check that could not be read may be the one that seems to be missing.
        for (const step of damaged.has(procedure.file) ? [] : procedure.steps) {
          if (step.procedure !== procedure.id || !step.critical || step.checks.length > 0) continue;
          for (const turn of step.operations.filter((operation) => operation.kind === "turn"))
            report(turn.where, {
              message: `Nobody checks \`${turn.fastening}\`, which this critical step turns to \`${turn.to}\``,
              fix: "Add a `::check[…]{answer=…}` to the step",
            });
        }
  },
};
