/** Dates that contradict each other. */
import { contentOfIssue } from "../../domain/records/freeze.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { issuesOf } from "../../domain/records/issues.ts";
import { amendmentsOf, ownChange, recordsOf } from "../records.ts";

/**
 * Change dates rise with their revisions; a revision takes effect on or after the date of its change and not before the
 * revision before it; it is reviewed after it took effect.
 */
export const dateOrder: Rule = {
  id: "record/date-order",
  severity: "error",
  asks: "A later revision has a later date; a revision takes effect after it was written, and is reviewed after that.",
  why: "Which card was in force on a day is answered from these dates.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const { record } of recordsOf(collection)) {
      const changes = [...record.changes].sort((a, b) => a.revision - b.revision);
      for (const [at, change] of changes.entries()) {
        const before = changes[at - 1];
        if (before && change.date && change.revision > before.revision && change.date < before.date)
          report(whereOf(change, "date"), {
            message:
              `Revision ${change.revision} has the date ${change.date}, before revision ${before.revision} ` +
              `of ${before.date}`,
            fix: "Correct one of the two dates",
            cause: whereOf(before, "date"),
          });
      }
      const own = ownChange(record);
      const issued = issuesOf(collection, record)
        .filter((issue) => issue.revision < record.revision)
        .flatMap((issue) => contentOfIssue(issue) ?? [])
        .findLast((content) => content.effective);
      if (record.effective && own && record.effective < own.date)
        report(whereOf(record, "effective"), {
          message: `Takes effect on ${record.effective}, before its change of ${own.date}`,
          fix: `Let it take effect on ${own.date} or later, or correct the date of the change`,
          cause: whereOf(own, "date"),
        });
      else if (record.effective && issued?.effective && record.effective < issued.effective)
        report(whereOf(record, "effective"), {
          message:
            `Takes effect on ${record.effective}, before revision ${issued.revision}, which took effect ` +
            `on ${issued.effective}`,
          fix: `Give ${issued.effective} or a later date`,
        });
      if (record.effective && record.reviewBy && record.reviewBy <= record.effective)
        report(whereOf(record, "review-by"), {
          message: `To be reviewed by ${record.reviewBy}, which is not after it takes effect on ${record.effective}`,
          fix: `Give a date after ${record.effective}`,
        });
    }
    for (const { amendment } of amendmentsOf(collection)) {
      const { from, until } = amendment;
      if (from && until && until < from)
        report(whereOf(amendment, "until"), {
          message: `Ends on ${until}, before it begins on ${from}`,
          fix: `Give ${from} or a later date`,
          cause: whereOf(amendment, "from"),
        });
    }
  },
};
