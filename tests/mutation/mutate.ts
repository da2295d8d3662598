/**
 * Mutation testing of the pure computations: changes one thing at a time in a copy and asks whether a test notices.
 * `npm run mutation -- bands run --most 40`.
 */
import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { cp, mkdir, mkdtemp, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import ts from "typescript";

const root = resolve(import.meta.dirname, "../..");
const COPIED = ["src", "tests", "procedures", "components", "package.json", "tsconfig.json", "vitest.config.ts"];
/**
 * A mutant that takes so many times as long as the tests do without one, and some seconds more, never ends: it counts
 * as noticed.
 */
const MOST_TIMES = 4;
const MORE_MS = 10_000;
/** Left out, for it takes longer than all the rest: the 8-puzzle of tests/domain/states/puzzles.test.ts. */
const QUICK = "^(?!.*8-puzzle)";
/** Files of src/domain and the tests that hold them, quickest first; `rules` stands for tests/rules/rules.test.ts. */
const TESTS: Readonly<Record<string, readonly string[]>> = {
  bands: ["bands", "join-bands", "slips"],
  patients: ["patients", "bands", "join-bands", "independent"],
  arrangements: ["arrangements", "independent", "rules"],
  model: ["model", "run", "elsewhere", "changeover"],
  run: ["run", "model", "elsewhere", "prove"],
  explore: ["explore", "elsewhere"],
  elsewhere: ["elsewhere", "prove", "rules"],
  search: ["search", "puzzles"],
  changeover: ["changeover", "elsewhere"],
  "prove-parts": ["prove", "elsewhere", "rules"],
  "prove-plan": ["prove", "rules"],
  plans: ["pack"],
  slips: ["slips"],
  choose: ["choose"],
  timeline: ["timeline"],
  schedule: ["schedule", "timeline"],
  sharing: ["timeline"],
  load: ["load", "inertia"],
  "load-rows": ["load", "inertia"],
  inertia: ["inertia", "load"],
  rational: ["rational", "load"],
  "schedule-exact": ["schedule", "timeline"],
  "change-class": ["change-class", "revisions"],
  "match-steps": ["match-steps", "revisions"],
  signoffs: ["revisions", "commands/signoffs"],
  fractions: ["fractions", "slips"],
  "questions/orders": ["questions/orders", "questions"],
};

/** The one file below a folder whose path ends so; throws where there is none. */
function findFile(folder: string, end: string): string {
  const found = readdirSync(join(root, folder), { recursive: true, encoding: "utf8" }).find((path) =>
    `/${path}`.endsWith(`/${end}`),
  );
  if (!found) throw new Error(`${end} is nowhere below ${folder}`);
  return `${folder}/${found}`;
}

interface Mutant {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly line: number;
  readonly was: string;
}

const SWAPS: Readonly<Record<string, readonly string[]>> = {
  "<": ["<=", ">="],
  "<=": ["<", ">"],
  ">": [">=", "<="],
  ">=": [">", "<"],
  "===": ["!=="],
  "!==": ["==="],
  "+": ["-"],
  "-": ["+"],
  "*": ["/"],
  "/": ["*"],
  "%": ["*"],
  "&&": ["||"],
  "||": ["&&"],
  "??": ["&&"],
  "+=": ["-="],
  "-=": ["+="],
};
const CALLS: Readonly<Record<string, string>> = {
  min: "max",
  max: "min",
  some: "every",
  every: "some",
  find: "findLast",
  findLast: "find",
};

/**
 * Every mutant of a source text: boundaries and negations, arithmetic, logic, literals, conditions, calls, statements
 * and what is returned.
 */
function listMutants(name: string, text: string): Mutant[] {
  const source = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  const mutants: Mutant[] = [];
  const add = (node: ts.Node, to: string) => {
    const start = node.getStart(source);
    mutants.push({
      start,
      end: node.end,
      text: to,
      line: source.getLineAndCharacterOfPosition(start).line + 1,
      was: text.slice(start, node.end),
    });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) || ts.isInterfaceDeclaration(node) || ts.isImportDeclaration(node)) return;
    if (ts.isBinaryExpression(node))
      for (const to of SWAPS[node.operatorToken.getText(source)] ?? []) add(node.operatorToken, to);
    if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.ExclamationToken)
      add(node, node.operand.getText(source));
    if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.MinusToken)
      add(node, node.operand.getText(source));
    if (node.kind === ts.SyntaxKind.TrueKeyword) add(node, "false");
    if (node.kind === ts.SyntaxKind.FalseKeyword) add(node, "true");
    if (ts.isNumericLiteral(node) || ts.isBigIntLiteral(node))
      add(node, `(${node.text} + ${ts.isBigIntLiteral(node) ? "1n" : "1"})`);
    if (ts.isIfStatement(node)) (add(node.expression, "true"), add(node.expression, "false"));
    if (ts.isConditionalExpression(node)) (add(node.condition, "true"), add(node.condition, "false"));
    if (
      ts.isPropertyAccessExpression(node) &&
      ts.isCallExpression(node.parent) &&
      node.parent.expression === node &&
      CALLS[node.name.text]
    )
      add(node.name, CALLS[node.name.text]!);
    if (ts.isExpressionStatement(node)) add(node, ";");
    if (ts.isContinueStatement(node) || ts.isBreakStatement(node)) add(node, ";");
    if (
      ts.isReturnStatement(node) &&
      node.expression &&
      !["undefined", "true", "false", "-1", "[]"].includes(node.expression.getText(source))
    )
      add(node.expression, ts.isArrayLiteralExpression(node.expression) ? "[]" : "undefined");
    ts.forEachChild(node, visit);
  };
  visit(source);
  return mutants;
}

