/** `rerig new`: writes a small collection that checks clean, a note on how to write, and what editors need to help. */
import { cp, mkdir, readdir, writeFile } from "node:fs/promises";
import { dirname, join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { CannotRun } from "../../findings/cannot-run.ts";
import { editorSchemaPath, editorSchemas } from "../../schema/editor-schemas.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  command
    .argument("<dir>", "the folder to write; it must be empty or not there yet")
    .addHelpText("after", "\nThen: rerig write --procedures DIR, which opens the desk over it.")
    .action(async (dir: string) => {
      const folder = resolve(dir);
      await mkdir(folder, { recursive: true }).catch((error: unknown) => {
        throw new CannotRun(`\`${dir}\` can't be made: ${error instanceof Error ? error.message : String(error)}`);
      });
      if ((await readdir(folder)).length)
        throw new CannotRun(`\`${dir}\` is not empty; name a folder that is, so that nothing of yours is overwritten.`);
      await cp(join(import.meta.dirname, "../../starter"), folder, { recursive: true });
      for (const [name, schema] of editorSchemas()) {
        const file = join(folder, editorSchemaPath(name));
        await mkdir(dirname(file), { recursive: true });
        await writeFile(file, `${JSON.stringify(schema, null, 2)}\n`);
      }
      const shown = relative(process.cwd(), folder) || ".";
      process.stdout.write(
        `Wrote a small collection to ${shown}; its README.md says how to write\n` +
          `Next, to write at the desk: npm run -s rerig -- write --procedures ${shown}\n`,
      );
    });
}
