/**
 * The commands as an educator and a script meet them: results on standard output, words on standard error, exit codes,
 * JSON that fits its schema.
 */
import { spawn, spawnSync } from "node:child_process";
import { text } from "node:stream/consumers";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, describe, expect, it } from "vitest";
import { checkShape, commandShapes, jsonSchemaOf } from "../../src/schema/results.ts";
import { readCollection } from "../read-collection.ts";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const sled = join(root, "tests/fixtures/collections/sled");
const work = mkdtempSync(join(tmpdir(), "rerig-commands-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const rerig = (...args: string[]) => runHere(args);

/** The same as a process: its exit code and streams as the shell has them. */
function start(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, "src/commands/rerig.mjs"), ...args], {
    encoding: "utf8",
    cwd: work,
  });
  return { status, stdout, stderr };
}

function fits(schema: unknown, text: string): unknown {
  const ajv = new Ajv2020();
  const value = JSON.parse(text) as unknown;
  const valid = ajv.validate(schema as object, value);
  expect(ajv.errors ?? []).toEqual([]);
  expect(valid).toBe(true);
  return value;
}

/** A copy of the sled collection with one file changed. */
function changed(file: string, from: string, to: string): string {
  const folder = mkdtempSync(join(work, "sled-"));
  cpSync(sled, folder, { recursive: true });
  const text = readFileSync(join(folder, file), "utf8");
  expect(text).toContain(from);
  writeFileSync(join(folder, file), text.replace(from, to));
  return folder;
}

describe("rerig without", () => {
  it("says who can't be carried and what can still be built, and the same as JSON that fits its schema", async () => {
    const { status, stdout, stderr } = await rerig("without", "shell-pin", "--procedures", sled);
    expect(status).toBe(0);
    const answer = fits(
      jsonSchemaOf(commandShapes.without),
      (await rerig("without", "shell-pin", "--procedures", sled, "--json")).stdout,
    ) as { nobodyFor: string[]; possible: string[]; lost: string[] };
    for (const band of answer.nobodyFor) expect(stdout).toContain(band);
    expect(answer.possible.length + answer.lost.length).toBeGreaterThan(1);
    expect(stderr).toContain("your service's own rules decide");
  });
  it("takes an item by its name, in any case, and says how many of each may be missing if none is named", async () => {
    const byName = await rerig("without", "VACUUM mattress", "--procedures", sled);
    expect(byName.status).toBe(0);
    const points = await rerig("without", "--procedures", sled);
    expect(points.stdout).toContain("One too few, and somebody can't be carried");
  });
  it.each([
    [["no-such-thing"], "There is no item `no-such-thing`"],
    [["shell-pin=none"], "as a whole number"],
    [["shell-pin=99"], "in all"],
    [["shell-pin=0"], "as a whole number"],
  ])("refuses %s in words", async (words, said) => {
    const { status, stderr } = await rerig("without", ...words, "--procedures", sled);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });
});

describe("rerig recall", () => {
  it("says everything that an item touches, in words and as JSON that fits its schema", async () => {
    const { status, stdout } = await rerig("recall", "shell-pin", "--procedures", sled);
    expect(status).toBe(0);
    const answer = fits(
      jsonSchemaOf(commandShapes.recall),
      (await rerig("recall", "Shell pin", "--procedures", sled, "--json")).stdout,
    ) as { procedures: { procedure: string }[]; cards: { lines: string[] }[] };
    expect(answer.procedures.length).toBeGreaterThan(0);
    for (const { lines } of answer.cards) for (const line of lines) expect(stdout).toContain(line);
  });
  it("refuses an item that is not there, with those that are", async () => {
    const { status, stderr } = await rerig("recall", "tow-rope", "--procedures", sled);
    expect(status).toBe(2);
    expect(stderr).toContain("shell-pin");
  });
});

