/** What a screen is told of a save, once the collection is read again. */
import type { ChangeOutcome } from "../outcome.ts";
import type { CollectionReader } from "../reader.ts";
import type { SaveResult } from "../disk/save.ts";

/** What became of a save of `file`, which other files may go with; `address`: the screen to go to. */
export async function tellSaved(
  reader: CollectionReader,
  file: string,
  result: SaveResult,
  address?: string,
): Promise<ChangeOutcome> {
  if ("refused" in result) return result;
  if ("changed" in result) {
    const other = result.changed.find(({ path }) => path === file) ?? result.changed[0]!;
    return { changed: true, theirs: other.theirs, hash: other.hash };
  }
  const { number } = await reader.refresh();
  return { saved: true, hash: result.hashes[file] ?? null, number, ...(address === undefined ? {} : { address }) };
}
