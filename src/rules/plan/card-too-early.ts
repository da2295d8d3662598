/** Rule plan/card-too-early. */
import { meetBands } from "../../domain/bands/bands.ts";
import type { Rule } from "../../findings/finding.ts";
import type { Procedure, Step, Where } from "../../schema/collection.ts";

/** Nothing moves or turns after the card is read. */
export const cardTooEarly: Rule = {
  id: "plan/card-too-early",
  severity: "error",
  asks: "Nothing moves or turns after the card is read.",
  why: "What is put on after the reading is looked at by nobody, and the card has already said that all is right.",
  source: "common practice, no source",
  byPlatform: true,
  check({ platforms }, report, { damaged }) {
    for (const procedure of platforms.flatMap(({ procedures }) => procedures)) {
      if (procedure.status === "withdrawn" || damaged.has(procedure.file)) continue;
      for (const step of procedure.steps) {
        const late = step.readsCard && actAfter(procedure, step);
        if (!late) continue;
        report(placeIn(procedure, step), {
          message:
            late === step
              ? "The step that reads the card moves or turns something itself"
              : `The card is read before step ${late.number}, which still moves or turns something`,
          fix: "Leave `::card` out here: every changeover ends with the reading of the card anyway",
          cause: late.where,
        });
        break;
      }
    }
  },
};

/** The first step from this one on that moves or turns something for a patient of this one. */
function actAfter({ steps }: Procedure, reading: Step): Step | undefined {
  return steps
    .slice(steps.indexOf(reading))
    .find(({ operations, band }) => operations.length > 0 && meetBands(band, reading.band) !== undefined);
}

/** Where the author of this procedure can change it: its own `::card`, or the line that includes the step. */
function placeIn(procedure: Procedure, step: Step): Where {
  if (step.procedure === procedure.id) return step.readsCard!;
  const includes = procedure.sections.flatMap(({ entries }) =>
    entries.flatMap((entry) => (entry.kind === "include" && entry.steps.includes(step) ? [entry.where] : [])),
  );
  return includes[0] ?? step.readsCard!;
}
