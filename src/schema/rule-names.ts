/** The names of all rules, so that a policy can be checked without loading them. */

const NAMES = {
  text:
    "syntax unknown-field missing-field bad-value unknown-directive unknown-id duplicate-id duplicate-code not-data " +
    "not-read hold-without-check no-configuration",
  bands: "doubt-fetch unclear empty gap overlap outside-service outside-rating step-never-applies",
  parts: "not-there not-enough place-in-use stands-on left-loose unknown-start no-home",
  fastening: "held left-open no-change not-checked self-checked",
  plan: "unreachable no-way-back required-not-allowed card-too-early silent-slip standing-unclear",
  load: "over-mass out-of-balance over-rating no-mass",
  photo: "missing no-alt mark-outside unreadable too-large none low-resolution older-than-item unused",
  wording:
    "long-sentence two-actions vague side-without-viewpoint passive warning-after-step weight-in-text other-name " +
    "count-differs band-differs nothing-turned",
  record:
    "revision-not-raised edition-not-raised no-change-entry issue-altered issue-lost not-issued approval-altered " +
    "same-approver " +
    "date-order sign-offs-understated " +
    "guard-lost safeguard-lost out-of-date review-overdue no-authority withdrawn-included " +
    "remark-open remark-unknown-step " +
    "amendment-lapsed amendment-too-long amendment-unknown-revision amendment-unknown-step",
  card: "does-not-fit contradiction folder-stale unknown-check not-looked-at",
} as const;

/** Every rule as `group/name`. */
export const RULE_NAMES: readonly string[] = Object.entries(NAMES).flatMap(([group, names]) =>
  names.split(" ").map((name) => `${group}/${name}`),
);

/** Groups whose rules a policy can't switch off. */
export const FIXED_GROUPS: readonly string[] = ["bands", "parts", "fastening", "load"];

/** Rules of these groups that only warn. */
export const WARNINGS: readonly string[] = ["fastening/not-checked", "fastening/self-checked", "load/no-mass"];

const known = new Set(RULE_NAMES);

/** Whether there is a rule of this name. */
export function isRuleName(name: string): boolean {
  return known.has(name);
}

/** Whether a service's policy can make the rule graver or less grave than it is. */
export function isOpenToPolicy(name: string): boolean {
  const group = name.slice(0, name.indexOf("/"));
  return group !== "text" && (!FIXED_GROUPS.includes(group) || WARNINGS.includes(name));
}
