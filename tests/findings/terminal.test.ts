/**
 * What a person reads in a terminal: 80 columns (the width of a VT100 and of most windows since), hanging lines,
 * colours only on a terminal and never alone. `NO_COLOR`: no-color.org, "regardless of its value", as Node's own
 * styleText reads it.
 */
import { PassThrough } from "node:stream";
import { WriteStream } from "node:tty";
import { stripVTControlCharacters } from "node:util";
import { afterEach, describe, expect, it, vi } from "vitest";
import type { Finding } from "../../src/findings/finding.ts";
import { reportText } from "../../src/findings/report.ts";
import { hang, PLAIN, progressOn, terminalOf, wrapped, writeTo } from "../../src/findings/terminal.ts";

const FINDING: Finding = {
  rule: "parts/not-enough",
  severity: "error",
  file: "tern/seat-capsule.mdx",
  line: 31,
  column: 1,
  message: "`::move` takes 6 `capsule-pin` from `pin-tray`, where there are 4, so that two of them are nowhere",
  fix: "Take at most 4, or raise `count` of `capsule-pin` in equipment.yaml to what stands in the kit room",
};

/** A stream that says it is a terminal of so many columns, with what was written to it. */
function fakeTerminal(columns: number) {
  const { getColorDepth } = WriteStream.prototype;
  const stream = Object.assign(new PassThrough(), { isTTY: true, columns, getColorDepth });
  return { stream: stream as unknown as NodeJS.WriteStream, text: () => String(stream.read() ?? "") };
}

afterEach(() => void vi.unstubAllEnvs());

describe("a report on a terminal", () => {
  it.each([40, 60, 80, 120])("fits into %i columns, and says every word of it in its order", (columns) => {
    const text = stripVTControlCharacters(reportText([FINDING], { terminal: { ...PLAIN, columns } }));
    for (const line of text.split("\n")) expect(line.length).toBeLessThanOrEqual(columns);
    const words = (said: string) => said.split(/\s+/).filter(Boolean);
    expect(words(text)).toEqual(words(reportText([FINDING])));
  });

  it("hangs further lines under the first word", () => {
    const lines = reportText([FINDING], { terminal: { ...PLAIN, columns: 80 } }).split("\n");
    const at = lines[0]!.indexOf("`::move`");
    expect(lines.length).toBeGreaterThan(2);
    for (const line of lines) expect(line[at]).not.toBe(" ");
    for (const line of lines.slice(1)) expect(line.slice(0, at).trim()).toMatch(/^(?:fix)?$/);
  });

  it("is not wrapped into a file or another program", () => {
    expect(reportText([FINDING]).split("\n")).toHaveLength(2);
    expect(terminalOf(new PassThrough() as unknown as NodeJS.WriteStream)).toBe(PLAIN);
  });

  it("colours words on a terminal, and none with NO_COLOR; the words are the same", () => {
    for (const name of ["NO_COLOR", "FORCE_COLOR", "NODE_DISABLE_COLORS", "CI", "TEAMCITY_VERSION"])
      vi.stubEnv(name, undefined);
    vi.stubEnv("TERM", "xterm");
    const { stream } = fakeTerminal(80);
    const coloured = reportText([FINDING], { terminal: terminalOf(stream) });
    vi.stubEnv("NO_COLOR", "1");
    const plain = reportText([FINDING], { terminal: terminalOf(stream) });
    expect(coloured).not.toBe(plain);
    expect(stripVTControlCharacters(coloured)).toBe(plain);
    expect(stripVTControlCharacters(plain)).toBe(plain);
  });

  it("breaks a word that is longer than the line", () => {
    expect(hang("ab  ", "x".repeat(100), 4, { columns: 44 }).split("\n")).toEqual([
      `ab  ${"x".repeat(40)}`,
      `    ${"x".repeat(40)}`,
      `    ${"x".repeat(20)}`,
    ]);
  });
});

describe("progress", () => {
  it("stays in one line of a terminal and leaves nothing behind it", () => {
    const { stream, text } = fakeTerminal(20);
    const progress = progressOn(stream);
    progress.say("Rendering pages and indexing them");
    progress.say("Writing");
    progress.end();
    const written = text();
    expect(written).not.toContain("\n");
    // What is seen at the end: what follows the last clearing of the line.
    expect(written.split("\u001b[2K").at(-1)).toBe("");
    for (const line of written.split("\r")) expect(stripVTControlCharacters(line).length).toBeLessThan(20);
  });

  it("is line after line in a log", () => {
    const log = new PassThrough();
    progressOn(log as unknown as NodeJS.WriteStream).say("Writing");
    expect(String(log.read())).toBe("Writing\n");
  });
});

describe("what a command says", () => {
  const said = [
    "  keep     copy 1 of newborn-capsule: HGZK-3N (revision 5, edition 1, from 28 Nov 2026, in the helicopter)",
    "   8. Both, HOLD: Name the band from the table, each for yourself, then aloud, and wait for the other one.",
    "    [ ] Kit room: four straps on one hook, yoke and harness on theirs, and nothing else on any other of them",
    "Short",
    "",
  ];
  it("is wrapped under its own words on a terminal, every word of it in its order", () => {
    const lines = wrapped(said.join("\n"), { columns: 60 }).split("\n");
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(60);
    const starts = lines.filter((line) => /^ {5,}\S/.test(line) && !line.includes("[ ]"));
    expect(starts.map((line) => /^ */.exec(line)![0].length)).toEqual([11, 6, 8]);
    expect(lines.join(" ").split(/\s+/)).toEqual(said.join(" ").split(/\s+/));
  });
  it("is left as it is in a file or another program", () => {
    const stream = new PassThrough();
    writeTo(stream as unknown as NodeJS.WriteStream, said.join("\n"));
    expect(String(stream.read())).toBe(said.join("\n"));
  });
});
