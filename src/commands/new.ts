/** `rerig new`: writes a small collection that checks clean, and a note on how to write, to be changed step by step. */
import { cp, mkdir, readdir } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { CannotRun } from "../findings/cannot-run.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  command
    .argument("<dir>", "the folder to write; it must be empty or not there yet")
    .addHelpText("after", "\nThen: rerig check --procedures DIR, and rerig build --procedures DIR.")
    .action(async (dir: string) => {
      const folder = resolve(dir);
      await mkdir(folder, { recursive: true }).catch((error: unknown) => {
        throw new CannotRun(`\`${dir}\` can't be made: ${error instanceof Error ? error.message : String(error)}`);
      });
      if ((await readdir(folder)).length)
        throw new CannotRun(`\`${dir}\` is not empty; name a folder that is, so that nothing of yours is overwritten.`);
      await cp(join(import.meta.dirname, "../starter"), folder, { recursive: true });
      const shown = relative(process.cwd(), folder) || ".";
      process.stdout.write(
        `Wrote a small collection to ${shown}; its README.md says how to write\n` +
          `Next: npm run -s rerig -- check --procedures ${shown}\n`,
      );
    });
}