/**
 * As many as asked, the same ones every time (a linear congruential generator with the constants of Numerical Recipes).
 */
function sample<T>(all: readonly T[], most: number, seed: number): T[] {
  let random = seed >>> 0;
  const keyed = all.map((each, at) => ({ each, at, key: (random = (Math.imul(random, 1664525) + 1013904223) >>> 0) }));
  return keyed
    .sort((a, b) => a.key - b.key)
    .slice(0, most)
    .sort((a, b) => a.at - b.at)
    .map(({ each }) => each);
}

/** Whether the tests pass in a copy, the first file by itself, since it notices most; "late" if they do not end. */
async function runTests(
  copy: string,
  [first, ...others]: readonly string[],
  most: readonly number[],
): Promise<"passed" | "failed" | "late"> {
  const end = await runFiles(copy, [first!], most[0]!);
  return end === "passed" && others.length > 0 ? runFiles(copy, others, most[1]!) : end;
}

/**
 * Milliseconds that the tests may take, those of the first file and of the others; `undefined` if they do not pass as
 * they are.
 */
async function timeTests(copy: string, tests: readonly string[]): Promise<number[] | undefined> {
  const times: number[] = [];
  for (const files of [tests.slice(0, 1), tests.slice(1)]) {
    const start = performance.now();
    if (files.length > 0 && (await runFiles(copy, files, 600_000)) !== "passed") return undefined;
    times.push(MOST_TIMES * (performance.now() - start) + MORE_MS);
  }
  return times;
}

function runFiles(copy: string, tests: readonly string[], mostMs: number): Promise<"passed" | "failed" | "late"> {
  return new Promise((done) => {
    const child = spawn(
      process.execPath,
      [
        "node_modules/vitest/vitest.mjs",
        "run",
        ...tests,
        "--bail=1",
        `--testNamePattern=${QUICK}`,
        "--pool=forks",
        "--no-file-parallelism",
        "--no-isolate",
        "--reporter=dot",
      ],
      { cwd: copy, stdio: "ignore", detached: true },
    );
    const timer = setTimeout(() => {
      process.kill(-child.pid!, "SIGKILL");
      done("late");
    }, mostMs);
    child.on("exit", (code) => {
      clearTimeout(timer);
      done(code === 0 ? "passed" : "failed");
    });
  });
}

async function makeCopy(): Promise<string> {
  const copy = await mkdtemp(join(tmpdir(), "rerig-mutation-"));
  for (const each of COPIED) await cp(join(root, each), join(copy, each), { recursive: true });
  await mkdir(join(copy, ".rerig"));
  await symlink(join(root, "node_modules"), join(copy, "node_modules"));
  return copy;
}

/** Tries the mutants of one file, as many at once as there are copies, and prints those that no test notices. */
async function tryFile(name: string, copies: readonly string[], count: number, seed: number): Promise<void> {
  const path = findFile("src/domain", `${name}.ts`);
  const text = await readFile(join(root, path), "utf8");
  const tests = (TESTS[name] ?? [name]).map((each) =>
    each === "rules" ? "tests/rules/rules.test.ts" : findFile("tests", `${each}.test.ts`),
  );
  const most = await timeTests(copies[0]!, tests);
  if (!most) return void process.stdout.write(`${name}: its tests do not pass as they are\n`);
  const all = listMutants(path, text);
  const queue = sample(all, count, seed);
  const tried = queue.length;
  const survivors: Mutant[] = [];
  let late = 0;
  await Promise.all(
    copies.map(async (copy) => {
      for (let mutant = queue.shift(); mutant; mutant = queue.shift()) {
        await writeFile(join(copy, path), text.slice(0, mutant.start) + mutant.text + text.slice(mutant.end));
        const end = await runTests(copy, tests, most);
        if (end === "passed") survivors.push(mutant);
        if (end === "late")
          (late++,
            process.stderr.write(`${path}:${mutant.line}: ${mutant.was.slice(0, 60)} → ${mutant.text}: never ends\n`));
      }
      await writeFile(join(copy, path), text);
    }),
  );
  for (const { line, was, text: to } of survivors.sort((a, b) => a.start - b.start))
    process.stdout.write(`${path}:${line}: ${was.replace(/\s+/g, " ").slice(0, 120)} → ${to.slice(0, 60)}\n`);
  process.stdout.write(
    `${name}: ${all.length} mutants, ${tried} tried, ${tried - survivors.length} noticed (${late} because ` +
      `they never ended), ${survivors.length} not\n`,
  );
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    most: { type: "string", default: "40" },
    seed: { type: "string", default: "1" },
    copies: { type: "string", default: "2" },
  },
});
const copies = await Promise.all(Array.from({ length: Number(values.copies) }, makeCopy));
try {
  for (const name of positionals.length > 0 ? positionals : Object.keys(TESTS))
    await tryFile(name, copies, Number(values.most), Number(values.seed));
} finally {
  for (const copy of copies) await rm(copy, { recursive: true, force: true });
}
