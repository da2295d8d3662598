/** The rules' page, and the examples on the site, are made from the rules and their examples, and are up to date. */
import { readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { rules } from "../../src/rules/all.ts";
import { documentRules } from "./document.ts";
import { examplesOf } from "./examples.ts";

const page = resolve(import.meta.dirname, "../../src/rules/RULES.md");

it("the page of rules is what the rules and their examples say", () => {
  const made = documentRules(rules);
  if (process.env["UPDATE"]) writeFileSync(page, made);
  expect(readFileSync(page, "utf8")).toBe(made);
});

it("the examples that the site shows are those that the rules' test runs", () => {
  const path = resolve(import.meta.dirname, "../../src/rules/examples.json");
  const made = `${JSON.stringify(examplesOf(rules), null, 2)}\n`;
  if (process.env["UPDATE"]) writeFileSync(path, made);
  expect(readFileSync(path, "utf8")).toBe(made);
});

it("every rule with a readable example shows what is wrong in it", () => {
  const made = documentRules(rules);
  for (const rule of rules) expect(made).toContain(`### \`${rule.id}\` (${rule.severity})`);
});
