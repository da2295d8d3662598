/** Authors who approve their own words. */
import { authorOf, isSameName, isSelfApproved } from "../../domain/records/author.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { amendmentsOf, recordsOf } from "../records.ts";

/**
 * A revision is approved by someone other than its author: `by` of its change entry, or the owner when there is none.
 */
export const sameApprover: Rule = {
  id: "record/same-approver",
  severity: "error",
  asks: "A revision is approved by someone other than its author.",
  why: "Nobody sees the slip in a text that they wrote themselves.",
  source:
    "ISO 9001:2015, 7.5.2 c (review and approval); that the approver is another person is common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const { record } of recordsOf(collection))
      if (isSelfApproved(record))
        report(whereOf(record, "approved-by"), {
          message: `\`${record.approvedBy}\` approves revision ${record.revision} and wrote it`,
          fix: `Have someone other than \`${authorOf(record)}\` approve it, and name them in \`approved-by\``,
        });
    for (const { amendment } of amendmentsOf(collection))
      if (amendment.owner !== "" && isSameName(amendment.owner, amendment.approvedBy))
        report(whereOf(amendment, "approved-by"), {
          message: `\`${amendment.approvedBy}\` approves amendment \`${amendment.number}\` and wrote it`,
          fix: `Have someone other than \`${amendment.owner}\` approve it, and name them in \`approved-by\``,
        });
  },
};
