/** `rerig import FILE`: a word processor's document becomes a draft procedure with its photos, a table equipment. */
import { basename, join, relative } from "node:path";
import type { Command } from "commander";
import { CannotRun } from "../../findings/cannot-run.ts";
import { AlreadyThere, draftFiles, readDraft } from "../../import/draft-files.ts";
import { IS_TABLE } from "../../import/more-equipment.ts";
import { openParts } from "../../import/zip-parts.ts";
import { ID } from "../../schema/leaves.ts";
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
  withCollection(command)
    .argument(
      "<file>",
      "a Word document (.docx) with numbered steps, and pictures beside them; or a table of equipment (.csv, .tsv)",
    )
    .option("--platform <id>", "the platform that it is for; needed if there are several")
    .option("--id <id>", "the procedure's id (default: from its title)")
    .option("--code <code>", "the procedure's code (default: from its id)")
    .option("--home <place>", "where items are kept whose row in the table names no place of the platform")
    .addHelpText(
      "after",
      "\nEach numbered paragraph, or row of a table, becomes a step; what is numbered below it, and the text\n" +
        "after it, its detail. Headings become sections; paragraphs that begin WARNING:, CAUTION: or NOTE: become\n" +
        "notices. A picture belongs to the step that it stands in or after. What could not be placed is listed.\n" +
        "No file is overwritten, and nothing is written unless all can be.\n" +
        "Each row of a table becomes an item at the end of equipment.yaml. Its first row says what the columns are:\n" +
        "name (or item), count, mass, home, restrains, replaced, contents, runs. Rows, cells and columns that could\n" +
        "not be placed are listed.\n" +
        "Exit code: 0 it is written, 2 it could not be.",
    )
    .action(async (file: string, options: Options) => {
      const { folder, collection } = await openAsked(options.procedures),
        asked = platformAsked(collection, options.platform);
      if (IS_TABLE.test(file)) {
        const { wrote, left } = await importEquipment(file, { folder, platform: asked, home: options.home });
        return say([wrote, ...listed(NOT_PLACED, left)]);
      }
      const platform = asked.id;
      const read = await readDraft(await openParts(file), basename(file)),
        id = options.id ?? read.id;
      if (!ID.test(id))
        throw new CannotRun(
          `\`${id}\` can't be an id: name one of lower-case letters, digits and hyphens with \`--id\`, such as ` +
            "`--id seat-capsule`. Nothing was written.",
        );
      const draft = await draftFiles(read, { folder, platform, id, code: options.code }).catch((error: unknown) => {
        throw error instanceof AlreadyThere ? asThere(join(folder, error.path)) : error;
      });
      saveInto(
        folder,
        draft.files.map(({ path, text }) => ({ path: join(folder, path), basedOn: null, text })),
        asThere,
      );
      say([
        `Wrote ${relative(process.cwd(), join(folder, draft.procedure))}: ` +
          `a draft of ${count(draft.steps, "step")} and ${count(draft.photos, "photo")}`,
        ...listed(NOT_PLACED, draft.left),
        ...listed("Before it can be reviewed", draft.toSay),
      ]);
    });
}

const NOT_PLACED = "Not placed, or not as in your file; look at each of these";

function say(lines: readonly string[]): void {
  process.stdout.write(`${[...lines, "Next: npm run -s rerig -- check"].join("\n")}\n`);
}

const count = (number: number, word: string): string => `${number} ${word}${number === 1 ? "" : "s"}`;

function listed(heading: string, lines: readonly string[]): string[] {
  return lines.length ? [`${heading}:`, ...lines.map((line) => `  - ${line}`)] : [];
}

function asThere(path: string): CannotRun {
  return new CannotRun(
    `\`${relative(process.cwd(), path)}\` is there already, and nothing is overwritten. Name another id with ` +
      "`--id`, or move that file away. Nothing was written.",
  );
}
