/** The text of a file of the collection, as it is on the disk. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";

/** The text of a file of the collection; `undefined` if there is none. `file` is one that the collection has named. */
export async function fileText({ folder }: { readonly folder: string }, file: string): Promise<string | undefined> {
  if (/(^|\/)\.|\\|\0/.test(file)) return undefined;
  return readFile(join(folder, file), "utf8").catch(() => undefined);
}
