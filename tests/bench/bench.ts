/**
 * `npm run bench`: `check` against the bare parser, the build against plain Astro, a pack of 200 cards, how checking
 * grows with each kind of thing, and the planner at scale. Prints a table.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { join, resolve } from "node:path";
import { writeCollection } from "./generate.ts";

const root = resolve(import.meta.dirname, "../..");
const scratch = join(root, ".rerig");
const rerig = "src/commands/rerig.mjs";
const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
  scripts: Readonly<Record<string, string>>;
};
/** What the npm script of `rerig` gives to Node: room for young objects. */
const ROOM = scripts["rerig"]!.split(" ").filter((word) => word.startsWith("--"));
/**
 * Up to this many procedures, plain Astro also builds as many pages of our size: beyond, it needs more memory than a
 * usual machine has.
 */
const MOST_ALIKE = 300;
/** Three configurations a platform, twenty procedures each: 201 cards. */
const FOR_200_CARDS = 67 * 20;

/**
 * `wall` and `user` (of all its processes) in seconds; the peak memory of its largest process. Not a number where it is
 * not known.
 */
interface Timed {
  readonly wall: number;
  readonly user: number;
  readonly megabytes: number;
}

let emptied = 0;
/** A cache folder of nobody's: what is measured works everything out, unless it is given one to keep results in. */
const nothingKept = () => join(KEPT, String((emptied += 1)));
const KEPT = join(scratch, `kept-${process.pid}`);

/** Runs a script to its end; ours with what its npm script gives to Node. Throws if it fails. */
function time(
  script: string,
  args: readonly string[],
  env: NodeJS.ProcessEnv = {},
  flags: readonly string[] = script === rerig ? ROOM : [],
): Timed {
  const began = process.hrtime.bigint();
  // `/usr/bin/time` gives processor time and memory where it is installed; without it they are left out.
  const measured = existsSync("/usr/bin/time");
  const [command, ...words] = measured
    ? ["/usr/bin/time", "-f", "%U %M", process.execPath, ...flags, script, ...args]
    : [process.execPath, ...flags, script, ...args];
  const { status, stderr } = spawnSync(command!, words, {
    cwd: root,
    encoding: "utf8",
    env: { ...process.env, ASTRO_TELEMETRY_DISABLED: "1", RERIG_CACHE: nothingKept(), ...env },
    maxBuffer: 1 << 28,
  });
  if (status !== 0) throw new Error(`${script} ${args.join(" ")} ended with ${status}:\n${stderr.slice(-2000)}`);
  const [user = Number.NaN, kilobytes = Number.NaN] = measured
    ? stderr.trim().split("\n").at(-1)!.split(" ").map(Number)
    : [];
  return { wall: Number(process.hrtime.bigint() - began) / 1e9, user, megabytes: kilobytes / 1024 };
}

/** The middle one of each figure. */
function median(runs: readonly Timed[]): Timed {
  const middle = (of: (run: Timed) => number) => runs.map(of).sort((a, b) => a - b)[Math.floor(runs.length / 2)]!;
  return {
    wall: middle(({ wall }) => wall),
    user: middle(({ user }) => user),
    megabytes: middle(({ megabytes }) => megabytes),
  };
}

const known = (value: number, text: string) => (Number.isNaN(value) ? "" : text);
const show = ({ wall, user, megabytes }: Timed) =>
  `${wall.toFixed(2)} ` +
  `s${known(user, ` (processor ${user.toFixed(2)} s)`)}${known(megabytes, `, ${megabytes.toFixed(0)} MB`)}`;
const ratio = (ours: Timed, theirs: Timed) =>
  `ratio ${(ours.wall / theirs.wall).toFixed(2)}` +
  known(ours.user, ` (processor ${(ours.user / theirs.user).toFixed(2)})`);
const say = (line: string) => process.stdout.write(`${line}\n`);

/** How many pages a site has, and their size altogether. */
function pagesIn(folder: string): { readonly count: number; readonly bytes: number } {
  const pages = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".html"));
  return { count: pages.length, bytes: pages.reduce((sum, name) => sum + statSync(join(folder, name)).size, 0) };
}

const showPages = ({ wall, user }: Timed, { count, bytes }: { readonly count: number; readonly bytes: number }) =>
  `${count} pages of ${(bytes / count / 1000).toFixed(1)} kB, ${((wall * 1000) / count).toFixed(1)} ms a ` +
  `page${known(user, ` (processor ${((user * 1000) / count).toFixed(1)} ms)`)}`;

/**
 * `check` with nothing kept of the collection, and the bare parser in turn with it, so that both meet the same machine:
 * once with Node's cache of
 * compiled code for both, as every run but the first has it, and once without for both, as the very first.
 */
