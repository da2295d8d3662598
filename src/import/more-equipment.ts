/** A table's rows as items at the end of `equipment.yaml`; what stands in the file stays as it is, byte by byte. */
import { parseDocument, stringify } from "yaml";
import { CannotRun } from "../findings/cannot-run.ts";
import type { Platform } from "../schema/collection.ts";
import { type Imported, readEquipment } from "./equipment.ts";

/** The names of files that hold a table. */
export const IS_TABLE = /\.(?:csv|tsv|txt)$/i;

/** The file with the items, how many they are, and what could not be placed. */
interface MoreEquipment {
  readonly text: string;
  readonly count: number;
  readonly left: readonly string[];
}

/**
 * Adds the items of a table (UTF-8) to a platform's equipment, whose file says `before`; `home` is where items are kept
 * whose row names no place, `shown` what the file is called. Throws `CannotRun` if no row could be taken, or the file
 * can't be added to.
 */
export function moreEquipment(
  table: Uint8Array,
  before: string,
  {
    platform,
    home,
    shown,
  }: { readonly platform: Platform; readonly home?: string | undefined; readonly shown: string },
): MoreEquipment {
  const { items, left } = readEquipment(textOf(table), {
    items: new Set(platform.items.map(({ id }) => id)),
    places: platform.places,
    home,
  });
  if (items.length === 0)
    throw new CannotRun(
      ["No row of this table could be taken. Nothing was written.", ...left.map((line) => `  - ${line}`)].join("\n"),
    );
  return { text: added(before, items, shown), count: items.length, left };
}

function textOf(table: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(table);
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
