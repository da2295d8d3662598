/** The half of `rerig import` that takes a table: its rows become items at the end of `equipment.yaml`. */
import { readFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { parseDocument, stringify } from "yaml";
import { contentHash } from "../desk/keep-states.ts";
import { bytesOf } from "../desk/place-files.ts";
import { CannotRun } from "../findings/cannot-run.ts";
import { type Imported, readEquipment } from "../import/equipment.ts";
import type { Platform } from "../schema/collection.ts";
import { saveInto } from "./save-into.ts";

/** The names of files that hold a table. */
export const IS_TABLE = /\.(?:csv|tsv|txt)$/i;

/**
 * Adds the items of a table to a platform's equipment; gives the lines to say. What stands in the file stays as it is,
 * byte by byte. Throws `CannotRun`, with nothing written, if no row could be taken, or the file can't be added to.
 */
export async function importEquipment(
  table: string,
  { folder, platform, home }: { readonly folder: string; readonly platform: Platform; readonly home?: string },
): Promise<{ readonly wrote: string; readonly left: readonly string[] }> {
  if (home !== undefined && !platform.places.some(({ id }) => id === home))
    throw new CannotRun(
      `\`${home}\` is no place of \`${platform.id}\`: ` +
        `there is ${platform.places.map(({ id }) => `\`${id}\``).join(", ")}. Nothing was written.`,
    );
  const path = join(folder, platform.id, "equipment.yaml"),
    shown = relative(process.cwd(), path);
  const there = bytesOf(path),
    before = there?.toString("utf8") ?? "";
  const { items, left } = readEquipment(await readTable(table), {
    items: new Set(platform.items.map(({ id }) => id)),
    places: platform.places,
    home,
  });
  if (items.length === 0)
    throw new CannotRun(
      ["No row of this table could be taken. Nothing was written.", ...left.map((line) => `  - ${line}`)].join("\n"),
    );
  saveInto(
    folder,
    [{ path, basedOn: there && contentHash(there), text: added(before, items, shown) }],
    () => new CannotRun(`\`${shown}\` was changed meanwhile. Nothing was written: run the command again.`),
  );
  return { wrote: `Added ${items.length} ${items.length === 1 ? "item" : "items"} to ${shown}`, left };
}

async function readTable(path: string): Promise<string> {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await readFile(path));
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    throw new CannotRun("This table is not in UTF-8. Save it again as “CSV UTF-8”. Nothing was written.");
  }
}

/** The file's text with the items after it, in its own line ends; read back, it holds what it held and these. */
function added(before: string, items: readonly Imported[], shown: string): string {
  const entries = stringify(new Map(items.map(({ id, fields }) => [id, fields])), { lineWidth: 0 }),
    lineEnd = before.includes("\r\n") ? "\r\n" : "\n";
  const after =
    (before === "" || before.endsWith("\n") ? before : before + lineEnd) + entries.replaceAll("\n", lineEnd);
  const keysOf = (text: string) => {
    const document = parseDocument(text);
    const entries = document.toJS({ mapAsMap: true }) as unknown;
    if (document.errors.length || (entries !== null && !(entries instanceof Map))) return undefined;
    return [...(entries ?? new Map<unknown, unknown>()).keys()].map(String);
  };
  const [old, now] = [keysOf(before), keysOf(after)];
  if (!old || now?.join() !== [...old, ...items.map(({ id }) => id)].join())
    throw new CannotRun(
      `Items can't be added at the end of \`${shown}\` as it is written. Mend what \`rerig check\` says of it, and ` +
        "begin each item on a line of its own. Nothing was written.",
    );
  return after;
}
