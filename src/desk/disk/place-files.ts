/**
 * Files put in place of others, all of them or none, and never over what somebody else has written meanwhile. What was
 * announced and not ended is ended at the next start.
 */
import { linkSync, lstatSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { nameBeside, removeLeftOvers, syncFolder, writePart } from "../../build/write-whole.ts";
import type { FileChange, KeptSave, KeptStates } from "./keep-states.ts";
import { contentHash } from "./keep-states.ts";
import { ownFile } from "./own-paths.ts";

/** A file that is to change. */
export interface Placing extends FileChange {
  /** The real file. */
  readonly file: string;
  /** What it shall say; `null` removes it. */
  readonly content: Uint8Array | null;
}

/** What is announced: a save, and the names beside each file. */
interface Plan extends KeptSave {
  readonly files: readonly Planned[];
}

interface Planned extends FileChange {
  readonly part: string;
  readonly old: string;
}

/** Somebody else has written a file meanwhile; all is as it was. */
class ChangedMeanwhile extends Error {}

/** The bytes of a file; `null` where it is not there. */
export function bytesOf(file: string): Buffer | null {
  try {
    return readFileSync(file);
  } catch (error) {
    if (["ENOENT", "ENOTDIR"].includes((error as NodeJS.ErrnoException).code ?? "")) return null;
    throw error;
  }
}

/** Whether all files were put in place; false where one of them was written meanwhile. Throws as the disk does. */
export function placeFiles(placings: readonly Placing[], save: KeptSave, states: KeptStates): boolean {
  const made: string[] = [];
  try {
    for (const { file, content } of placings) {
      if (content === null) continue;
      mkdirSync(dirname(file), { recursive: true });
      made.push(writePart(file, content, modeOf(file)));
    }
    const files = placings.map(({ file, path, before, after }) => ({
      path,
      before,
      after,
      part: basename(nameBeside(file, "part")),
      old: basename(nameBeside(file, "old")),
    }));
    states.announce({ ...save, files } satisfies Plan);
    placeAll(placings, () => states.add(save));
    for (const folder of new Set(placings.map(({ file }) => dirname(file)))) syncFolder(folder);
    states.forget();
    return true;
  } catch (error) {
    states.forget();
    if (error instanceof ChangedMeanwhile) return false;
    throw error;
  } finally {
    for (const part of made) rmSync(part, { force: true });
    for (const { file } of placings) rmSync(nameBeside(file, "old"), { force: true });
  }
}

/** All or, where one can't be placed or what comes `last` can't be done, none. */
function placeAll(placings: readonly Placing[], last: () => void): void {
  const placed: Placing[] = [];
  try {
    for (const placing of placings) {
      place(placing);
      placed.push(placing);
    }
    last();
  } catch (error) {
    for (const placing of placed.reverse()) putBack(placing);
    throw error;
  }
}

/**
 * Puts one file in place. The old one keeps a second name: what that name leads to is looked at before and after, so
 * that a write by another editor is found and left standing. Between the last look and the renaming lies one call of
 * the system.
 */
function place({ file, before, content }: Placing): void {
  const old = nameBeside(file, "old"),
    part = nameBeside(file, "part");
  if (before === null) {
    if (content === null) return;
    try {
      linkSync(part, file);
    } catch (error) {
      throw codeOf(error) === "EEXIST" ? new ChangedMeanwhile() : error;
    }
    return;
  }
  rmSync(old, { force: true });
  try {
    linkSync(file, old);
  } catch (error) {
    throw codeOf(error) === "ENOENT" ? new ChangedMeanwhile() : error;
  }
  const number = lstatSync(old).ino;
  if (hashOf(old) !== before || lstatSync(file, { throwIfNoEntry: false })?.ino !== number)
    throw new ChangedMeanwhile();
  if (content === null) rmSync(file);
  else renameSync(part, file);
  if (hashOf(old) === before) return;
  renameSync(old, file);
  throw new ChangedMeanwhile();
}

/** Takes back what was placed, unless it was written since. */
function putBack({ file, before, after }: FileChange & { readonly file: string }): void {
  if (hashOf(file) !== after) return;
  if (before === null) rmSync(file, { force: true });
  else renameSync(nameBeside(file, "old"), file);
}

function hashOf(file: string): string | null {
  const bytes = bytesOf(file);
  return bytes && contentHash(bytes);
}

function modeOf(file: string): number | undefined {
  const mode = lstatSync(file, { throwIfNoEntry: false })?.mode;
  return mode === undefined ? undefined : mode & 0o7777;
}

function codeOf(error: unknown): string | undefined {
  return (error as NodeJS.ErrnoException).code;
}

/** Ends what an interrupted save had announced, forwards where all of it is there, else back. */
export function endInterrupted(root: string, states: KeptStates): void {
  const plan = states.announced() as Plan | undefined;
  if (!plan) return;
  const files = plan.files.map((each) => {
    const file = ownFile(root, each.path),
      part = join(dirname(file), each.part),
      old = join(dirname(file), each.old);
    return { ...each, file, part, old, now: hashOf(file) };
  });
  const isWhole = files.every(
    ({ now, before, after, part }) => now === after || (now === before && (after === null || hashOf(part) === after)),
  );
  for (const { file, now, before, after, part, old } of files)
    if (isWhole && now !== after) {
      if (after === null) rmSync(file, { force: true });
      else renameSync(part, file);
    } else if (!isWhole && now === after) {
      if (before === null) rmSync(file, { force: true });
      else if (hashOf(old) === before) renameSync(old, file);
    }
  if (isWhole && !states.saves().some(({ id }) => id === plan.id)) {
    const { id, at, changes, undoes, redoes } = plan;
    states.add({ id, at, changes, undoes, redoes });
  }
  for (const { part, old } of files) for (const name of [part, old]) rmSync(name, { force: true });
  for (const folder of new Set(files.map(({ file }) => dirname(file)))) syncFolder(folder);
  states.forget();
}

/** Removes what interrupted saves have left beside the files of a collection. */
export function tidy(root: string): void {
  const visit = (folder: string, depth: number): void => {
    removeLeftOvers(folder);
    if (depth === 0) return;
    for (const entry of readdirSync(folder, { withFileTypes: true }))
      if (entry.isDirectory() && !entry.name.startsWith(".")) visit(join(folder, entry.name), depth - 1);
  };
  visit(root, 2);
}
