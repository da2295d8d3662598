/** `npm test`: form and types, the demo's build, unit and build tests, every internal link. */
import { spawn } from "node:child_process";
import { mkdir, readFile, rm } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import { needBrowser } from "./site/find-browser.ts";
import { followLinks } from "./site/links.ts";

const root = resolve(import.meta.dirname, "..");
const work = join(root, ".rerig");
const site = join(work, "site");
/** Code that Node has compiled: some hundred processes of one run load the same packages. */
const compiled = join(work, "compiled");
const bin = (name: string) => join(root, "node_modules/.bin", name);

interface Outcome {
  readonly name: string;
  readonly passed: number;
  readonly failed: number;
  /** What failed, with the first line of why: said once more at the very end, where a cut log still shows it. */
  readonly failures?: readonly string[];
}

/** What is read of vitest's report. */
interface VitestReport {
  readonly numPassedTests?: number;
  readonly numFailedTests?: number;
  readonly testResults?: readonly {
    name: string;
    message?: string;
    assertionResults: readonly { status: string; fullName: string; failureMessages: readonly string[] }[];
  }[];
}

/**
 * The day on which the demo's story is told: an amendment is in force, copies are old, reviews are near. It is built
 * and asked about as of this day, so that the tests answer alike whenever they run; the browsers' clocks stay as they
 * are.
 */
const DAY = "2026-11-28";

/** Runs a program to its end, its output shown; gives the exit code. */
function run(command: string, args: readonly string[], env: NodeJS.ProcessEnv = {}): Promise<number> {
  return new Promise((done, fail) => {
    const child = spawn(command, args, {
      cwd: root,
      stdio: ["ignore", "inherit", "inherit"],
      env: { ...process.env, ASTRO_TELEMETRY_DISABLED: "1", RERIG_TODAY: DAY, NODE_COMPILE_CACHE: compiled, ...env },
    });
    child.on("error", fail);
    child.on("exit", (code) => done(code ?? 1));
  });
}

function heading(text: string): void {
  process.stdout.write(`\n== ${text}\n`);
}

async function one(
  name: string,
  command: string,
  args: readonly string[],
  env: NodeJS.ProcessEnv = {},
): Promise<Outcome> {
  heading(name);
  const code = await run(command, args, env);
  return { name, passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1 };
}

/** Vitest with its own report; the counts come from its JSON. */
async function unitTests(browser: string): Promise<Outcome> {
  heading("Unit and build tests");
  const report = join(work, "vitest.json");
  const code = await run(
    bin("vitest"),
    ["run", "--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
    { RERIG_BROWSER: browser, RERIG_SITE: site },
  );
  const {
    numPassedTests = 0,
    numFailedTests = 0,
    testResults = [],
  } = JSON.parse(await readFile(report, "utf8").catch(() => "{}")) as VitestReport;
  const failures = testResults.flatMap(({ name, message, assertionResults }) => {
    const file = relative(root, name);
    const failed = assertionResults
      .filter(({ status }) => status === "failed")
      .map(({ fullName, failureMessages }) => `${file}: ${fullName}: ${failureMessages[0]?.split("\n")[0] ?? ""}`);
    return failed.length === 0 && message ? [`${file}: ${message.split("\n")[0]}`] : failed;
  });
  return {
    name: "Unit and build tests",
    passed: numPassedTests,
    failed: numFailedTests + (code !== 0 && numFailedTests === 0 ? 1 : 0),
    failures,
  };
}

async function links(): Promise<Outcome> {
  heading("Internal links");
  const { pages, links: followed, broken } = await followLinks(site);
  for (const { page, link, why } of broken.slice(0, 50)) process.stdout.write(`${page}: ${link}: ${why}\n`);
  process.stdout.write(`${followed} links on ${pages} pages, ${broken.length} broken\n`);
  return { name: "Internal links", passed: followed - broken.length, failed: broken.length };
}

/** Two at a time, as there are two cores: the next begins when one has ended. Outcomes in the order of the tasks. */
async function twoAtATime(tasks: readonly (() => Promise<Outcome | Outcome[]>)[]): Promise<Outcome[]> {
  const outcomes: (Outcome | Outcome[])[] = [],
    waiting = [...tasks.entries()];
  const lane = async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) outcomes[next[0]] = await next[1]();
  };
  await Promise.all([lane(), lane()]);
  return outcomes.flat();
}

async function main(): Promise<void> {
  const browser = needBrowser(),
    began = Date.now();
  await rm(work, { recursive: true, force: true });
  await mkdir(work, { recursive: true });
  // The longest first, so that none is left alone at the end.
  const read = await twoAtATime([
    async () => {
      const made = await one("The demo builds", process.execPath, ["src/commands/rerig.mjs", "build", "--out", site]);
      return made.failed ? [made] : [made, await links()];
    },
    // Of the code and the tests as of pages and components: it checks whatever tsconfig.json includes.
    () => one("Types", bin("astro"), ["check", "--minimumFailingSeverity", "error"]),
    () => one("Lint", bin("eslint"), ["-c", "tests/eslint.config.mjs", "."]),
    () => one("Format", bin("prettier"), ["--check", "--log-level", "warn", "."]),
  ]);
  const outcomes = [...read, await unitTests(browser)];
  heading("Summary");
  process.stdout.write(`Took ${((Date.now() - began) / 60_000).toFixed(1)} minutes\n`);
  for (const { name, passed, failed, failures = [] } of outcomes) {
    process.stdout.write(`${failed ? "FAILED" : "passed"}  ${name}: ${passed} passed, ${failed} failed\n`);
    for (const failure of failures.slice(0, 20)) process.stdout.write(`        ${failure}\n`);
  }
  const sum = (key: "passed" | "failed") => outcomes.reduce((total, outcome) => total + outcome[key], 0);
  process.stdout.write(`\n${sum("passed")} passed, ${sum("failed")} failed\n`);
  process.exitCode = sum("failed") ? 1 : 0;
}

try {
  await main();
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
}
