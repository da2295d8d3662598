/**
 * Runs a command in the test's own process, by the same `main` that `rerig.mjs` calls: starting a process takes ten
 * times as long as most answers. What is particular to a process (kills, its exit code as the shell sees it, the
 * environment) is tested with processes.
 */
import { main } from "../../src/commands/main.ts";

export interface Run {
  /** The exit code that the process would end with. */
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/**
 * One command to its end, with `RERIG_TODAY` if a day is given, in the folder `cwd` if one is. Commands run one after
 * the other, never at once.
 */
export async function runHere(args: readonly string[], today?: string, cwd = process.cwd()): Promise<Run> {
  const said = { stdout: "", stderr: "" };
  const before = {
    today: process.env["RERIG_TODAY"],
    cwd: process.cwd(),
    exitCode: process.exitCode,
    out: process.stdout.write,
    err: process.stderr.write,
    error: console.error,
    listeners: process.stdout.listeners("error"),
  };
  const keep = (stream: "stdout" | "stderr") => (text: string | Uint8Array) => {
    said[stream] += typeof text === "string" ? text : Buffer.from(text).toString();
    return true;
  };
  setToday(today ?? before.today);
  process.chdir(cwd);
  process.exitCode = 0;
  process.stdout.write = keep("stdout") as typeof process.stdout.write;
  process.stderr.write = keep("stderr") as typeof process.stderr.write;
  console.error = (...words: unknown[]) => void keep("stderr")(`${words.map(String).join(" ")}\n`);
  try {
    await main(args);
    return { status: Number(process.exitCode), ...said };
  } finally {
    process.stdout.write = before.out;
    process.stderr.write = before.err;
    console.error = before.error;
    process.exitCode = before.exitCode;
    process.chdir(before.cwd);
    for (const listener of process.stdout.listeners("error"))
      if (!before.listeners.includes(listener)) process.stdout.off("error", listener as () => void);
    setToday(before.today);
  }
}

function setToday(day: string | undefined): void {
  if (day === undefined) delete process.env["RERIG_TODAY"];
  else process.env["RERIG_TODAY"] = day;
}
