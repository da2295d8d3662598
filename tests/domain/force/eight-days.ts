/**
 * A change told over eight days in the invented collection of a rescue sled: written, reviewed, approved, issued, the
 * day before its effect, in effect, amended, withdrawn. Each issue is made by `rerig issue` on its day.
 */
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect } from "vitest";
import { codeOf } from "../../../src/domain/cards/check-code.ts";
import { runHere } from "../../commands/run-here.ts";

export const PROCEDURE = "sled/change-to-shell.mdx",
  CONFIGURATION = "sled/configurations/child-shell.mdx";

/** Each day with its stage and the revision that is in force on it, 0 for none. */
export const DAYS = [
  ["written", "2026-02-02", 1],
  ["reviewed", "2026-02-09", 1],
  ["approved", "2026-02-16", 1],
  ["issued", "2026-02-23", 1],
  ["the day before it takes effect", "2026-03-15", 1],
  ["in effect", "2026-03-16", 2],
  ["amended", "2026-04-20", 3],
  ["withdrawn", "2026-05-04", 0],
] as const;

/** The code written down for the copy of the child shell's card: no card has it, so that it is always swapped. */
const OTHER_CODE = codeOf("0".repeat(64));

/** Replaces words of a file of the collection; fails where they are not there. */
export function edit(folder: string, file: string, ...pairs: readonly (readonly [string | RegExp, string])[]): void {
  const path = join(folder, file);
  let text = readFileSync(path, "utf8");
  for (const [old, now] of pairs) {
    expect(text).toMatch(old);
    text = text.replace(old, now);
  }
  writeFileSync(path, text);
}

/** The days on which the revisions were written. */
const WRITTEN = ["2026-01-12", "2026-02-02", "2026-04-20", "2026-05-04"];

/** Sets revision, status and day of the procedure and of the configuration alike, and a word of each that is new. */
function write(folder: string, revision: number, status: string, effective: string): void {
  const head = [
    [/^revision: \d+$/m, `revision: ${revision}`],
    [/^status: .*$/m, `status: ${status}`],
    [/^effective: .*$/m, `effective: ${effective}`],
  ] as const;
  const entries = WRITTEN.slice(0, revision).map(
    (date, at) => `{ revision: ${at + 1}, date: ${date}, by: Training officer, summary: Way ${at + 1}. }`,
  );
  const changes = [/\n(?:changes: .*\n)?---\n/, `\nchanges: [${entries.join(", ")}]\n---\n`] as const;
  edit(folder, PROCEDURE, changes, ...head, [/Open both bed straps.*\.$/m, `Open both bed straps, way ${revision}.`]);
  edit(folder, CONFIGURATION, changes, ...head, [/answer="two.*"/, `answer="two, way ${revision}"`]);
}

async function issue(folder: string, day: string): Promise<void> {
  const { status, stderr } = await runHere(["issue", "--procedures", folder], day);
  expect(status, stderr).toBe(0);
}

/**
 * Copies the collection into `folder` and tells the story in it; `onDay` is called on each of `DAYS` when the files are
 * as they are on it. While the change is reviewed a piece of equipment gets another name, so that the card has a second
 * edition with its first revision.
 */
export async function tellStory(folder: string, onDay: (day: string) => void | Promise<void>): Promise<void> {
  cpSync(resolve(import.meta.dirname, "../../fixtures/collections/sled"), folder, { recursive: true });
  edit(folder, "folders.yaml", [/card: child-shell, copy: 1,/, `card: child-shell, copy: 1, check: ${OTHER_CODE},`]);
  edit(folder, CONFIGURATION, [/^code: KRR-S-C1$/m, "code: KRR-S-C1\nrevision: 1\neffective: 2026-01-12"]);
  write(folder, 1, "approved", "2026-01-12");
  await issue(folder, "2026-01-12");
  const [written, reviewed, approved, issued, , , amended, withdrawn] = DAYS.map(([, day]) => day);
  const acts: Readonly<Record<string, () => void | Promise<void>>> = {
    [written!]: () => write(folder, 2, "draft", "2026-03-16"),
    [reviewed!]: () => {
      write(folder, 2, "in review", "2026-03-16");
      edit(folder, "sled/equipment.yaml", [/name: Child shell/, "name: Child's shell"]);
      return issue(folder, reviewed!);
    },
    [approved!]: () => write(folder, 2, "approved", "2026-03-16"),
    [issued!]: () => issue(folder, issued!),
    [amended!]: () => {
      write(folder, 3, "approved", amended!);
      return issue(folder, amended!);
    },
    [withdrawn!]: () => write(folder, 4, "withdrawn", withdrawn!),
  };
  for (const [, day] of DAYS) {
    await acts[day]?.();
    await onDay(day);
  }
}
