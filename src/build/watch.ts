/** Notices that a file of a collection was saved, removed or renamed, on shared folders too, where nobody tells. */
import { lstat, readdir } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";

/** How often the folder is looked at, in milliseconds. */
const EVERY = 200;

/**
 * What of a folder's files says whether they are the same: names, sizes and times of change, one line each. An empty
 * text where the folder can't be read, such as while it is replaced.
 */
export async function stateOfFolder(folder: string): Promise<string> {
  try {
    const names = (await readdir(folder, { recursive: true })).sort();
    const lines = await Promise.all(
      names.map(async (name) => {
        const found = await lstat(join(folder, name)).catch(() => undefined);
        return found && !found.isDirectory() ? `${name} ${found.size} ${found.mtimeMs} ${found.ctimeMs}` : name;
      }),
    );
    return lines.join("\n");
  } catch {
    return "";
  }
}

/**
 * Waits until the folder is no longer as it was in `state`, and two looks in a row see the same (an editor writes in
 * several steps), or until `otherwise` says so; answers with what it is then. Throws `AbortError` when `stop` says so.
 */
export async function untilChanged(
  folder: string,
  state: string,
  { stop, otherwise = () => false }: { readonly stop?: AbortSignal; readonly otherwise?: () => boolean } = {},
): Promise<string> {
  let last = state;
  for (;;) {
    await pause(EVERY, undefined, stop ? { signal: stop } : {});
    const now = await stateOfFolder(folder);
    if (now !== "" && now === last && (now !== state || otherwise())) return now;
    last = now;
  }
}
