/** The half of `rerig import` that takes a table: its rows become items at the end of `equipment.yaml`. */
import { readFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { contentHash } from "../../desk/disk/keep-states.ts";
import { bytesOf } from "../../desk/disk/place-files.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { moreEquipment } from "../../import/more-equipment.ts";
import type { Platform } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";
import { saveInto } from "./save-into.ts";

/**
 * Adds the items of a table to a platform's equipment; gives the lines to say. What stands in the file stays as it is,
 * byte by byte. Throws `CannotRun`, with nothing written, if no row could be taken, or the file can't be added to.
 */
export async function importEquipment(
  table: string,
  { folder, platform, home }: { readonly folder: string; readonly platform: Platform; readonly home?: string },
): Promise<{ readonly wrote: string; readonly left: readonly string[] }> {
  const say = heard("rerigImport");
  if (home !== undefined && !platform.places.some(({ id }) => id === home))
    throw new CannotRun(
      say.noPlace({
        id: home,
        which: platform.id,
        places: platform.places.map(({ id }) => `\`${id}\``).join(", "),
      }),
    );
  const path = join(folder, platform.id, "equipment.yaml"),
    shown = relative(process.cwd(), path);
  const there = bytesOf(path),
    before = there?.toString("utf8") ?? "";
  const { text, count, left } = moreEquipment(await readFile(table), before, { platform, home, shown });
  saveInto(
    folder,
    [{ path, basedOn: there && contentHash(there), text }],
    () => new CannotRun(say.changedMeanwhile({ file: shown })),
  );
  return { wrote: say.added({ items: count, file: shown }), left };
}
