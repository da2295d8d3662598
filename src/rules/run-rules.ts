/** Runs every rule over a collection and applies the service's policy. */
import { type Finding, Findings, type Remark } from "../findings/finding.ts";
import { forceOn } from "../domain/force/force.ts";
import type { Collection, Severity } from "../schema/collection.ts";
import { rules } from "./all.ts";
import { FIXED_GROUPS } from "../schema/rule-names.ts";

/** Groups that judge what is in force, and what would be with the proposals; the others judge the files. */
const OF_FORCE: ReadonlySet<string> = new Set(["bands", "parts", "fastening", "plan", "load", "card"]);

/** Rules that only judge what is in force: what lies in a folder or is due is not so by a proposal. */
const ONLY_OF_FORCE: ReadonlySet<string> = new Set([
  "card/folder-stale",
  "card/unknown-check",
  "record/review-overdue",
  "record/out-of-date",
]);

/** Whether a rule judges what is in force and, marked, what a proposal would bring; the others judge the files. */
export function judgesForce(rule: string): boolean {
  return OF_FORCE.has(rule.slice(0, rule.indexOf("/"))) || ONLY_OF_FORCE.has(rule);
}

/**
 * What reading found and what the rules find on a day (`YYYY-MM-DD`), after the policy. Not sorted. `collection` is the
 * files as they were read; what only comes with a proposal (`domain/force`) is marked as proposed.
 */
export function runRules(collection: Collection, read: Findings, today: string): Finding[] {
  const findings = new Findings();
  for (const finding of read.list) findings.keep(finding);
  const damaged = new Set(read.list.filter(({ severity }) => severity === "error").map(({ file }) => file));
  const force = forceOn(collection, today);
  for (const rule of rules) {
    const run = (judged: Collection, proposed: boolean) => {
      try {
        rule.check?.(
          judged,
          (where, remark) =>
            findings.add(rule.id, rule.severity, where, { ...remark, ...(proposed ? { proposed } : {}) }),
          { today, damaged },
        );
      } catch (error) {
        // A fault of the program in one rule must not cost the educator the findings of all others.
        findings.error(rule.id, collection.service.where, unfinished(rule.id, error));
      }
    };
    const isOfForce = judgesForce(rule.id);
    run(isOfForce ? force.collection : collection, false);
    if (isOfForce && !ONLY_OF_FORCE.has(rule.id) && force.proposed !== force.collection) run(force.proposed, true);
  }
  return findings.list.flatMap((finding) => {
    const severity = severityOf(collection, finding);
    return severity === "off" ? [] : [{ ...finding, severity }];
  });
}

/** What stands in the place of a rule's findings where the rule itself broke down. */
function unfinished(id: string, error: unknown): Remark {
  const reason = error instanceof Error ? error.message : String(error);
  return {
    message: `The rule \`${id}\` could not be finished, so this collection is not proved: ${reason}`,
    fix: "This is a fault in Rerig, not in your files: report it with these files. The other findings hold",
  };
}

function severityOf({ service }: Collection, { rule, severity }: Finding): Severity | "off" {
  const group = rule.slice(0, rule.indexOf("/"));
  const asked = Object.hasOwn(service.policy, rule) ? service.policy[rule] : undefined;
  if (!asked || group === "text" || (FIXED_GROUPS.includes(group) && asked === "off")) return severity;
  return asked;
}
