/** Temporary amendments whose last day is past. */
import { sayDate } from "../../domain/words/say.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { amendmentsOf } from "../records.ts";

/** What holds for some days has been taken away, or made part of the procedure, when they are over. */
export const amendmentLapsed: Rule = {
  id: "record/amendment-lapsed",
  severity: "warning",
  asks: "A temporary amendment whose last day is past is no longer in the collection.",
  why: "It changes nothing any more, but its slip may still lie in a folder, and what it was for may still be so.",
  source: "common practice, no source (an expired temporary note in a folder is a usual finding of audits)",
  byPlatform: true,
  check(collection, report, { today }) {
    for (const { amendment } of amendmentsOf(collection))
      if (
        amendment.from !== "" &&
        amendment.until !== "" &&
        amendment.until < today &&
        amendment.from <= amendment.until
      )
        report(whereOf(amendment, "until"), {
          message: `Amendment \`${amendment.number}\` ended on ${sayDate(amendment.until)}`,
          fix:
            "Take its slips out of the folders and move the file out of the collection; what is to stay becomes a " +
            "new revision of the procedure, or an amendment with a new number",
          actual: amendment.until,
        });
  },
};
