/** Temporary amendments that run for longer than the service allows. */
import { addDays } from "../../domain/records/signoffs.ts";
import { amendmentDaysOf } from "../../domain/words/days.ts";
import { sayDate } from "../../domain/words/say.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { amendmentsOf } from "../records.ts";

/** From its first to its last day, both counted, an amendment runs for at most `policy: amendment-days`. */
export const amendmentTooLong: Rule = {
  id: "record/amendment-too-long",
  severity: "error",
  asks: "A temporary amendment runs for at most `amendment-days` of the policy, 90 if it does not say.",
  why: "What holds for longer is the procedure: it needs a revision, its own approval, and new cards.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    const days = amendmentDaysOf(collection.service);
    for (const { amendment } of amendmentsOf(collection)) {
      if (amendment.from === "" || amendment.until === "") continue;
      const last = addDays(amendment.from, days - 1);
      if (amendment.until > last)
        report(whereOf(amendment, "until"), {
          message:
            `Amendment \`${amendment.number}\` begins on ${sayDate(amendment.from)} and runs until ` +
            `${sayDate(amendment.until)}, expected at most ${days} days`,
          fix: `Let it end on ${last} or earlier, or write a new revision of the procedure`,
          actual: amendment.until,
          expected: [last],
          cause: whereOf(amendment, "from"),
        });
    }
  },
};
