/** Starts the process that builds sites for tests (`build-sites.ts`) before the first file, ends it after the last. */
import { type ChildProcess, fork } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";

let builder: ChildProcess | undefined;

export async function setup(): Promise<void> {
  if (process.env["RERIG_BUILDER"]) return;
  builder = fork(join(import.meta.dirname, "build-sites.ts"), { execArgv: ["--max-semi-space-size=64"] });
  const [port] = (await once(builder, "message")) as [number];
  process.env["RERIG_BUILDER"] = String(port);
}

export async function teardown(): Promise<void> {
  if (!builder?.connected) return;
  const ended = once(builder, "exit");
  builder.disconnect();
  await ended;
  builder = undefined;
  delete process.env["RERIG_BUILDER"];
}
