/**
 * The questions of pages (`words/english/asking.ts`): each line is whole, each anchor stands in the guide, each rule is
 * one (compared with the guide and the rules themselves).
 */
import { describe, expect, it } from "vitest";
import { guideDirectives, guideParts } from "../../src/docs/format-guide.ts";
import { rules } from "../../src/rules/all.ts";
import { readAsked, rulesAsked } from "../../src/site/find/asked.ts";
import { asking } from "../../src/words/english/asking.ts";

const { here: _, ...pages } = asking.askedHere;
const anchors = new Set([
  ...guideParts().flatMap(({ fields }) => fields.map(({ id }) => id)),
  ...guideDirectives().flatMap(({ name, attributes }) => [name, ...attributes.map(({ id }) => id)]),
]);

describe.each(Object.entries(pages))("the questions of %s", (page, lines) => {
  const asked = readAsked(lines, page.replace(/^guide/, "").toLowerCase());
  it("have an answer, and other wordings", () => {
    for (const [anchor, question, answer, ...others] of asked) {
      expect(question, anchor).toMatch(/\?$/);
      expect(answer, question).toMatch(/\.$/);
      expect(
        others.filter((each) => each === ""),
        question,
      ).toEqual([]);
      expect(others.length, question).toBeGreaterThan(0);
    }
  });
  it("are each asked once", () => {
    const questions = asked.map(([, question]) => question);
    expect(new Set(questions).size).toBe(questions.length);
  });
  if (page.startsWith("guide"))
    it("lead to a field or a block of the guide", () =>
      expect(asked.map(([anchor]) => anchor).filter((each) => !/^asked-/.test(each) && !anchors.has(each))).toEqual(
        [],
      ));
});

it("what authors type of rules is typed of rules that there are, and of each", () => {
  const typed = asking.ruleAsked.of
    .trim()
    .split("\n")
    .map((line) => line.trim().split(": ")[0]!);
  const known = rules.map(({ id }) => id);
  expect(known.filter((id) => !typed.includes(id))).toEqual([]);
  const [ask] = rulesAsked(["parts/not-enough"], asking.ruleAsked.of);
  expect(ask).toContain("not enough pieces");
});
