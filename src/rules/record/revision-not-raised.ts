/** Edits to what was issued under the same revision. */
import { contentOf, contentOfIssue, differs } from "../../domain/records/freeze.ts";
import { differenceBetween } from "../../domain/records/revisions.ts";
import { sayDifference } from "../../domain/records/say-difference.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { issuesOf } from "../../domain/records/issues.ts";
import { recordsOf } from "../records.ts";

/**
 * Whatever a reader could notice asks for a new revision once the old one is issued. Also reported: a revision below
 * one that was issued, and a
 * change entry for a revision above the file's own. Moving `review-by`, the owner or the approver, and editing
 * `changes`, is no new revision.
 */
export const revisionNotRaised: Rule = {
  id: "record/revision-not-raised",
  severity: "error",
  asks: "Once a revision is issued, its words stay; another wording is another revision.",
  why: "Two texts with the same revision are in use, and nobody can tell the card in the hand from the page.",
  source: "ISO 9001:2015, 7.5.3.2 c (control of changes)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { record, platform } of recordsOf(collection, damaged)) {
      const where = whereOf(record, "revision");
      const issues = issuesOf(collection, record);
      const newest = issues.at(-1);
      const announced = Math.max(record.revision, ...record.changes.map(({ revision }) => revision));
      if (announced > record.revision) {
        const { date } = record.changes.find(({ revision }) => revision === announced)!;
        report(where, {
          message: `\`revision\` is ${record.revision}, but \`changes\` has an entry for revision ${announced}`,
          fix:
            `Raise \`revision\` to ${announced} and let it take effect on ${date} or later, or, if nothing is ` +
            "changed yet, take the entry out",
        });
        continue;
      }
      if (newest && newest.revision > record.revision) {
        report(where, {
          message: `\`revision\` is ${record.revision}, but revision ${newest.revision} was issued`,
          fix: `Raise \`revision\` above ${newest.revision}`,
          cause: newest.where,
        });
        continue;
      }
      const issue = issues.find(({ revision }) => revision === record.revision);
      const issued = issue && contentOfIssue(issue);
      const now = issued && contentOf(record, platform);
      if (issued && now && differs(issued, now))
        report(where, {
          message:
            `What revision ${record.revision} says is no longer what was ` +
            `issued: ${sayDifference(differenceBetween(issued, now))}`,
          fix:
            `Raise \`revision\` to ${record.revision + 1} and say in \`changes\` what is new, or take the edit back` +
            (issued.effective === undefined && record.effective !== undefined
              ? ": it was issued without `effective`, and a day can't be added to what is issued"
              : ""),
          cause: issue.where,
        });
    }
  },
};