function benchCheck(collection: string, procedures: number, cache: string): void {
  const parser = "tests/bench/bare-parser.ts";
  const run = (env: NodeJS.ProcessEnv) => ({
    parse: time(parser, [collection], env),
    check: time(rerig, ["check", "--procedures", collection], env),
    roomy: time(parser, [collection], env, ROOM),
  });
  const compare = (how: string, env: NodeJS.ProcessEnv) => {
    const runs = Array.from({ length: 3 }, () => run(env)),
      parse = median(runs.map((each) => each.parse)),
      check = median(runs.map((each) => each.check)),
      roomy = median(runs.map((each) => each.roomy));
    say(
      `${procedures} procedures, ${how}: bare parser ${show(parse)}; ` +
        `check ${show(check)}; ${ratio(check, parse)}; against the parser with as much room for young ` +
        `objects ${ratio(check, roomy)}`,
    );
  };
  compare("no code cache", { NODE_DISABLE_COMPILE_CACHE: "1" });
  run({ NODE_COMPILE_CACHE: cache });
  compare("code cached", { NODE_COMPILE_CACHE: cache });
  benchAgain(collection, procedures, { NODE_COMPILE_CACHE: cache, RERIG_CACHE: join(cache, "kept") });
}

/** `check` once more with everything kept, then after an edit of one step's words. */
function benchAgain(collection: string, procedures: number, env: NodeJS.ProcessEnv): void {
  const parse = time("tests/bench/bare-parser.ts", [collection], env),
    check = () => time(rerig, ["check", "--procedures", collection], env);
  check();
  const again = check(),
    name = readdirSync(collection, { recursive: true, encoding: "utf8" })
      .filter((each) => /^[^/\\]+[/\\][^/\\]+\.mdx$/.test(each))
      .sort()[0]!,
    file = join(collection, name),
    text = readFileSync(file, "utf8");
  writeFileSync(
    file,
    text.replace(/(?<=^:::step\{[^}]*\}\n)\w+/m, (word) => `${word} now`),
  );
  const words = check();
  writeFileSync(file, text);
  say(
    `${procedures} procedures, results kept: check ${show(again)}, ${ratio(again, parse)}; after an edit of a step's ` +
      `words ${show(words)}, ${ratio(words, parse)}`,
  );
}

/** The build against plain Astro: over the same files, and over as many pages of about the same size. */
function benchBuild(folder: string, collection: string, procedures: number): void {
  const plainFolder = join(folder, `plain-${procedures}`),
    alikeFolder = join(folder, `alike-${procedures}`),
    siteFolder = join(folder, `site-${procedures}`);
  const plain = time("tests/bench/plain-astro.ts", [collection, plainFolder]);
  const build = time(rerig, ["build", "--procedures", collection, "--out", siteFolder]);
  const ours = pagesIn(siteFolder),
    theirs = pagesIn(join(plainFolder, "dist"));
  say(
    `${procedures} procedures, same files: plain Astro, MDX and ` +
      `search ${show(plain)}, ${showPages(plain, theirs)}; ` +
      `build ${show(build)}, ${showPages(build, ours)}; ${ratio(build, plain)}`,
  );
  if (procedures > MOST_ALIKE) return;
  const repeat = Math.max(1, Math.round(ours.bytes / ours.count / (theirs.bytes / theirs.count)));
  const alike = time("tests/bench/plain-astro.ts", [collection, alikeFolder, String(ours.count), String(repeat)]);
  say(
    `${procedures} procedures, as many pages of about our size: plain Astro, MDX and ` +
      `search ${show(alike)}, ${showPages(alike, pagesIn(join(alikeFolder, "dist")))}; ${ratio(build, alike)}`,
  );
}

/** A pack of 200 cards with fourteen lines each, everything read and proved first. */
async function benchCards(folder: string): Promise<void> {
  const collection = join(folder, "cards"),
    file = join(folder, "cards.pdf");
  const procedures = await writeCollection(collection, FOR_200_CARDS, { checks: 14 });
  const check = time(rerig, ["check", "--procedures", collection]);
  const pack = time(rerig, ["cards", "--procedures", collection, "--out", file]);
  say(
    `${(procedures / 20) * 3} cards as a PDF pack: ${show(pack)}, of which reading and proving ${procedures} ` +
      `procedures ${check.wall.toFixed(2)} s; ${(statSync(file).size / 1e6).toFixed(1)} MB`,
  );
}

async function main(): Promise<void> {
  const words = process.argv.slice(2),
    has = (word: string) => words.includes(word);
  const sizes = (words.find((word) => /^[\d,]+$/.test(word)) ?? "100,300,1000").split(",").map(Number);
  await mkdir(scratch, { recursive: true });
  const folder = await mkdtemp(join(scratch, "bench-"));
  try {
    for (const size of sizes) {
      const collection = join(folder, String(size)),
        procedures = await writeCollection(collection, size);
      if (!has("--no-check")) benchCheck(collection, procedures, join(folder, "code"));
      if (!has("--no-build")) benchBuild(folder, collection, procedures);
    }
    if (!has("--no-cards")) await benchCards(folder);
    if (!has("--no-growth")) spawnSync(process.execPath, ["tests/bench/growth.ts"], { cwd: root, stdio: "inherit" });
    if (!has("--no-planner")) spawnSync(process.execPath, ["tests/bench/planner.ts"], { cwd: root, stdio: "inherit" });
  } finally {
    for (const each of [folder, KEPT]) await rm(each, { recursive: true, force: true });
  }
}

await main();
