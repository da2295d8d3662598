/** The rules' page is made from the rules and their examples, and is up to date. */
import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { rules } from "../../src/rules/all.ts";
import { documentRules } from "./document.ts";

const page = resolve(import.meta.dirname, "../../src/rules/RULES.md");

it("the page of rules is what the rules and their examples say", () => {
  const made = documentRules(rules);
  if (process.env["UPDATE"]) writeFileSync(page, made);
  expect(readFileSync(page, "utf8")).toBe(made);
});

it("every rule with a readable example shows what is wrong in it", () => {
  const made = documentRules(rules);
  for (const rule of rules) expect(made).toContain(`### \`${rule.id}\` (${rule.severity})`);
});
