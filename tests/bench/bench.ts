/** `npm run bench`: `check` against the bare parser and the build against plain Astro over the same files, in one run; and the planner at scale. Prints a table. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { join, resolve } from "node:path";
import { writeCollection } from "./generate.ts";

const root = resolve(import.meta.dirname, "../..");
const scratch = join(root, ".rerig");

interface Timed {
  readonly seconds: number;
  readonly megabytes: number;
}

/** Runs a command to its end with the time and the peak memory of its largest process. */
function time(script: string, args: readonly string[], env: NodeJS.ProcessEnv = {}): Timed {
  const began = process.hrtime.bigint();
  // `/usr/bin/time` gives the peak memory where it is installed; without it the memory is left out.
  const measured = existsSync("/usr/bin/time");
  const [command, ...words] = measured ? ["/usr/bin/time", "-f", "%M", process.execPath, script, ...args] : [process.execPath, script, ...args];
  const { status, stderr } = spawnSync(command!, words, { cwd: root, encoding: "utf8", env: { ...process.env, ASTRO_TELEMETRY_DISABLED: "1", ...env }, maxBuffer: 1 << 28 });
  if (status !== 0) throw new Error(`${script} ${args.join(" ")} ended with ${status}:\n${stderr.slice(-2000)}`);
  const memory = measured ? Number(stderr.trim().split("\n").at(-1)) / 1024 : Number.NaN;
  return { seconds: Number(process.hrtime.bigint() - began) / 1e9, megabytes: memory };
}

const median = (runs: readonly Timed[]): Timed => [...runs].sort((a, b) => a.seconds - b.seconds)[Math.floor(runs.length / 2)]!;
const repeat = (count: number, work: () => Timed): Timed => median(Array.from({ length: count }, work));
const show = ({ seconds, megabytes }: Timed) => `${seconds.toFixed(2)} s${Number.isNaN(megabytes) ? "" : `, ${megabytes.toFixed(0)} MB`}`;

async function main(): Promise<void> {
  const sizes = (process.argv[2] ?? "100,300,1000").split(",").map(Number);
  await mkdir(scratch, { recursive: true });
  const folder = await mkdtemp(join(scratch, "bench-"));
  try {
    for (const size of sizes) {
      const collection = join(folder, String(size));
      const procedures = await writeCollection(collection, size);
      const parse = repeat(3, () => time("tests/bench/bare-parser.ts", [collection]));
      const check = repeat(3, () => time("src/commands/rerig.mjs", ["check", "--procedures", collection], { NODE_DISABLE_COMPILE_CACHE: "1" }));
      process.stdout.write(`${procedures} procedures: bare parser ${show(parse)}; check, cold, ${show(check)}; ratio ${(check.seconds / parse.seconds).toFixed(2)}\n`);
      if (process.argv.includes("--no-build")) continue;
      const plain = time("tests/bench/plain-astro.ts", [collection, join(folder, `plain-${size}`)]);
      const build = time("src/commands/rerig.mjs", ["build", "--procedures", collection, "--out", join(folder, `site-${size}`)]);
      process.stdout.write(`${procedures} procedures: plain Astro, MDX and search ${show(plain)}; build ${show(build)}; ratio ${(build.seconds / plain.seconds).toFixed(2)}\n`);
    }
    spawnSync(process.execPath, ["tests/bench/planner.ts"], { cwd: root, stdio: "inherit" });
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

await main();
