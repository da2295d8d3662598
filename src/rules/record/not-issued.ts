/** Approved revisions whose day has come and that nobody issued. */
import { contentOfIssue } from "../../domain/records/freeze.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { issuesOf } from "../../domain/records/issues.ts";
import { recordsOf } from "../records.ts";

/**
 * An approved revision of a document that was issued before is issued by the day from which it is to count; until it
 * is, the issue before it counts.
 */
export const notIssued: Rule = {
  id: "record/not-issued",
  severity: "warning",
  asks: "An approved revision is issued by the day on which it takes effect.",
  why:
    "Until it is issued the revision before it counts everywhere, whatever the file says; a lost issue looks " +
    "the same.",
  source: "ISO 9001:2015, 7.5.3.1 a (available where and when it is needed)",
  byPlatform: true,
  check(collection, report, { today, damaged }) {
    for (const { record } of recordsOf(collection, damaged)) {
      const newest = issuesOf(collection, record).at(-1);
      if (!newest || record.status !== "approved" || newest.revision >= record.revision) continue;
      if (record.effective === undefined || record.effective > today) continue;
      // A day before the issue's own is record/date-order.
      if (record.effective < (contentOfIssue(newest)?.effective ?? "")) continue;
      report(whereOf(record, "effective"), {
        message:
          `Revision ${record.revision} is approved for ${record.effective} and is not issued: ` +
          `revision ${newest.revision} counts`,
        fix:
          `Issue it with \`rerig issue ${record.platform}/${record.id}\`; if it was issued before, put its file ` +
          "in `issued/` back from your version control or from a backup",
        cause: newest.where,
      });
    }
  },
};
