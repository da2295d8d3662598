/** What people and programs are told of findings: order, folding, whole places, facts beside the words. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type Finding, Findings } from "../../src/findings/finding.ts";
import { checkResult, MOST_TOLD, reportText, whereToBegin } from "../../src/findings/report.ts";
import { checkShape } from "../../src/schema/results.ts";
import { judgeFixture } from "../rules/judge.ts";

const at = (file: string, line: number, severity: Finding["severity"], rule: string): Finding => ({
  rule,
  severity,
  file,
  line,
  column: 1,
  message: `${rule} in line ${line}`,
  fix: "Mend it",
});
const heads = (text: string) => text.split("\n").filter((line) => !/^ *(?:fix|see) /.test(line));

describe("the report for people", () => {
  const warnings = Array.from({ length: MOST_TOLD + 1 }, (_, n) => at(`b${n % 3}.mdx`, n + 1, "warning", "photo/none"));
  const few = [at("a.mdx", 9, "warning", "wording/vague"), at("z.mdx", 1, "error", "text/syntax")];
  const errors = Array.from({ length: MOST_TOLD + 1 }, (_, n) => at("y.mdx", n + 1, "error", "parts/not-there"));

  it("tells errors first, then warnings, each in file order", () => {
    const text = reportText([...warnings.slice(0, 2), ...few, errors[1]!, errors[0]!]);
    expect(heads(text).map((line) => line.split(/\s+/).slice(0, 2).join(" "))).toEqual([
      "y.mdx:1:1 error",
      "y.mdx:2:1 error",
      "z.mdx:1:1 error",
      "a.mdx:9:1 warning",
      "b0.mdx:1:1 warning",
      "b1.mdx:2:1 warning",
    ]);
  });

  it("says with which file to begin, where what is said of others may follow from it", () => {
    const plan = at("a.mdx", 1, "error", "plan/unreachable"),
      changed = at("m.mdx", 4, "error", "record/revision-not-raised"),
      broken = at("y.mdx", 2, "error", "text/syntax");
    expect(whereToBegin([plan, changed])).toBe("m.mdx");
    // A file that cannot be read whole comes before one that was changed.
    expect(whereToBegin([plan, changed, broken])).toBe("y.mdx");
    for (const alone of [[plan], [changed], [changed, { ...plan, file: "m.mdx" }], [changed, few[0]!]])
      expect(whereToBegin(alone)).toBeUndefined();
  });

  it("folds more than ten warnings of one rule into one line with their count, and no errors", () => {
    const told = heads(reportText([...warnings, ...few, ...errors]));
    expect(told).toHaveLength(errors.length + 1 + 1 + 1);
    const folded = told.filter((line) => line.includes("photo/none"));
    expect(folded).toHaveLength(1);
    expect(folded[0]).toMatch(/^b0\.mdx:1:1 +warning/);
    expect(folded[0]).toContain("10 more of this rule, 11 in 3 files");
    expect(heads(reportText(warnings.slice(1)))).toHaveLength(MOST_TOLD);
  });

  it("lists every one when all are asked for, and says nothing about nothing", () => {
    expect(heads(reportText([...warnings, ...few, ...errors], { all: true }))).toHaveLength(2 * MOST_TOLD + 4);
    expect(reportText([])).toBe("");
  });
});

describe("a finding for programs", () => {
  it("has the form of the schema, with every finding and no cause", async () => {
    const { collection, findings } = await judgeFixture("parts/not-enough/not-ok");
    const result = checkResult(collection, findings);
    expect(checkShape.parse(result)).toEqual(result);
    expect(result.findings).toHaveLength(findings.length);
    expect(result.findings.find(({ rule }) => rule === "parts/not-enough")).toMatchObject({
      actual: "2",
      expected: ["3"],
    });
  });

  it.each([
    ["text/unknown-id/not-ok"],
    ["text/unknown-field/not-ok"],
    ["text/bad-value/not-ok"],
    ["wording/vague/not-ok"],
    ["wording/other-name/not-ok"],
    ["wording/passive/not-ok"],
  ])("of %s spans just the author's words that it calls `actual`", async (fixture) => {
    const { folder, findings } = await judgeFixture(fixture);
    const rule = fixture.replace(/\/[a-z-]+$/, "");
    const own = findings.filter((finding) => finding.rule === rule);
    expect(own.length).toBeGreaterThan(0);
    for (const { file, line, column, endLine, endColumn, actual } of own) {
      expect(endLine).toBe(line);
      const words = readFileSync(join(folder, file), "utf8").split(/\r?\n/)[line - 1]!;
      expect(words.slice(column - 1, endColumn! - 1).toLowerCase()).toBe(actual?.toLowerCase());
    }
  });

  it("keeps one of two findings that say the same of the same place", () => {
    const findings = new Findings();
    const where = { file: "a.mdx", line: 1, column: 1 };
    findings.error("text/syntax", where, { message: "m", fix: "f" });
    findings.error("text/syntax", { ...where, end: { line: 1, column: 4 } }, { message: "m", fix: "g" });
    expect(findings.list).toHaveLength(1);
  });
});
