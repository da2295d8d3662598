/** `rerig import FILE`: a word processor's document becomes a draft procedure with its photos, a table equipment. */
import { readdir } from "node:fs/promises";
import { basename, join, relative } from "node:path";
import type { Command } from "commander";
import { stringify } from "yaml";
import { CannotRun } from "../findings/cannot-run.ts";
import { draftOf, photoId, titleOf } from "../import/draft.ts";
import { photoOf } from "../import/photo.ts";
import type { DrawnPicture } from "../import/read-body.ts";
import { readWordDocument } from "../import/read-document.ts";
import { type Parts, openParts } from "../import/zip-parts.ts";
import { ID } from "../schema/leaves.ts";
import { slugOf } from "../schema/wording.ts";
import { openAsked, platformAsked, withCollection } from "./collection-option.ts";
import { importEquipment, IS_TABLE } from "./import-equipment.ts";
import { saveInto } from "./save-into.ts";

interface Options {
  readonly procedures?: string;
  readonly platform?: string;
  readonly id?: string;
  readonly code?: string;
  readonly home?: string;
}

/** A file to write: its path, absolute, and what it holds. */
type Fresh = readonly [path: string, content: string | Uint8Array];

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
      const parts = await openParts(file),
        document = await readWordDocument(parts);
      const title = titleOf(document) || basename(file).replace(/\.[^.]*$/, ""),
        id = options.id ?? slugOf(title);
      if (!ID.test(id))
        throw new CannotRun(
          `\`${id}\` can't be an id: name one of lower-case letters, digits and hyphens with \`--id\`, such as ` +
            "`--id seat-capsule`. Nothing was written.",
        );
      const draft = draftOf(document, id, { title, code: options.code ?? id.toUpperCase() });
      const { files, left, made } = await photosFor(draft.pictures, parts, join(folder, platform, "photos"), id);
      const procedure = join(folder, platform, `${id}.mdx`);
      const fresh: readonly Fresh[] = [...files, [procedure, draft.textWith((photo) => made.has(photo))]];
      saveInto(
        folder,
        fresh.map(([path, text]) => ({ path, basedOn: null, text })),
        asThere,
      );
      const lines = [
        `Wrote ${relative(process.cwd(), procedure)}: ` +
          `a draft of ${count(draft.steps, "step")} and ${count(made.size, "photo")}`,
        ...listed(NOT_PLACED, [...draft.left, ...left]),
        ...listed("Before it can be reviewed", [
          ...(options.code === undefined ? ["its code, which is only its id here"] : []),
          "for whom it is (`weight`, `age`): as it stands it would be for every patient",
          "who does each step (`by`), which are critical, and what is moved, turned and checked",
          "for each photo what it shows (`alt`), where the document does not say",
        ]),
      ];
      say(lines);
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

/** The photos' files, what is to be said of them, and the numbers of those that there are. */
async function photosFor(
  pictures: readonly DrawnPicture[],
  parts: Parts,
  folder: string,
  id: string,
): Promise<{ readonly files: Fresh[]; readonly left: string[]; readonly made: ReadonlySet<number> }> {
  const files: Fresh[] = [],
    left: string[] = [],
    made = new Set<number>();
  const there = await readdir(folder).catch(() => []);
  // One after the other: a document may hold a hundred, and each takes its pixels in memory.
  for (const [index, picture] of pictures.entries()) {
    const stem = join(folder, photoId(id, index + 1)),
      taken = there.find((name) => name.replace(/\.[^.]*$/, "") === basename(stem));
    if (taken !== undefined) throw asThere(join(folder, taken));
    const photo = await photoOf(await parts.read(picture.part), picture, index + 1);
    if (photo.left !== undefined) left.push(photo.left);
    if (!photo.jpeg) continue;
    made.add(index + 1);
    files.push([`${stem}.jpg`, photo.jpeg]);
    const beside = { ...(picture.alt ? { alt: picture.alt } : {}), ...(photo.taken ? { taken: photo.taken } : {}) };
    if (Object.keys(beside).length) files.push([`${stem}.yaml`, stringify(beside, { lineWidth: 0 })]);
  }
  return { files, left, made };
}

function asThere(path: string): CannotRun {
  return new CannotRun(
    `\`${relative(process.cwd(), path)}\` is there already, and nothing is overwritten. Name another id with ` +
      "`--id`, or move that file away. Nothing was written.",
  );
}
