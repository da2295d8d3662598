/** Steps that lose in a revision what kept them safe. */
import type { StepContent } from "../../domain/records/content.ts";
import { contentOf, contentOfIssue } from "../../domain/records/freeze.ts";
import { issuesOf } from "../../domain/records/issues.ts";
import { differenceBetween } from "../../domain/records/revisions.ts";
import { type Rule } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";
import { recordsOf } from "../records.ts";

/**
 * Compares each step of a revision in work with the same step of the newest earlier issue: its mark, its hold, its
 * checks, its warnings and cautions, and the reason of a safety-critical step. Nothing is said of a step that the
 * change entry names, which is so shown again to everybody who was signed off, nor once the revision is issued.
 */
export const safeguardLost: Rule = {
  id: "record/safeguard-lost",
  severity: "warning",
  asks: "A step keeps its mark, hold, checks, warnings and reason from issue to issue, or the change entry names it.",
  why: "Taken out on the way to something else, nobody misses it: the page looks complete without it.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { record, platform } of recordsOf(collection, damaged)) {
      if (!("sections" in record)) continue;
      const issues = issuesOf(collection, record),
        earlier = issues.at(-1),
        before = earlier && contentOfIssue(earlier);
      if (!before || before.revision >= record.revision) continue;
      const own = record.steps.filter((step) => step.procedure === record.id);
      for (const { kind, before: was, after: is, because } of differenceBetween(before, contentOf(record, platform))
        .steps) {
        if (kind !== "changed" || because?.named) continue;
        const lost = SAFEGUARDS.filter(({ goes }) => goes(was!.step, is!.step));
        if (lost.length === 0) continue;
        const say = heard("safeguardFindings"),
          id = is!.step.id;
        report(own[is!.number - 1]!.where, {
          message: say.lost({
            number: was!.number,
            revision: before.revision,
            what: lost.map(({ name }) => say[name]).join(", "),
          }),
          fix: id === undefined ? say.putBackUnnamed : say.putBack({ id }),
          cause: earlier.where,
        });
      }
    }
  },
};

const alertsOf = ({ alerts, alertsAfter }: StepContent) =>
  [...alerts, ...alertsAfter].filter(({ signal }) => signal !== "note").length;

type Safeguard = "mark" | "hold" | "checks" | "alerts" | "reason";

const SAFEGUARDS: readonly { readonly name: Safeguard; goes(was: StepContent, is: StepContent): boolean }[] = [
  { name: "mark", goes: (was, is) => was.critical && !is.critical },
  { name: "hold", goes: (was, is) => was.hold && !is.hold },
  { name: "checks", goes: (was, is) => is.checks.length < was.checks.length },
  { name: "alerts", goes: (was, is) => alertsOf(is) < alertsOf(was) },
  { name: "reason", goes: (was, is) => was.critical && was.reason !== undefined && is.reason === undefined },
];
