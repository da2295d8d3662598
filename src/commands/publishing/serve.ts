/** `rerig serve`: serves a built site on this machine and prints its address. */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Command } from "commander";
import { bringBack } from "../../build/out-folder.ts";
import { serveSite } from "../../build/serve.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { sameCollection, SITE_FOLDER } from "../collection-folder.ts";
import { portAsked } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigServe"),
    every = heard("everyCommand");
  command
    .option("--out <dir>", say.takesOut, SITE_FOLDER)
    .option("--port <number>", every.takesPort, "4321")
    .action(async (options: { out: string; port: string }) => {
      const folder = resolve(options.out);
      bringBack(folder);
      if (!existsSync(join(folder, "index.html"))) throw new CannotRun(say.noSite({ folder }));
      const { address } = await serveSite(folder, portAsked(options.port));
      process.stdout.write(`${say.siteIsAt({ address })}\n`);
      process.stderr.write(`${say.toWrite({ same: sameCollection(undefined) })}\n`);
    });
}