describe("rerig check", () => {
  it("ends with 0 and counts what it read in a collection without errors", () => {
    const { status, stdout } = start("check", "--procedures", sled, "--json");
    expect(fits(jsonSchemaOf(checkShape), stdout)).toEqual({
      findings: [],
      counts: { error: 0, warning: 0 },
      read: { platforms: 1, configurations: 2, options: 1, procedures: 4, steps: 12, photos: 1 },
    });
    expect(status).toBe(0);
  });
  it("ends with 1 and shows file, line, column, what is wrong and what to do", () => {
    const folder = changed("sled/change-to-mattress.mdx", "count=2 from=pin-holes", "count=3 from=pin-holes");
    const { status, stdout } = start("check", "--procedures", folder);
    expect(status).toBe(1);
    expect(stdout).toContain(
      "sled/change-to-mattress.mdx:26:1  error    `::move` takes 3 `shell-pin` from `pin-holes`, where there " +
        "are 2  (parts/not-enough)",
    );
    expect(stdout).toContain("fix      Take at most 2");
  });
  it.each([
    ["no collection", ["check", "--procedures", "nowhere"]],
    ["an unknown option", ["check", "--procedure", sled]],
    ["an unknown command", ["chek"]],
    ["a weight without a unit", ["choose", "--procedures", sled, "--weight", "7.2"]],
    ["an unknown arrangement", ["changeover", "--procedures", sled, "--from", "shell", "--to", "child-shell"]],
    ["an unknown platform", ["load", "--procedures", sled, "--platform", "sledge", "--configuration", "child-shell"]],
  ])("ends with 2, with nothing on standard output, for %s", (_, args) => {
    const { status, stdout, stderr } = start(...args);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr.length).toBeGreaterThan(10);
    expect(stderr).not.toMatch(/\bat .*:\d+:\d+/);
  });
  it("takes the collection from the environment", () => {
    const { status } = spawnSync(process.execPath, [join(root, "src/commands/rerig.mjs"), "check"], {
      env: { ...process.env, RERIG_PROCEDURES: sled },
      cwd: work,
    });
    expect(status).toBe(0);
  });
});

describe("rerig choose", () => {
  it.each([
    ["7.9 kg", []],
    ["8 kg", ["child-shell"]],
    ["29.999 kg", ["child-shell"]],
    ["30 kg", ["vacuum-mattress"]],
    ["30000 g", ["vacuum-mattress"]],
    // 66.1386786554… lb is 30 kg: the exact pound of NIST SP 811 puts these two on either side.
    ["66.1386 lb", ["child-shell"]],
    ["66.1387 lb", ["vacuum-mattress"]],
    ["150 kg", []],
  ])("%s: %j", async (weight, configurations) => {
    const { status, stdout } = await rerig(
      "choose",
      "--procedures",
      sled,
      "--platform",
      "sled",
      "--weight",
      weight,
      "--json",
    );
    expect(status).toBe(0);
    expect(fits(jsonSchemaOf(commandShapes.choose), stdout)).toMatchObject({ weight, configurations });
  });
});

