/** `rerig new`: writes a small collection that checks clean, a note on how to write, and what editors need to help. */
import { cp, mkdir, readdir, writeFile } from "node:fs/promises";
import { dirname, join, relative, resolve } from "node:path";
import type { Command } from "commander";
import { CannotRun } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { editorSchemaPath, editorSchemas } from "../../schema/editor-schemas.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigNew");
  command
    .argument("<dir>", say.takesFolder)
    .addHelpText("after", `\n${say.more}`)
    .action(async (dir: string) => {
      const folder = resolve(dir);
      await mkdir(folder, { recursive: true }).catch((error: unknown) => {
        const why = error instanceof Error ? error.message : String(error);
        throw new CannotRun(say.cantBeMade({ folder: dir, why }));
      });
      if ((await readdir(folder)).length) throw new CannotRun(say.notEmpty({ folder: dir }));
      await cp(join(import.meta.dirname, "../../starter"), folder, { recursive: true });
      for (const [name, schema] of editorSchemas()) {
        const file = join(folder, editorSchemaPath(name));
        await mkdir(dirname(file), { recursive: true });
        await writeFile(file, `${JSON.stringify(schema, null, 2)}\n`);
      }
      const shown = relative(process.cwd(), folder) || ".";
      process.stdout.write(`${say.wrote({ folder: shown })}\n${say.next({ folder: shown })}\n`);
    });
}
