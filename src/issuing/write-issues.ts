/** Writes frozen issues: all of them or none, and never over one that is there. */
import {
  copyFileSync,
  existsSync,
  linkSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { isRunning } from "../build/is-running.ts";
import { writeDown } from "../build/write-whole.ts";
import { CannotRun } from "../findings/cannot-run.ts";

/** A file to write, relative to `issued/`. */
export interface IssueFile {
  readonly path: string;
  readonly text: string | Uint8Array;
}

const NEXT = ".issued-next";
const LAST = ".issued-last";
const MAKING = ".issued-making-";
const OWNER = "pid";

/**
 * Adds files to the collection's folder `issued/`. The new folder is made whole beside the old one and takes its place
 * by renaming, so that whoever looks, and whatever stops the program, finds the old set or the new one. Throws
 * `CannotRun` if a file is there already, or another run is at it; nothing is written then.
 */
export function writeIssues(collection: string, files: readonly IssueFile[]): void {
  mendInterrupted(collection);
  const [issued, next, last] = [join(collection, "issued"), join(collection, NEXT), join(collection, LAST)];
  const there = files.find(({ path }) => existsSync(join(issued, path)));
  if (there) throw new CannotRun(`issued/${there.path} is there already and is never overwritten. Nothing was issued.`);
  takeTurn(collection);
  try {
    if (existsSync(issued)) copyTree(issued, join(next, "issued"));
    for (const { path, text } of files) {
      const file = join(next, "issued", path);
      mkdirSync(dirname(file), { recursive: true });
      writeDown(file, text, "wx");
    }
  } catch (error) {
    rmSync(next, { recursive: true, force: true });
    throw new CannotRun(
      `Can't write the issues: ${error instanceof Error ? error.message : String(error)}. Nothing was issued.`,
    );
  }
  // Only these two renames are seen from outside; if the program is killed between them, the next run puts the folder
  // in its place.
  if (existsSync(issued)) renameSync(issued, last);
  renameSync(join(next, "issued"), issued);
  rmSync(last, { recursive: true, force: true });
  rmSync(next, { recursive: true, force: true });
}

/**
 * Makes the folder for the next set, which says whose it is from the first moment. Throws `CannotRun` if another run
 * has made it, or the disk refuses.
 */
function takeTurn(collection: string): void {
  const own = join(collection, `${MAKING}${process.pid}`);
  try {
    mkdirSync(own);
    writeFileSync(join(own, OWNER), String(process.pid));
    renameSync(own, join(collection, NEXT));
  } catch (error) {
    rmSync(own, { recursive: true, force: true });
    throw new CannotRun(
      `Can't write in ${collection}: ${error instanceof Error ? error.message : String(error)}. Nothing was issued.`,
    );
  }
}

/**
 * Clears up after a run that was killed: the old set is put back if neither is in place. Throws `CannotRun` if that run
 * is still going.
 */
export function mendInterrupted(collection: string): void {
  const [issued, next, last] = [join(collection, "issued"), join(collection, NEXT), join(collection, LAST)];
  if (existsSync(next) && isWriting(join(next, OWNER)))
    throw new CannotRun("Another `rerig issue` is writing to this collection. Wait until it is done.");
  if (!existsSync(issued) && existsSync(last)) renameSync(last, issued);
  rmSync(last, { recursive: true, force: true });
  rmSync(next, { recursive: true, force: true });
  const strays = existsSync(collection) ? readdirSync(collection).filter((name) => name.startsWith(MAKING)) : [];
  for (const name of strays)
    if (!isWriting(join(collection, name, OWNER))) rmSync(join(collection, name), { recursive: true, force: true });
}

function isWriting(file: string): boolean {
  const pid = existsSync(file) ? Number(readFileSync(file, "utf8")) : 0;
  return pid !== process.pid && isRunning(pid);
}

/** The same files in another folder: linked where the disk allows it, else copied. */
function copyTree(from: string, to: string): void {
  mkdirSync(to, { recursive: true });
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [source, target] = [join(from, entry.name), join(to, entry.name)];
    if (entry.isDirectory()) copyTree(source, target);
    else
      try {
        linkSync(source, target);
      } catch {
        copyFileSync(source, target);
      }
  }
}