describe("rerig changeover", () => {
  it("gives the least-time way with its net parts, options in any order", async () => {
    const { status, stdout } = await rerig(
      "changeover",
      "--procedures",
      sled,
      "--from",
      "vacuum-mattress+oxygen",
      "--to",
      "child-shell",
      "--weight",
      "12 kg",
      "--json",
    );
    expect(status).toBe(0);
    expect(fits(jsonSchemaOf(commandShapes.changeover), stdout)).toMatchObject({
      // Either order takes 205 s; what is taken away goes first. Then the card is read.
      procedures: ["remove-oxygen", "change-to-shell"],
      seconds: 15 + 40 + 40 + 60 + 20 + 30 + 20,
      parts: [
        { item: "vacuum-mattress", count: 1, from: "bed", to: "hut" },
        { item: "child-shell", count: 1, from: "hut", to: "bed" },
        { item: "shell-pin", count: 2, from: "tail-bag", to: "pin-holes" },
        { item: "oxygen-bottle", count: 1, from: "bottle-bay", to: "hut" },
      ],
    });
  });
  // Common practice, no source: a program whose reader has gone ends in silence, as `yes | head` does.
  it("says nothing of a fault when whoever reads it has gone, as in `rerig changeover … | head -1`", async () => {
    const ask = ["changeover", "--procedures", sled, "--from", "child-shell", "--to", "vacuum-mattress"];
    const child = spawn(process.execPath, [join(root, "src/commands/rerig.mjs"), ...ask], { cwd: work });
    child.stdout.destroy();
    const said = text(child.stderr);
    const status = await new Promise((done) => child.on("close", done));
    expect(await said).not.toMatch(/EPIPE|fault|Error|\bat /);
    expect(status).toBe(0);
  });
  it("prints every hold and safety-critical step of the plan, the names of what is moved, and no ids", async () => {
    const demo = join(root, "procedures"),
      ask = ["changeover", "--procedures", demo, "--from", "newborn-capsule", "--to", "child-cradle"];
    const said = (await rerig(...ask, "--weight", "7.2 kg")).stdout,
      { steps } = JSON.parse((await rerig(...ask, "--weight", "7.2 kg", "--json")).stdout) as {
        steps: { procedure: string; step: number; critical: boolean }[];
      };
    const { platforms } = await readCollection(demo),
      procedures = new Map(platforms[0]!.procedures.map((each) => [each.id, each]));
    const holds = steps.filter(({ procedure, step }) =>
      procedures.get(procedure)!.steps.some((each) => each.number === step && each.hold),
    );
    expect(holds.length).toBeGreaterThan(1);
    expect(said.match(/, HOLD\b/g)).toHaveLength(holds.length);
    expect(said.match(/, SAFETY-CRITICAL\b/g)).toHaveLength(steps.filter(({ critical }) => critical).length);
    expect(said).toContain("4 Capsule pin: Capsule seat -> Pin tray");
    expect(said).not.toMatch(/capsule-pin|pin-tray|fit-child-cradle/);
  });
  it("ends with 1 where only a draft leads, and uses it with --drafts", async () => {
    const folder = changed("sled/fit-oxygen.mdx", "status: approved", "status: draft");
    const ask = ["changeover", "--procedures", folder, "--from", "child-shell", "--to", "child-shell+oxygen", "--json"];
    expect((await rerig(...ask)).status).toBe(1);
    expect((await rerig(...ask, "--drafts")).status).toBe(0);
  });
});

describe("rerig load", () => {
  it("adds up the sled by hand: own 22 at 880, shell 5.5 and two pins of 0.1 at 900, patient 20 at 900", async () => {
    const { status, stdout } = await rerig(
      "load",
      "--procedures",
      sled,
      "--configuration",
      "child-shell",
      "--patient",
      "20 kg",
      "--json",
    );
    expect(status).toBe(0);
    const load = fits(jsonSchemaOf(commandShapes.load), stdout) as {
      mass: { kg: number };
      moment: { kgm: number };
      balance: { mm: number };
    };
    expect(load.mass.kg).toBeCloseTo(47.7, 9);
    expect(load.moment.kgm).toBeCloseTo((22 * 880 + 5.5 * 900 + 0.2 * 900 + 20 * 900) / 1000, 9);
    expect(load.balance.mm).toBeCloseTo((22 * 880 + 25.7 * 900) / 47.7, 9);
  });
});

describe("rerig new", () => {
  it("writes a collection that checks without a finding, and overwrites nothing", async () => {
    const folder = join(work, "own");
    expect((await rerig("new", folder)).status).toBe(0);
    const { status, stdout } = await rerig("check", "--procedures", folder, "--json");
    expect(JSON.parse(stdout)).toMatchObject({ findings: [], read: { procedures: 4 } });
    expect(status).toBe(0);
    expect(await rerig("new", folder)).toMatchObject({ status: 2, stdout: "" });
  });
});
