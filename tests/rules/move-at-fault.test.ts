/**
 * A slip in one move is found at that move, and not at the arrangement that can't be reached because of it (invented
 * collection; which move is right is worked out by hand).
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { judgeFolder } from "./judge.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-at-fault-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const HEAD = "status: approved\neffective: 2026-01-05\nowner: Training lead\napproved-by: Head vet\n";
const procedure = (title: string, code: string, steps: string) =>
  `---\ntitle: ${title}\ncode: ${code}\nrevision: 1\nreview-by: 2028-01-05\n${HEAD}---\nWhat it is for.\n${steps}`;
const step = (text: string, act: string) => `\n:::step{by=lead}\n${text}\n\n${act}\n:::\n`;
const configuration = (title: string, code: string, more: string) =>
  `---\ntitle: ${title}\ncode: ${code}\n${more}\n${HEAD}---\nFor seals.\n`;

const FILES: Readonly<Record<string, string>> = {
  "service.yaml": "name: Seals\nweight: from 8 kg to under 140 kg\ncrew: { lead: Handler, second: Driver }\n",
  "sled/platform.yaml": [
    "name: Sled",
    "places:",
    "  bed: { name: Bed, kind: mount, room: 1 }",
    "  slots: { name: Runner slots, kind: mount }",
    "  sides: { name: Side slots, kind: mount }",
    "  bag: { name: Peg bag, kind: stowage }",
    "  shed: { name: Shed, kind: store }",
    "fastenings: {}\n",
  ].join("\n"),
  "sled/equipment.yaml":
    "box: { name: Pup box, home: shed }\nnet: { name: Net, home: shed }\npeg: { name: Peg, count: 4, home: bag }\n",
  "sled/configurations/box.mdx": configuration(
    "Box",
    "C1",
    "weight: from 8 kg to under 40 kg\nstanding: true\nfitted: { bed: [box], slots: [4 peg] }",
  ),
  "sled/configurations/net.mdx": configuration(
    "Net",
    "C2",
    "weight: from 40 kg to under 140 kg\nfitted: { bed: [net], sides: [4 peg] }",
  ),
  "sled/fit-box.mdx": procedure(
    "Fit the box",
    "P1",
    step("Lift the box on to the bed.", "::move{item=box from=shed to=bed}") +
      step(
        "Push the four pegs in.",
        "::move{item=peg count=4 from=bag to=slots}\n::check[Pegs]{by=second answer=four}",
      ),
  ),
  "sled/remove-box.mdx": procedure(
    "Remove the box",
    "P2",
    step("Pull the pegs out.", "::move{item=peg count=4 from=slots to=bag}") +
      step("Lift the box off the bed.", "::move{item=box from=bed to=shed}"),
  ),
  "sled/fit-net.mdx": procedure(
    "Fit the net",
    "P3",
    step("Lift the net on to the bed.", "::move{item=net from=shed to=bed}") +
      step("Push the four pegs in.", "::move{item=peg count=4 from=bag to=sides}"),
  ),
  "sled/remove-net.mdx": procedure(
    "Remove the net",
    "P4",
    step("Pull the pegs out.", "::move{item=peg count=4 from=sides to=bag}") +
      step("Lift the net off the bed.", "::move{item=net from=bed to=shed}"),
  ),
};

/** Errors, and what is said of counts, with one text of a file in place of another. */
async function foundWith(file: string, from: string, to: string) {
  const folder = mkdtempSync(join(work, "c-"));
  for (const [name, text] of Object.entries(FILES)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    if (name === file) expect(text).toContain(from);
    writeFileSync(join(folder, name), name === file ? text.replace(from, to) : text);
  }
  const { findings } = await judgeFolder(folder, "2026-06-01");
  return findings.filter(({ severity, rule }) => severity === "error" || rule === "wording/count-differs");
}

/** Where a text first stands in a file: line and column, counted from 1. */
function placeOf(text: string, part: string) {
  const before = text.slice(0, text.indexOf(part)).split("\n");
  return { line: before.length, column: before.at(-1)!.length + 1 };
}

describe("a slip in one move", () => {
  it("is none where every move is right", async () => {
    expect(await foundWith("sled/fit-box.mdx", "Fit", "Fit")).toEqual([]);
  });

  it.each([
    // The other arrangement has its pegs there: no count and no place is odd, and yet the box stands on none.
    ["sled/fit-box.mdx", "to=slots", "to=sides", "to", "slots", "plan/no-way-back"],
    ["sled/fit-net.mdx", "to=sides", "to=slots", "to", "sides", "plan/unreachable"],
    ["sled/fit-net.mdx", "count=4", "count=3", "count", "4", "plan/unreachable"],
  ])(
    "of %s, %s written as %s, is one finding, at the words at fault",
    async (file, right, wrong, name, value, rule) => {
      const found = await foundWith(file, right, wrong),
        slip = FILES[file]!.replace(right, wrong),
        at = placeOf(slip, wrong);
      expect(found).toHaveLength(1);
      expect(found[0]).toMatchObject({
        rule,
        file,
        line: at.line,
        actual: wrong.slice(name.length + 1),
        expected: [value],
        message: expect.stringContaining(`with \`${name}=${value}\` they do`) as string,
        fix: expect.stringContaining(`write \`${name}=${value}\` here`) as string,
      });
      expect(found[0]!.column).toBeGreaterThanOrEqual(at.column);
    },
  );

  it("says nothing of words that are as the plan wants the count", async () => {
    const found = await foundWith("sled/fit-box.mdx", "count=4", "count=3");
    expect(found.map(({ rule, file }) => `${rule} ${file}`)).toEqual(["plan/no-way-back sled/fit-box.mdx"]);
  });

  it("is not guessed where a procedure is still to be written or the arrangement is as likely wrong", async () => {
    const unwritten = await foundWith("sled/fit-box.mdx", "::move{item=peg count=4 from=bag to=slots}\n", "");
    expect(unwritten.filter(({ rule }) => rule.startsWith("plan/")).map(({ file }) => file)).toEqual([
      "sled/configurations/net.mdx",
    ]);
    const fitted = await foundWith("sled/configurations/box.mdx", "slots: [4 peg]", "slots: [3 peg]");
    for (const { file, rule } of fitted.filter((each) => each.rule.startsWith("plan/")))
      expect(`${rule} ${file}`).toMatch(/configurations/);
  });
});
