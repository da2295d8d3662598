/** Writes a file whole or not at all. */
import { chmodSync, closeSync, fsyncSync, openSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { isRunning } from "./is-running.ts";

/** What is written beside a file before it takes its place, by the number of the process that writes it. */
const PART = /^\..+\.(\d+)\.(?:part|old)$/;

/**
 * Writes beside the file under another name, then renames: whoever interrupts it, the file is the old one or the new
 * one. Throws as the file system does.
 */
export function writeWhole(file: string, content: Uint8Array | string): void {
  removeLeftOvers(dirname(file));
  const part = writePart(file, content);
  try {
    renameSync(part, file);
    syncFolder(dirname(file));
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

/** The hidden name beside a file that is only this process's: for what will be there (`part`), or was (`old`). */
export function nameBeside(file: string, what: "part" | "old"): string {
  return join(dirname(file), `.${basename(file)}.${process.pid}.${what}`);
}

/**
 * Writes beside a file what is to take its place, down to the disk, and gives its name; nothing of it stays where that
 * fails. `mode`: who may read and write it, as the system's own for new files where it is left out.
 */
export function writePart(file: string, content: Uint8Array | string, mode?: number): string {
  const part = nameBeside(file, "part");
  try {
    writeDown(part, content, "w");
    if (mode !== undefined) chmodSync(part, mode);
    return part;
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

/** Writes a file and waits until the disk has it; `wx`: one that is there already is an error (open(2), O_EXCL). */
export function writeDown(file: string, content: Uint8Array | string, flag: "w" | "wx"): void {
  const open = openSync(file, flag);
  try {
    writeFileSync(open, content);
    fsyncSync(open);
  } finally {
    closeSync(open);
  }
}

/** What was renamed in a folder is on the disk (fsync(2)); a system that can't do that for folders is let be. */
export function syncFolder(folder: string): void {
  try {
    const open = openSync(folder, "r");
    try {
      fsyncSync(open);
    } finally {
      closeSync(open);
    }
  } catch {
    // Windows opens no folder.
  }
}

/** Removes what interrupted runs have left in a folder, unless its process still writes. */
export function removeLeftOvers(folder: string): void {
  for (const name of readdirSync(folder)) {
    const pid = PART.exec(name)?.[1];
    if (pid && (Number(pid) === process.pid || !isRunning(Number(pid)))) rmSync(join(folder, name), { force: true });
  }
}
