/**
 * Times of runs: what was pressed becomes seconds; medians against simple-statistics, a reference library; the CSV
 * against the definitions and examples of RFC 4180, section 2, and against csv-parse, a reader not of this project.
 */
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { median as reference } from "simple-statistics";
import { describe, expect, it } from "vitest";
import { sayLate, sayWhole } from "../../../src/domain/after/compare.ts";
import { median, stepTimes } from "../../../src/domain/after/medians.ts";
import { type Press, runOf } from "../../../src/domain/after/run.ts";
import { csvCell, timesCsv, timesJson } from "../../../src/domain/after/times-file.ts";
import type { WalkStop } from "../../../src/domain/device/walk.ts";
import { readTimes } from "../../../src/read/times.ts";
import type { TimedRun, StepNote, TimesFile } from "../../../src/schema/times/times.ts";

const bytes = (text: string) => new TextEncoder().encode(text);

describe("a median", () => {
  it("is that of simple-statistics, for any values", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(10_000), { minLength: 1 }), (values) => {
        expect(median(values)).toBe(reference(values));
      }),
    );
  });
  it("of nothing is nothing", () => expect(median([])).toBeUndefined());
  it("is the middle value, or half way between two: 1 2 4 8 9 gives 4, 1 2 4 8 gives 3 (by hand)", () => {
    expect([median([9, 1, 4, 2, 8]), median([8, 1, 4, 2])]).toEqual([4, 3]);
  });
});

/** Three stops of ten planned seconds each (invented). */
const walk = {
  platform: "sled",
  from: "a",
  to: "b+c",
  stops: [1, 2, 3].map(
    (number) =>
      ({
        number,
        procedure: "build",
        revision: 2,
        step: number,
        takesSeconds: 10,
        start: 10 * (number - 1),
        end: 10 * number,
      }) as WalkStop,
  ),
};
const at = (seconds: number, kind: Press["kind"], stop: number): Press => ({
  at: Date.UTC(2026, 10, 28, 12) + seconds * 1000,
  kind,
  stop,
});
const straight = [
  at(0, "shown", 0),
  at(12, "done", 0),
  at(12, "shown", 1),
  at(20, "done", 1),
  at(20, "shown", 2),
  at(35, "done", 2),
  at(35, "shown", 3),
  at(50, "done", 3),
];
const tookOf = (presses: readonly Press[]) =>
  runOf(walk, presses, "r1")!.steps.map(({ took, done, interrupted }) => [took, done, interrupted]);

