/** Notices that a file of a collection was saved, removed or renamed, on shared folders too, where nobody tells. */
import { type FSWatcher, watch } from "node:fs";
import { lstat, readdir } from "node:fs/promises";
import { join, relative, sep } from "node:path";
import { setTimeout as pause } from "node:timers/promises";

/**
 * How often the folder is looked at, in milliseconds, whether the system tells or not; less often where a look takes
 * long, so that a desk that stands open does little else than wait: one part of so many, and at last every so often.
 */
const EVERY = 200;
const PART = 20;
const AT_LAST = 2000;
/** How long after something was seen it is looked at again: an editor writes in several steps. */
const SETTLED = 60;

/**
 * What of a folder's files says whether they are the same: names, sizes, times of change and numbers on the disk, one
 * line each. An empty text where the folder can't be read, such as while it is replaced.
 */
export async function stateOfFolder(folder: string): Promise<string> {
  try {
    // Asked with their types, nobody has to look at each to know which are folders.
    const entries = await readdir(folder, { recursive: true, withFileTypes: true }),
      folders = new Map<string, string>();
    const lines = entries.map(async (entry) => {
      const { name, parentPath } = entry,
        inside = folders.get(parentPath) ?? relative(folder, parentPath),
        path = inside === "" ? name : `${inside}${sep}${name}`;
      folders.set(parentPath, inside);
      return [path, entry.isDirectory() ? path : await lineOf(folder, path)] as const;
    });
    return (await Promise.all(lines))
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, line]) => line)
      .join("\n");
  } catch {
    return "";
  }
}

/** Whether a file of the folder, named with `/` between its parts, is as it was in a state of the folder. */
export async function isAsIn(state: string, folder: string, file: string): Promise<boolean> {
  const name = file.split("/").join(sep),
    now = await lineOf(folder, name),
    lines = `\n${state}\n`;
  // What is not there has no times: then it was not there either.
  return now === name ? !lines.includes(`\n${name} `) : lines.includes(`\n${now}\n`);
}

async function lineOf(folder: string, name: string): Promise<string> {
  const found = await lstat(join(folder, name)).catch(() => undefined);
  return found && !found.isDirectory() ? `${name} ${found.size} ${found.mtimeMs} ${found.ctimeMs} ${found.ino}` : name;
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
  const told = await listenTo(folder);
  try {
    let last = state,
      wait = EVERY;
    for (;;) {
      await (last === state
        ? Promise.race([pause(wait, undefined, stop ? { signal: stop } : {}), told.next()])
        : pause(SETTLED, undefined, stop ? { signal: stop } : {}));
      stop?.throwIfAborted();
      const began = Date.now(),
        now = await stateOfFolder(folder);
      wait = Math.min(AT_LAST, Math.max(EVERY, PART * (Date.now() - began)));
      if (now !== "" && now === last && (now !== state || otherwise())) return now;
      last = now;
    }
  } finally {
    told.close();
  }
}

/**
 * What the system tells of changes in a folder and the folders in it, where it does: it only makes the next look come
 * sooner, so that a folder it says nothing of, or that came since, is noticed as before.
 */
async function listenTo(folder: string): Promise<{ readonly next: () => Promise<void>; readonly close: () => void }> {
  const watchers: FSWatcher[] = [];
  let tell: (() => void) | undefined,
    isTold = false;
  const hear = () => {
    isTold = true;
    tell?.();
  };
  const listen = (path: string) => {
    try {
      const watcher = watch(path, hear);
      watcher.on("error", () => watcher.close());
      watchers.push(watcher);
    } catch {
      // A shared folder, or more folders than the system watches.
    }
  };
  const inside = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  for (const path of [
    folder,
    ...inside.filter((each) => each.isDirectory()).map((each) => join(each.parentPath, each.name)),
  ])
    listen(path);
  return {
    // What was told while nobody waited counts too.
    next: async () => {
      if (!isTold) await new Promise<void>((done) => (tell = done));
      isTold = false;
    },
    close: () => {
      for (const watcher of watchers) watcher.close();
    },
  };
}
