/** Documents whose review is late. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import { recordsOf } from "../records.ts";

/** An approved document is reviewed by its `review-by`. */
export const reviewOverdue: Rule = {
  id: "record/review-overdue",
  severity: "warning",
  asks: "An approved document is reviewed by its `review-by`.",
  why: "What nobody has looked at for long no longer fits the equipment.",
  source: "ISO 9001:2015, 7.5.2 c; yearly review of aviation manuals is common practice, no source",
  byPlatform: true,
  check(collection, report, { today }) {
    for (const { record } of recordsOf(collection))
      if (record.status === "approved" && record.reviewBy && record.reviewBy < today)
        report(whereOf(record, "review-by"), {
          message: `The review was due by ${record.reviewBy}`,
          fix: "Review it and give the next date; if words change, raise the revision",
        });
  },
};
