/** Steps of a temporary amendment that would take the place of nothing, or of what another one has replaced. */
import { isAbout } from "../../domain/force/amendments.ts";
import { forceOn } from "../../domain/force/force.ts";
import { sayList } from "../../schema/wording.ts";
import type { Rule } from "../../findings/finding.ts";
import { amendmentsOf, hasEnded } from "../records.ts";

/** Each step that an amendment replaces is there in a procedure that it names, and no other one replaces it then. */
export const amendmentUnknownStep: Rule = {
  id: "record/amendment-unknown-step",
  severity: "error",
  asks: "A step that a temporary amendment replaces is one of the procedure's own, and is replaced by it alone.",
  why: "The step that was to be done instead would be shown to nobody, or stand against another one.",
  source: "common practice, no source",
  byPlatform: true,
  check(files, report, { today }) {
    for (const { amendment, platform } of amendmentsOf(files)) {
      if (hasEnded(amendment, today)) continue;
      const day = amendment.from > today ? amendment.from : today;
      const own = forceOn(files, day).collection.platforms.find(({ id }) => id === platform.id)?.procedures ?? [];
      const about = own.filter((procedure) => isAbout(amendment, procedure));
      if (about.length === 0) continue;
      const ids = about.flatMap(({ id: procedure, steps }) =>
        steps.flatMap((step) => (step.procedure === procedure && step.id !== undefined ? [step.id] : [])),
      );
      amendment.steps.forEach(({ replaces }, at) => {
        if (!replaces) return;
        const { id, where } = replaces;
        const twin = amendment.steps.slice(0, at).find((other) => other.replaces?.id === id);
        const other = (platform.amendments ?? []).find(
          (each) =>
            each !== amendment &&
            each.file < amendment.file &&
            each.from <= amendment.until &&
            each.until >= amendment.from &&
            about.some((procedure) => isAbout(each, procedure)) &&
            each.steps.some((step) => step.replaces?.id === id),
        );
        if (!ids.includes(id))
          report(where, {
            message: `No step of ${sayList(about.map((each) => `\`${each.id}\``))} has the id \`${id}\``,
            fix:
              ids.length > 0
                ? `Write the id of the step that is replaced: ${sayList(
                    [...new Set(ids)].map((each) => `\`${each}\``),
                    "or",
                  )}`
                : "The steps of the procedure have no ids: give them some in a new revision, or add a warning instead",
            actual: id,
            expected: [...new Set(ids)],
          });
        else if (twin ?? other)
          report(where, {
            message: twin
              ? `The step \`${id}\` is replaced twice`
              : `The step \`${id}\` is replaced by amendment \`${other!.number}\` too, in the same days`,
            fix: "Write one step that says what is to be done, and remove the other",
            cause: twin?.replaces?.where ?? other!.where,
          });
      });
    }
  },
};