describe("a run (reckoned by hand)", () => {
  it("gives each step the time of its screen, and when it was done", () => {
    expect(tookOf(straight)).toEqual([
      [12, 12, 0],
      [8, 20, 0],
      [15, 35, 0],
    ]);
    expect(runOf(walk, straight, "r1")).toMatchObject({ counted: 50, platform: "sled", from: "a", to: "b+c" });
  });
  it("counts a look back as time of the step looked at, and its last press as when it was done", () => {
    const back = [
      ...straight.slice(0, 3),
      at(15, "shown", 0),
      at(17, "done", 0),
      at(17, "shown", 1),
      ...straight.slice(3),
    ];
    expect(tookOf(back)).toEqual([
      [14, 17, 0],
      [6, 20, 0],
      [15, 35, 0],
    ]);
  });
  it("knows no time of a step into which a pause fell, and says where it was", () => {
    const paused = [
      ...straight.slice(0, 3),
      at(300, "paused", 1),
      at(305, "shown", 1),
      at(310, "done", 1),
      at(310, "shown", 2),
      at(320, "done", 2),
      at(330, "done", 3),
    ];
    expect(tookOf(paused)).toEqual([
      [12, 12, 0],
      [undefined, 310, 1],
      [10, 320, 0],
    ]);
  });
  it("knows the time of a step that was begun again after a pause, and drops what was begun before", () => {
    const again = [
      ...straight.slice(0, 5),
      at(300, "paused", 2),
      at(302, "again", 1),
      at(302, "shown", 1),
      at(309, "done", 1),
      at(309, "shown", 2),
      at(320, "done", 2),
      at(330, "done", 3),
    ];
    expect(tookOf(again)).toEqual([
      [12, 12, 0],
      [7, 309, 0],
      [11, 320, 1],
    ]);
  });
  it("counts a group begun again without a pause as one interruption, where the crew was", () => {
    const again = [
      ...straight.slice(0, 5),
      at(30, "again", 0),
      at(30, "shown", 0),
      ...straight.map((press) => ({ ...press, at: press.at + 30_000 })),
    ];
    expect(tookOf(again).map(([, , interrupted]) => interrupted)).toEqual([0, 0, 1]);
    expect(tookOf(again).map(([took]) => took)).toEqual([12, 8, 15]);
  });
  it("names the written step where one was walked back, and what was begun before it", () => {
    const [first, ...rest] = walk.stops;
    const half = { ...walk, stops: [{ ...first!, procedure: "back/build" }, ...rest] };
    const run = runOf(half, straight, "r1", { begun: "build:1/2-3" })!;
    expect(run.begun).toBe("build:1/2-3");
    expect(run.steps.map(({ procedure, back }) => [procedure, back])).toEqual([
      ["build", true],
      ["build", undefined],
      ["build", undefined],
    ]);
    // The step as it is written and the step walked back are two things.
    const both = stepTimes([run, runOf(walk, straight, "r2")!]);
    expect(both.map(({ step, back, runs }) => [step, back, runs])).toEqual([
      [1, undefined, 1],
      [1, true, 1],
      [2, undefined, 2],
      [3, undefined, 2],
    ]);
    const file = { collection: "Karst", runs: [run], notes: [] };
    for (const text of [timesCsv(file), timesJson(file)])
      expect(readTimes(bytes(text))).toEqual({ kind: "times", file });
  });
  it("is none where a step was never done", () => {
    expect(runOf(walk, straight.slice(0, 4), "r1")).toBeUndefined();
    expect(runOf(walk, [], "r1")).toBeUndefined();
  });
  it("gives no time where the clock was set back meanwhile", () => {
    const back = straight.map((press, index) => (index >= 3 ? { ...press, at: press.at - 3_600_000 } : press));
    expect(tookOf(back)[1]![0]).toBeUndefined();
  });
  it("is said beside its plan", () => {
    const { steps } = runOf(walk, straight, "r1")!;
    expect(sayWhole({ steps })).toBe("Done in 0:35, planned 0:30: 0:05 later.");
    expect(steps.map(sayLate)).toEqual(["+0:02", "0:00", "+0:05"]);
  });
});

describe("the times of steps", () => {
  const run = (id: string, took: readonly (number | undefined)[], revision = 2): TimedRun => ({
    ...runOf(walk, straight, id)!,
    steps: runOf(walk, straight, id)!.steps.map(({ took: _, ...step }, index) => ({
      ...step,
      revision,
      ...(took[index] === undefined ? {} : { took: took[index] }),
      interrupted: took[index] === undefined ? 1 : 0,
    })),
  });
  it("are medians over the runs whose time is known, by revision (reckoned by hand)", () => {
    const all = stepTimes([run("a", [10, 20, 30]), run("b", [14, undefined, 50]), run("c", [99, 1, 1], 1)]);
    expect(
      all.map(({ revision, step, median: middle, timed, runs, interrupted }) => [
        revision,
        step,
        middle,
        timed,
        runs,
        interrupted,
      ]),
    ).toEqual([
      [2, 1, 12, 2, 2, 0],
      [2, 2, 20, 1, 2, 1],
      [2, 3, 40, 2, 2, 0],
      [1, 1, 99, 1, 1, 0],
      [1, 2, 1, 1, 1, 0],
      [1, 3, 1, 1, 1, 0],
    ]);
  });
  it("do not depend on the order of the runs", () => {
    const runs = fc.array(fc.tuple(fc.nat(99), fc.option(fc.nat(99), { nil: undefined }), fc.nat(99)));
    fc.assert(
      fc.property(runs, (all) => {
        const made = all.map((took, index) => run(`r${index}`, took));
        expect(stepTimes(made.toReversed())).toEqual(stepTimes(made));
      }),
    );
  });
});

