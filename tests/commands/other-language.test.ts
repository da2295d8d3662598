/**
 * Every command in the language that is made by machine and written from the right: what it takes and what it says has
 * no English left but the collection's own words, names of options and commands, and what stands in a file's form. What
 * findings say belongs to the rules, which speak English (DEVELOPERS.md, "A word").
 */
import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { englishIn, textOfCollection } from "../words/english-left.ts";
import { addMachineMade, FROM_RIGHT } from "../words/machine-made.ts";
import { runHere } from "./run-here.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
/** Quoted, an option, what it takes, a name in a list, a path: for a program, whatever the language. */
const OF_PROGRAMS = new RegExp(
  [
    ...[
      "`[^`]*`",
      "'[^']*'",
      "^ {2}[a-z]+(?= {2})",
      "--?[a-z][\\w-]*",
      "<[^>]*>",
      "\\[[^\\]]*\\]",
      "rerig(?: [a-z]+)?",
    ],
    ...[
      "[\\w@.-]*(?:\\/[\\w@.-]+)+",
      "sheet.{1,5}restock.{1,5}endurance.{1,5}call.{1,5}dates",
      "shift, day, week, run",
    ],
  ].join("|"),
  "g",
);

let work: string, own: string;
beforeAll(async () => {
  addMachineMade();
  work = await mkdtemp(join(tmpdir(), "other-language-"));
  await cp(sled, join(work, "procedures"), { recursive: true });
  const service = join(work, "procedures/service.yaml");
  await writeFile(service, (await readFile(service, "utf8")).replace(/^language: .*$/m, `language: ${FROM_RIGHT}`));
  own = await textOfCollection(sled);
});
afterAll(() => rm(work, { recursive: true, force: true }));

/** What a command says, with its exit code and the lines in which English is left. */
async function said(...args: string[]): Promise<{ status: number; text: string; left: string[] }> {
  const { status, stdout, stderr } = await runHere(args, "2026-11-28", work),
    text = `${stdout}\n${stderr}`;
  // What the caller typed is said back as it was typed.
  const left = text
    .split("\n")
    .filter((line) => englishIn(line.replace(OF_PROGRAMS, "|"), own).some((words) => !args.join(" ").includes(words)));
  return { status, text, left };
}

const COMMANDS = [
  ...["new", "write", "import", "check", "build", "serve", "approve", "issue", "cards", "folders", "choose"],
  ...["changeover", "without", "recall", "ready", "load", "signoffs", "drill", "times", "notes"],
];

it("the list of commands is said in it, and names them all", async () => {
  const { text, left } = await said("--help");
  for (const name of COMMANDS) expect(text).toMatch(new RegExp(`^  ${name} +[א-ת]`, "m"));
  expect(left).toEqual([]);
});

it.each(COMMANDS)("%s says in it what it takes", async (name) => {
  const { text, left } = await said(name, "--help");
  expect(text).toMatch(/[א-ת]{3}/);
  expect(left.filter((line) => !/"[^"]*"/.test(line))).toEqual([]);
});

const TO_SHELL = ["--from", "vacuum-mattress", "--to", "child-shell"];

it.each([
  [["check"], 0],
  [["folders"], 0],
  [["choose", "--weight", "20 kg"], 0],
  [["choose", "--weight", "900 kg"], 0],
  [["choose", "--age", "2 years"], 0],
  [["changeover", ...TO_SHELL, "--weight", "20 kg"], 0],
  [["changeover", ...TO_SHELL, "--weight", "140 kg"], 0],
  [["without"], 0],
  [["without", "child-shell"], 0],
  [["recall", "child-shell"], 0],
  [["ready"], 0],
  [["ready", "restock"], 0],
  [["ready", "endurance"], 0],
  [["ready", "call", "--to", "child-shell"], 0],
  [["ready", "dates"], 0],
  [["load", "--configuration", "child-shell", "--patient", "20 kg"], 0],
  [["drill", "--seed", "1"], 0],
  [["drill", "--seed", "2", "--crew"], 0],
  [["issue", "--dry-run"], 0],
  [["approve", "fit-oxygen", "--as", "7", "--effective", "2027-01-01"], 1],
  [["new", "begun"], 0],
  [["cards", "--paper", "A9"], 2],
  [["serve", "--out", "none"], 2],
  [["signoffs", "none.csv"], 2],
  [["times", "none.csv"], 2],
  [["notes", "none.csv"], 2],
  [["chek"], 2],
  [["check", "--al"], 2],
  [["changeover"], 2],
  [["changeover", "--from"], 2],
  [["recall"], 2],
  [["check", "one"], 2],
  [["ready", "--every", "hour"], 2],
  [["ready", "--every", "day", "plan"], 2],
  [["choose"], 2],
  [["check", "--on", "never"], 2],
  [["folders", "--folder", "none"], 2],
  [["load", "--configuration", "none"], 2],
  [["without", "none"], 2],
  [["drill", "--seed", "none"], 2],
] as const)("%j is answered in it", async (args, exit) => {
  const { status, text, left } = await said(...args);
  expect(text).toMatch(/[א-ת]{3}/);
  expect(left).toEqual([]);
  expect(status).toBe(exit);
});
