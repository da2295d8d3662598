/** `rerig import FILE`: a word processor's document becomes a draft procedure with its photos, a table equipment. */
import { basename, join, relative } from "node:path";
import type { Command } from "commander";
import { CannotRun } from "../../findings/cannot-run.ts";
import { AlreadyThere, draftFiles, readDraft } from "../../import/draft-files.ts";
import { IS_TABLE } from "../../import/more-equipment.ts";
import { openParts } from "../../import/zip-parts.ts";
import { ID } from "../../schema/leaves.ts";
import { heard } from "../../words/heard.ts";
import { sameCollection } from "../collection-folder.ts";
import { openAsked, platformAsked, withCollection } from "../collection-option.ts";
import { importEquipment } from "./import-equipment.ts";
import { saveInto } from "./save-into.ts";

interface Options {
  readonly procedures?: string;
  readonly platform?: string;
  readonly id?: string;
  readonly code?: string;
  readonly home?: string;
}

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  const say = heard("rerigImport");
  withCollection(command)
    .argument("<file>", say.takesFile)
    .option("--platform <id>", say.takesPlatform)
    .option("--id <id>", say.takesId)
    .option("--code <code>", say.takesCode)
    .option("--home <place>", say.takesHome)
    .addHelpText("after", `\n${say.more}`)
    .action(async (file: string, options: Options) => {
      const { folder, collection } = await openAsked(options.procedures),
        words = heard("rerigImport"),
        asked = platformAsked(collection, options.platform);
      if (IS_TABLE.test(file)) {
        const { wrote, left } = await importEquipment(file, { folder, platform: asked, home: options.home });
        return tell(options, [wrote, ...listed(words.notPlaced, left)]);
      }
      const platform = asked.id;
      const read = await readDraft(await openParts(file), basename(file)),
        id = options.id ?? read.id;
      if (!ID.test(id)) throw new CannotRun(words.noId({ id }));
      const draft = await draftFiles(read, { folder, platform, id, code: options.code }).catch((error: unknown) => {
        throw error instanceof AlreadyThere ? asThere(join(folder, error.path)) : error;
      });
      saveInto(
        folder,
        draft.files.map(({ path, text }) => ({ path: join(folder, path), basedOn: null, text })),
        asThere,
      );
      const { steps, photos } = draft;
      tell(options, [
        words.wroteDraft({ file: relative(process.cwd(), join(folder, draft.procedure)), steps, photos }),
        ...listed(words.notPlaced, draft.left),
        ...listed(words.beforeReview, draft.toSay),
      ]);
    });
}

function tell(options: Options, lines: readonly string[]): void {
  const next = heard("rerigImport").next({ same: sameCollection(options.procedures) });
  process.stdout.write(`${[...lines, next].join("\n")}\n`);
}

function listed(heading: string, lines: readonly string[]): string[] {
  return lines.length ? [heading, ...lines.map((line) => `  - ${line}`)] : [];
}

function asThere(path: string): CannotRun {
  return new CannotRun(heard("rerigImport").thereAlready({ file: relative(process.cwd(), path) }));
}
