/** Changes that ask for more than their author says. */
import { signOffsStand } from "../../domain/records/change-class.ts";
import { contentOf, contentOfIssue } from "../../domain/records/freeze.ts";
import { differenceBetween } from "../../domain/records/revisions.ts";
import { sayDifference } from "../../domain/records/say-difference.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { issuesOf } from "../../domain/records/issues.ts";
import { ownChange, recordsOf } from "../records.ts";

/**
 * `sign-offs: stand` is only for a change that leaves what people do as it was. Compares the present text with the
 * newest earlier issue; without one there is nothing to compare.
 */
export const signOffsUnderstated: Rule = {
  id: "record/sign-offs-understated",
  severity: "error",
  asks: "`sign-offs: stand` is only for a change that leaves as it was what people do.",
  why: "Someone signed off on the old way goes on working that way, with a record that says she knows the new one.",
  source:
    "common practice, no source: holds, bands, parts, counts and the order of a critical step are at least " +
    "procedural changes",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { record, platform } of recordsOf(collection, damaged)) {
      const own = ownChange(record);
      const earlier = issuesOf(collection, record).findLast(({ revision }) => revision < record.revision);
      const before = earlier && contentOfIssue(earlier);
      if (own?.signOffs !== "stand" || !before) continue;
      const difference = differenceBetween(before, contentOf(record, platform));
      if (signOffsStand(difference.class)) continue;
      const weighty = {
        ...difference,
        steps: difference.steps.filter((step) => !signOffsStand(step.class)),
        fields: difference.fields.filter((field) => !signOffsStand(field.class)),
      };
      report(whereOf(own, "sign-offs"), {
        message:
          `\`sign-offs: stand\`, but what people do has changed since ` +
          `revision ${before.revision}: ${sayDifference(weighty)}`,
        fix: "Write `sign-offs: again`",
        actual: "stand",
        expected: ["again"],
        cause: earlier.where,
      });
    }
  },
};
