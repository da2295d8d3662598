/**
 * Defects planted one at a time in a collection that was written from the format's description alone, by someone who
 * had not read this code: each is found by
 * the right rule at the right place, with at most two more findings. The place is where `§` stands in what is planted;
 * half of the files have
 * CRLF line ends or a byte-order mark. Independent of the rules' own fixtures, which those who wrote the rules made.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { judgeFolder } from "./judge.ts";
import { plant, plants } from "./plants.ts";

const TODAY = "2026-11-20";
const root = resolve(import.meta.dirname, "../fixtures/collections"),
  work = mkdtempSync(join(tmpdir(), "rerig-planted-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const judge = async (folder: string) => (await judgeFolder(folder, TODAY)).findings;

describe.each(["sled", "dolly", "theatre", "workshop"])("the collection %s", (name) => {
  it("has no error", async () => {
    expect((await judge(join(root, name))).filter(({ severity }) => severity === "error")).toEqual([]);
  });
});

it("the theatre, written from the description alone, has no finding at all", async () => {
  expect(await judge(join(root, "theatre"))).toEqual([]);
});

describe("a planted defect", () => {
  it.each(plants)("%s in %s: %s", async (rule, file, find, planted) => {
    const { folder, marked } = plant(work, file, find, planted),
      before = marked.slice(0, marked.indexOf("§")).replace("\ufeff", "");
    const found = await judge(folder),
      place = { rule, file, line: before.split("\n").length, column: before.length - before.lastIndexOf("\n") };
    expect(found.map(({ rule, file, line, column }) => ({ rule, file, line, column }))).toContainEqual(place);
    // Whatever changes what a card prints also makes the copies in the folders those of another card.
    const others = found.filter((each) => each.rule === rule || each.rule !== "card/unknown-check");
    expect(others.length).toBeLessThanOrEqual(3);
    rmSync(folder, { recursive: true });
  });
});

it("a count that leaves an arrangement without a way is named with its procedure, file and line", async () => {
  const move = "::move{item=shackle count=2",
    file = "carriage/fit-seat-harness.mdx",
    { folder, marked } = plant(work, file, move, "§::move{item=shackle count=1");
  const found = (await judge(folder)).find(({ rule }) => rule.startsWith("plan/")),
    line = marked.slice(0, marked.indexOf("§")).split("\n").length;
  expect(found).toMatchObject({ file, line, actual: "1", expected: ["2"] });
  expect(found?.message).toContain("`fit-seat-harness` moves 1 `shackle`");
  expect(found?.fix).toContain("`count=2`");
});
