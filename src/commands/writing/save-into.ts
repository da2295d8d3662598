/** What a command writes into a collection is saved as the desk saves: all or nothing, to be taken back there. */
import { join, relative, sep } from "node:path";
import { type FileToSave, saveFiles } from "../../desk/disk/save.ts";
import { CannotRun } from "../../findings/cannot-run.ts";

/**
 * Saves files of a collection, by their paths on this machine. Throws `CannotRun`, with nothing written, where the disk
 * refuses or a file is not as it was read: then with what `asChanged` says of it.
 */
export function saveInto(folder: string, files: readonly FileToSave[], asChanged: (path: string) => CannotRun): void {
  const result = saveFiles(
    folder,
    files.map((file) => ({ ...file, path: relative(folder, file.path).split(sep).join("/") })),
  );
  if ("refused" in result) throw new CannotRun(`${result.refused}.`);
  if ("changed" in result) throw asChanged(join(folder, result.changed[0]!.path));
}
