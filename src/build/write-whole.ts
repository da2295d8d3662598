/** Writes a file whole or not at all. */
import { readdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { isRunning } from "./is-running.ts";

/**
 * Writes beside the file under another name, then renames: whoever interrupts it, the file is the old one or the new
 * one. Throws as the file system does.
 */
export async function writeWhole(file: string, content: Uint8Array | string): Promise<void> {
  const folder = dirname(file),
    stem = `.${basename(file)}.`;
  await removeLeftOvers(folder, stem);
  const fresh = join(folder, `${stem}${process.pid}.part`);
  try {
    await writeFile(fresh, content);
    await rename(fresh, file);
  } catch (error) {
    await rm(fresh, { force: true });
    throw error;
  }
}

/** What interrupted runs have left, unless its process still writes. */
async function removeLeftOvers(folder: string, stem: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const pid = name.startsWith(stem) ? /^(\d+)\.part$/.exec(name.slice(stem.length))?.[1] : undefined;
    if (pid && !isRunning(Number(pid))) await rm(join(folder, name), { force: true });
  }
}
