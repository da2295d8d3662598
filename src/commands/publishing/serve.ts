/** `rerig serve`: serves a built site on this machine and prints its address. */
import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Command } from "commander";
import { bringBack } from "../../build/out-folder.ts";
import { serveSite } from "../../build/serve.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { portAsked } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  command
    .option("--out <dir>", "the built site", "dist")
    .option("--port <number>", "the port to begin with; the next free one is taken", "4321")
    .action(async (options: { out: string; port: string }) => {
      const folder = resolve(options.out);
      bringBack(folder);
      if (!existsSync(join(folder, "index.html")))
        throw new CannotRun(`There is no site in ${folder}: build it first with \`rerig build\`.`);
      const { address } = await serveSite(folder, portAsked(options.port));
      process.stdout.write(`The site is at ${address} (stop with Ctrl+C)\n`);
      process.stderr.write("To write the collection beside its live pages: npm run -s rerig -- write\n");
    });
}