const note = (words: string, id = "n1"): StepNote => ({
  id,
  day: "2026-11-28",
  platform: "sled",
  procedure: "build",
  revision: 2,
  step: 3,
  words,
});
const file = (over: Partial<TimesFile> = {}): TimesFile => ({
  collection: 'North "Fell", rescue',
  runs: [runOf(walk, straight, "r1")!, runOf(walk, straight, "r2", { drill: 7 })!],
  notes: [note("the left pin is red")],
  ...over,
});

describe("the CSV", () => {
  it("writes cells as RFC 4180, section 2, gives them: rules 5 (plain), 6 (line ends, quotes, commas) and 7", () => {
    // 2.5: `"aaa","bbb"` or aaa,bbb · 2.6: "b CRLF bb" · 2.7: "b""bb"
    expect(["aaa", "b\r\nbb", 'b"bb', "b,bb"].map(csvCell)).toEqual(["aaa", '"b\r\nbb"', '"b""bb"', '"b,bb"']);
  });
  it("ends every line, the last one too, with CR LF (2.1), and has as many cells in each (2.4)", () => {
    const text = timesCsv(file());
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(new Set((parse(text) as string[][]).map((row) => row.length)).size).toBe(1);
  });
  const words = fc.string({ unit: "grapheme", minLength: 1 }).filter((text) => text.isWellFormed());
  it("is read back as it was, whatever the words; and so is the JSON", () => {
    fc.assert(
      fc.property(words, words, (text, collection) => {
        const whole = file({ notes: [note(text)], collection });
        for (const made of [timesCsv(whole), `\ufeff${timesCsv(whole)}`, timesJson(whole)])
          expect(readTimes(bytes(made))).toEqual({ kind: "times", file: whole });
      }),
    );
  });
  it("gives a spreadsheet no formula (OWASP, CSV injection: = + - @ tab, carriage return)", () => {
    for (const first of ["=", "+", "-", "@", "\t", "\r"]) {
      const cells = (
        parse(timesCsv(file({ notes: [note(`${first}1`)] })), { columns: true }) as { words: string }[]
      ).map((row) => row.words);
      expect(cells).toContain(`'${first}1`);
    }
  });
  it("is read with semicolons or tabs too, as spreadsheets save it", () => {
    const rows = parse(timesCsv(file({ collection: "North" }))) as string[][];
    for (const separator of [";", "\t"])
      expect(readTimes(bytes(rows.map((row) => row.join(separator)).join("\n")))).toEqual({
        kind: "times",
        file: file({ collection: "North" }),
      });
  });
});

describe("a file that is none", () => {
  const said = (text: string | Uint8Array) => {
    const read = readTimes(typeof text === "string" ? bytes(text) : text);
    return read.kind === "wrong" ? read.what : "times";
  };
  it("is said to be cut off wherever it is cut, CSV and JSON", () => {
    for (const text of [timesCsv(file()).trimEnd(), timesJson(file()).trimEnd()]) {
      const head = text.startsWith("{") ? 30 : text.indexOf("\n");
      for (let end = head + 1; end < text.length; end += 7)
        expect(said(text.slice(0, end)), text.slice(end - 30, end)).toMatch(/is cut off|is not whole/);
    }
  });
  it("is said to be no such file where it is another one", () => {
    for (const text of ["person,procedure,revision\nA,b,1\n", "<html>", "{}", '{"file": "other"}', "[1]", "null"])
      expect(said(text)).toMatch(/^is no file of times and notes/);
    expect(said("")).toBe("is empty");
    expect(said(new Uint8Array([0xff, 0xfe, 0x41]))).toMatch(/^is not in UTF-8/);
  });
  it("names the row that somebody changed", () => {
    const rows = timesCsv(file()).split("\r\n");
    rows[2] = rows[2]!.replace("2026-11-28", "28/11/2026").replace(/,build,2,/, ",build,two,");
    expect(said(rows.join("\r\n"))).toMatch(/^can't be read at row 3: .*`revision`/);
    const fewer = timesCsv(file()).split("\r\n");
    fewer.splice(3, 1);
    expect(said(fewer.join("\r\n"))).toMatch(/^is not whole: of 9 rows there are 8/);
  });
});
