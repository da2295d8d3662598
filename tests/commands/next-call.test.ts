/** What a command says to type next is about the same collection: an educator copies that line as it stands. */
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, expect, it } from "vitest";
import { sameCollection } from "../../src/commands/collection-folder.ts";
import { runHere } from "./run-here.ts";

const work = mkdtempSync(join(tmpdir(), "rerig next ")),
  mine = join(work, "our procedures");
afterAll(() => rmSync(work, { recursive: true, force: true }));
cpSync(resolve(import.meta.dirname, "../fixtures/collections/crate"), mine, { recursive: true });

/** The words of the line that begins with `Next:`, as a shell takes them apart: spaces part, quotation marks hold. */
function nextOf(said: string): string[] {
  const line = /^Next: npm run -s rerig -- (.*)$/mu.exec(said)?.[1] ?? "";
  return [...line.matchAll(/"([^"]*)"|(\S+)/gu)].map(([, quoted, plain]) => quoted ?? plain!);
}

it("names the folder that the call named, in quotation marks where it has a space", async () => {
  const first = await runHere(["check", "--procedures", mine], "2026-11-28");
  expect(nextOf(first.stdout)).toEqual(["build", "--procedures", mine]);
  const again = await runHere(nextOf(first.stdout).with(0, "check"), "2026-11-28");
  expect(again.stdout).toBe(first.stdout);
});

it("names nothing where the call named nothing, and what the environment names", async () => {
  const before = process.env["RERIG_PROCEDURES"];
  try {
    delete process.env["RERIG_PROCEDURES"];
    expect(sameCollection(undefined)).toBe("");
    process.env["RERIG_PROCEDURES"] = mine;
    const { stdout } = await runHere(["check"], "2026-11-28");
    expect(nextOf(stdout)).toEqual(["build", "--procedures", mine]);
  } finally {
    if (before === undefined) delete process.env["RERIG_PROCEDURES"];
    else process.env["RERIG_PROCEDURES"] = before;
  }
});
