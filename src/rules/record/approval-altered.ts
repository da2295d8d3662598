/** Owner, approver or review date that are no longer what was issued. */
import { contentOf, contentOfIssue, differs } from "../../domain/records/freeze.ts";
import { isApprovedAsFrozen } from "../../domain/records/frozen.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { issueOf } from "../../domain/records/issues.ts";
import { recordsOf } from "../records.ts";

const FIELDS = [
  ["approved-by", "approvedBy"],
  ["owner", "owner"],
  ["review-by", "reviewBy"],
] as const;

/** Of an issued revision, `approved-by`, `owner` and `review-by` stay as they were frozen: those hold. */
export const approvalAltered: Rule = {
  id: "record/approval-altered",
  severity: "warning",
  asks: "Once a revision is issued, its approver, owner and review date stay; others come with another revision.",
  why: "Who approved a text, and until when, is a record; pages and lists show what was frozen, not what a file says.",
  source: "ISO 9001:2015, 7.5.2 c and 7.5.3 (approval; records are protected from unintended alteration)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { record, platform } of recordsOf(collection, damaged)) {
      const issue = issueOf(collection, record);
      const issued = issue && contentOfIssue(issue),
        now = issued && contentOf(record, platform);
      // Another text under the same revision is record/revision-not-raised.
      if (!issue || !issued || !now || isApprovedAsFrozen(now, issued) || differs(issued, now)) continue;
      for (const [key, field] of FIELDS)
        // What an issue of the first form lacks is taken from the file.
        if (!(issue.form !== 2 && issued.record[field] === undefined) && now.record[field] !== issued.record[field])
          report(whereOf(record, key), {
            message:
              `\`${key}\` is ${say(now.record[field])}, but revision ${record.revision} was issued with ` +
              `${say(issued.record[field])}, which holds`,
            fix: `Put back ${say(issued.record[field])}, or raise \`revision\` and have that approved and issued`,
            cause: issue.where,
          });
    }
  },
};

function say(value: string | undefined): string {
  return value === undefined ? "nothing" : `\`${value}\``;
}
