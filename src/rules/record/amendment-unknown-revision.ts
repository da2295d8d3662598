/** Temporary amendments of a revision that nobody works by. */
import { forceOn } from "../../domain/force/force.ts";
import { sayDate } from "../../domain/words/say.ts";
import type { Rule } from "../../findings/finding.ts";
import { amendmentsOf, hasEnded } from "../records.ts";

/** The revision that an amendment names is in force on the day on which it begins, or today if it runs already. */
export const amendmentUnknownRevision: Rule = {
  id: "record/amendment-unknown-revision",
  severity: "error",
  asks: "A temporary amendment is about the revision of a procedure that is in force while it runs.",
  why: "An amendment of another revision changes nothing: the crew would work by steps that it was meant to replace.",
  source: "common practice, no source",
  byPlatform: true,
  check(files, report, { today }) {
    for (const { amendment, platform } of amendmentsOf(files)) {
      if (hasEnded(amendment, today)) continue;
      const day = amendment.from > today ? amendment.from : today;
      const inForce = forceOn(files, day).collection.platforms.find(({ id }) => id === platform.id)?.procedures ?? [];
      for (const { procedure: id, revision, where } of amendment.amends) {
        const procedure = inForce.find((each) => each.id === id);
        if (procedure?.revision === revision || revision === 0) continue;
        if (!procedure && !platform.procedures.some((each) => each.id === id)) continue;
        report(where, {
          message: procedure
            ? `Amendment \`${amendment.number}\` is about revision ${revision} of \`${id}\`, and on ${sayDate(day)} ` +
              `revision ${procedure.revision} is in force`
            : `Amendment \`${amendment.number}\` is about \`${id}\`, of which nothing is in force on ${sayDate(day)}`,
          fix: procedure
            ? `Read revision ${procedure.revision}: if it still needs the amendment, write \`${procedure.revision}\``
            : "Issue the procedure first, or remove it from `amends`",
          actual: String(revision),
          expected: procedure ? [String(procedure.revision)] : [],
        });
      }
    }
  },
};
