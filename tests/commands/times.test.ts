/**
 * `rerig times` and `rerig notes`: what devices gave out, over several files, good and bad. Compared with medians
 * reckoned by hand; the collection and the times are invented.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { timesCsv, timesJson } from "../../src/domain/after/times-file.ts";
import type { Procedure } from "../../src/schema/collection.ts";
import { commandShapes, jsonSchemaOf } from "../../src/schema/results.ts";
import type { TimedRun } from "../../src/schema/times/times.ts";
import { runHere } from "./run-here.ts";
import { readCollection } from "../read-collection.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const work = mkdtempSync(join(tmpdir(), "rerig-times-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const rerig = (...args: string[]) => runHere([...args, "--procedures", sled]);
const put = (name: string, text: string) => {
  writeFileSync(join(work, name), text);
  return join(work, name);
};

let collection: string, platform: string, procedure: Procedure;
/** A run of the first two steps of a procedure. */
const run = (
  id: string,
  took: readonly (number | undefined)[],
  over: Partial<TimedRun> & { revision?: number } = {},
): TimedRun => ({
  id,
  day: "2026-11-28",
  platform,
  from: "a",
  to: "b",
  counted: 99,
  steps: took.map((seconds, index) => ({
    number: index + 1,
    procedure: procedure.id,
    revision: over.revision ?? procedure.revision,
    step: index + 1,
    takes: procedure.steps[index]!.takesSeconds,
    start: 0,
    end: 20,
    ...(seconds === undefined ? {} : { took: seconds }),
    done: 30,
    interrupted: seconds === undefined ? 1 : 0,
  })),
  ...(over.drill === undefined ? {} : { drill: over.drill }),
});
beforeAll(async () => {
  const { platforms, service } = await readCollection(sled);
  collection = service.name;
  platform = platforms[0]!.id;
  procedure = platforms[0]!.procedures.find(({ steps }) => steps.length > 1)!;
});

const fits = (shape: "times" | "notes", text: string): unknown => {
  const ajv = new Ajv2020(),
    value = JSON.parse(text) as unknown;
  ajv.validate(jsonSchemaOf(commandShapes[shape]) as object, value);
  expect(ajv.errors ?? []).toEqual([]);
  return value;
};

describe("rerig times", () => {
  it("gives medians over files of both sorts, each run once, and says where runs were interrupted", async () => {
    const one = put(
      "one.csv",
      timesCsv({ collection, runs: [run("a", [10, 20]), run("b", [40, undefined])], notes: [] }),
    );
    const two = put(
      "two.json",
      timesJson({ collection, runs: [run("b", [40, undefined]), run("c", [31, 22], { drill: 4 })], notes: [] }),
    );
    const { status, stdout, stderr } = await rerig("times", one, two);
    expect(status).toBe(0);
    expect(stderr).toContain("one entry in more than one file: counted once");
    expect(stdout).toContain("Three runs from two files, 28 Nov 2026; one of them a drill.");
    expect(stdout).toMatch(/\n {7}1 .* 0:31 .* 0:10 +0:40 +3 /);
    expect(stdout).toMatch(/\n {7}2 .* 0:21 .* 0:20 +0:22 +2\/3 .*\[interrupted one time\]/);
    const answer = fits("times", (await rerig("times", one, two, "--json")).stdout);
    expect(answer).toMatchObject({
      runs: 3,
      drills: 1,
      steps: [
        { step: 1, median: 31, timed: 3, interrupted: 0, inForce: true },
        { step: 2, median: 21, timed: 2, runs: 3, interrupted: 1 },
      ],
    });
  });
  it("keeps another revision apart and says that its text is another one", async () => {
    const { revision } = procedure;
    const file = put(
      "rev.csv",
      timesCsv({ collection, runs: [run("a", [10, 20]), run("b", [90, 90], { revision: revision + 1 })], notes: [] }),
    );
    const { stdout } = await rerig("times", file);
    expect(stdout).toContain(`revision ${revision + 1} (another text: ${revision} is in force)`);
    expect(stdout).toContain(`${procedure.code} ${procedure.title}, revision ${revision}\n`);
  });
  it("says of every bad file what it is, counts the others, and ends with 1; with 2 if none is good", async () => {
    const whole = timesCsv({ collection, runs: [run("a", [10, 20])], notes: [] });
    const good = put("good.csv", whole),
      cut = put("cut.csv", whole.slice(0, -60)),
      other = put("other.json", timesJson({ collection: "Another service", runs: [], notes: [] })),
      none = put("none.csv", "person,procedure\nA,b\n");
    const gone = join(work, "gone.csv");
    const { status, stdout, stderr } = await rerig("times", good, cut, other, none, gone);
    expect(status).toBe(1);
    expect(stdout).toContain("One run from one file");
    expect(stderr).toContain(`\`${cut}\` is cut off`);
    expect(stderr).toContain(`\`${other}\` is of another collection: Another service, not ${collection}.`);
    expect(stderr).toContain(`\`${none}\` is no file of times and notes`);
    expect(stderr).toContain(`\`${gone}\` is not there`);
    const bad = await rerig("times", cut, gone);
    expect([bad.status, bad.stdout]).toEqual([2, ""]);
  });
});

describe("rerig notes", () => {
  it("lists notes by step with their words, and says nothing of runs", async () => {
    const note = (id: string, step: number, words: string) => ({
      id,
      day: "2026-11-28",
      platform,
      procedure: procedure.id,
      revision: procedure.revision,
      step,
      words,
    });
    const file = put(
      "notes.csv",
      timesCsv({ collection, runs: [], notes: [note("b", 2, "=red, not blue"), note("a", 1, 'says "left"')] }),
    );
    const { status, stdout } = await rerig("notes", file);
    expect(status).toBe(0);
    expect(stdout.indexOf('28 Nov 2026: says "left"')).toBeGreaterThan(stdout.indexOf("step 1"));
    expect(stdout.indexOf("28 Nov 2026: =red, not blue")).toBeGreaterThan(stdout.indexOf("step 2"));
    expect(fits("notes", (await rerig("notes", file, "--json")).stdout)).toMatchObject({
      notes: [{ step: 1 }, { step: 2, words: "=red, not blue", inForce: true }],
    });
    expect((await rerig("notes", put("empty.json", timesJson({ collection, runs: [], notes: [] })))).stdout).toBe(
      "No note.\n",
    );
  });
});
