/**
 * A service's own nouns by command and in findings: the same as on its pages, cards and devices (those are looked at in
 * `tests/site/own-words.test.ts`, in the same collection of animals in a crate), and none of another trade.
 */
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runHere } from "../commands/run-here.ts";

const crate = resolve(import.meta.dirname, "../fixtures/collections/crate");
const FOREIGN = /\b(?:patients?|trolleys?|aircraft|coordinators?|vehicles?|kit rooms?|stores)\b/i;

let work: string;
beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "agreement-"));
});
afterAll(() => rm(work, { recursive: true, force: true }));

/** What a command says, on both streams. */
async function told(collection: string, ...args: string[]): Promise<string> {
  const { stdout, stderr } = await runHere([...args, "--procedures", collection], "2026-11-28");
  return `${stdout}\n${stderr}`;
}

/** The crate with one file changed. */
async function crateWith(file: string, before: string, after: string): Promise<string> {
  const folder = await mkdtemp(join(work, "crate-"));
  await cp(crate, folder, { recursive: true });
  const text = await readFile(join(folder, file), "utf8");
  expect(text).toContain(before);
  await writeFile(join(folder, file), text.replace(before, after));
  return folder;
}

it.each([
  [["choose", "--weight", "20 kg"], "animal"],
  [["choose", "--weight", "1 kg"], "does not carry this animal"],
  [["load", "--configuration", "small-animal"], "no animal"],
  [["load", "--configuration", "large-animal", "--patient", "200 kg"], "helicopter's own documents"],
  [["ready"], "helicopter"],
  [["drill", "--seed", "1"], "An animal of"],
  [["changeover", "--from", "small-animal", "--to", "large-animal"], "barn"],
  [["recall", "steel-floor"], "animal"],
  [["without", "steel-floor"], "animal"],
])("%j says “%s” and no noun of another trade", async (args, noun) => {
  const text = await told(crate, ...args);
  expect(text.toLowerCase()).toContain(noun.toLowerCase());
  expect(text.split("\n").filter((line) => FOREIGN.test(line))).toEqual([]);
});

it.each([
  ["crate/configurations/small-animal.mdx", "to under 100 kg", "to under 90 kg", "is for an animal from 90 kg"],
  ["crate/configurations/small-animal.mdx", "to under 100 kg", "to under 110 kg", "both for an animal from 100 kg"],
  ["crate/platform.yaml", "mass: 800 kg", "mass: 300 kg", "with an animal of"],
])("a finding of the check names its own: %s, %s", async (file, before, after, said) => {
  const text = await told(await crateWith(file, before, after), "check");
  expect(text.replace(/\s+/g, " ")).toContain(said);
  expect(text.split("\n").filter((line) => FOREIGN.test(line))).toEqual([]);
});
