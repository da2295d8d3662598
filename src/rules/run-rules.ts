/** Runs every rule over a collection and applies the service's policy. */
import { type Finding, Findings } from "../findings/finding.ts";
import type { Collection, Severity } from "../schema/collection.ts";
import { rules } from "./all.ts";

/** Groups whose rules a policy can't switch off. */
export const FIRM_GROUPS: readonly string[] = ["bands", "parts", "fastening", "load"];

/** What reading found and what the rules find, after the policy; `today` is `YYYY-MM-DD`. Not sorted. */
export function runRules(collection: Collection, read: Findings, today: string): Finding[] {
  const findings = new Findings();
  for (const { rule, severity, message, fix, cause, ...where } of read.list)
    findings.add(rule, severity, where, { message, fix, ...(cause ? { cause } : {}) });
  const damaged = new Set(read.list.filter(({ severity }) => severity === "error").map(({ file }) => file));
  for (const rule of rules)
    rule.check?.(collection, (where, remark) => findings.add(rule.id, rule.severity, where, remark), {
      today,
      damaged,
    });
  return findings.list.flatMap((finding) => {
    const severity = severityOf(collection, finding);
    return severity === "off" ? [] : [{ ...finding, severity }];
  });
}

function severityOf({ service }: Collection, { rule, severity }: Finding): Severity | "off" {
  const group = rule.slice(0, rule.indexOf("/"));
  const asked = Object.hasOwn(service.policy, rule) ? service.policy[rule] : undefined;
  if (!asked || group === "text" || (FIRM_GROUPS.includes(group) && asked === "off")) return severity;
  return asked;
}
