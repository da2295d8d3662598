/** The table of rules against the published list of findings. */
import { existsSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { rules } from "../../src/rules/all.ts";
import { RULE_NAMES } from "../../src/schema/rule-names.ts";

/** The findings of the file format's own page, group by group: errors, then warnings. */
const PUBLISHED: Readonly<Record<string, readonly [errors: string, warnings: string]>> = {
  text: [
    "syntax unknown-field missing-field bad-value unknown-directive unknown-id duplicate-id duplicate-code not-data",
    "not-read hold-without-check no-configuration",
  ],
  bands: ["unclear empty gap overlap outside-service outside-rating step-never-applies doubt-fetch", ""],
  parts: ["not-there not-enough place-in-use stands-on left-loose unknown-start no-home", ""],
  fastening: ["held left-open no-change", "not-checked self-checked"],
  plan: ["unreachable no-way-back card-too-early required-not-allowed", "silent-slip standing-unclear"],
  load: ["over-mass out-of-balance over-rating", "no-mass"],
  photo: ["missing no-alt mark-outside unreadable too-large", "none low-resolution older-than-item unused"],
  wording: [
    "",
    "long-sentence two-actions vague side-without-viewpoint passive warning-after-step weight-in-text other-name " +
      "count-differs band-differs nothing-turned",
  ],
  record: [
    "revision-not-raised edition-not-raised " +
      "no-change-entry issue-altered issue-lost same-approver date-order sign-offs-understated " +
      "guard-lost amendment-too-long amendment-unknown-revision amendment-unknown-step",
    "safeguard-lost out-of-date review-overdue no-authority not-issued approval-altered withdrawn-included " +
      "amendment-lapsed remark-open remark-unknown-step",
  ],
  card: ["does-not-fit contradiction", "folder-stale unknown-check not-looked-at"],
};

const published = Object.entries(PUBLISHED).flatMap(([group, [errors, warnings]]) => [
  ...errors
    .split(" ")
    .filter(Boolean)
    .map((name) => [`${group}/${name}`, "error"] as const),
  ...warnings
    .split(" ")
    .filter(Boolean)
    .map((name) => [`${group}/${name}`, "warning"] as const),
]);

describe("the table of rules", () => {
  it("holds every published rule with its severity, and no other", () => {
    const expected = published.map(([id, severity]) => `${id} ${severity}`);
    expect(rules.map(({ id, severity }) => `${id} ${severity}`).sort()).toEqual(expected.sort());
  });

  it("has every rule's name among those that a service's policy may hold", () => {
    expect([...RULE_NAMES].sort()).toEqual(rules.map(({ id }) => id).sort());
  });

  it.each(rules.map((rule) => [rule.id, rule] as const))(
    "%s says what it asks, why, and whose rule it is",
    (_, { asks, why, source }) => {
      for (const words of [asks, why, source]) expect(words.trim().length).toBeGreaterThan(10);
      expect(asks).toMatch(/[.`]$/);
    },
  );

  it.each(rules.map(({ id }) => id))("%s has a good and a bad example", (id) => {
    for (const part of ["ok", "not-ok", "findings.txt"])
      expect(existsSync(resolve(import.meta.dirname, "../fixtures/rules", id, part)), part).toBe(true);
  });
});
