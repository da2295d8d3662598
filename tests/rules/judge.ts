/** A rule's fixture laid over the small collection of the rules, and what is found in it. */
import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { CompiledShelf } from "../../src/compile/kept/keep-compiled.ts";
import { loadCollection } from "../../src/compile/load.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { type Finding, Findings, inFileOrder } from "../../src/findings/finding.ts";
import { rules } from "../../src/rules/all.ts";
import { runRules } from "../../src/rules/run-rules.ts";
import type { Collection } from "../../src/schema/collection.ts";

/** The day on which the fixtures of rules are judged. */
export const FIXTURES_TODAY = "2026-06-01";
const fixtures = resolve(import.meta.dirname, "../fixtures/rules");
const base = resolve(import.meta.dirname, "../fixtures/collections/sled");

/**
 * What files were compiled to, for all tests of a worker: most of a fixture is the same collection, which took as long
 * to read as to judge. That a compiled file is taken for no other: tests/compile/keep-compiled.test.ts.
 */
const compiled: CompiledShelf = (() => {
  const answers = new Map<string, Uint8Array>(),
    keyOf = (name: string, question: readonly string[]) =>
      createHash("sha256")
        .update(JSON.stringify([name, question]))
        .digest("hex");
  return {
    find: (name, question) => answers.get(keyOf(name, question)),
    put: (name, question, answer) => void answers.set(keyOf(name, question), answer),
    hold: () => {},
    findWhole: () => undefined,
    putWhole: () => {},
    holdsWhole: () => false,
    done: () => {},
  };
})();

/** Every finding of a collection's folder on a day, in file order, with the collection. */
export async function judgeFolder(
  folder: string,
  today: string,
): Promise<{ readonly collection: Collection; readonly findings: Finding[] }> {
  const read = new Findings();
  const collection = await loadCollection(folder, read, { compiled });
  return { collection, findings: inFileOrder(runRules(collection, read, today)) };
}

/**
 * Where one rule finds something in a collection's folder on a day, in force or with its proposals: `error file:line`.
 * Other rules are not asked, nor the policy of the service.
 */
export async function placesOf(id: string, folder: string, today: string): Promise<string[]> {
  const rule = rules.find((each) => each.id === id)!,
    read = new Findings(),
    { collection, proposed } = forceOn(await loadCollection(folder, read), today),
    places = new Set<string>();
  const damaged = new Set(read.list.filter(({ severity }) => severity === "error").map(({ file }) => file));
  for (const each of new Set([collection, proposed]))
    rule.check!(each, ({ file, line }) => places.add(`${rule.severity} ${file}:${line}`), { today, damaged });
  return [...places];
}

/** A folder below `work` with the small collection and an overlay's files over it, less those of its `removed.txt`. */
export function layOver(overlay: string, work: string): string {
  const folder = mkdtempSync(join(work, "c-"));
  cpSync(base, folder, { recursive: true });
  if (existsSync(overlay)) cpSync(overlay, folder, { recursive: true });
  const removed = join(folder, "removed.txt");
  if (existsSync(removed))
    for (const file of ["removed.txt", ...readFileSync(removed, "utf8").split("\n").filter(Boolean)])
      rmSync(join(folder, file), { recursive: true });
  return folder;
}

/** What is found in a fixture such as `parts/not-enough/not-ok`, and the folder that holds it till the process ends. */
export async function judgeFixture(name: string) {
  const work = mkdtempSync(join(tmpdir(), "rerig-judge-"));
  process.once("exit", () => rmSync(work, { recursive: true, force: true }));
  const folder = layOver(join(fixtures, name), work);
  return { folder, ...(await judgeFolder(folder, FIXTURES_TODAY)) };
}
