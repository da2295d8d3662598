/**
 * The folder that a site is written into. What the site before it has alike is not written again but linked: an edit
 * changes a handful of thousands of files, and a disk is slower at forgetting files than at anything else.
 */
import { constants, existsSync, linkSync, readFileSync, rmSync } from "node:fs";
import { copyFile, mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";

/** A folder that is written once, from top to bottom, over a site that nobody writes into meanwhile. */
export class SiteFolder {
  /** Where the site is being written; nobody else writes there. */
  readonly path: string;
  readonly #earlier: string | undefined;
  readonly #parents = new Map<string, Promise<unknown>>();

  /** `earlier`: where a finished site is, if there is one; it is only read. */
  constructor(path: string, earlier: string) {
    this.path = path;
    this.#earlier = existsSync(earlier) ? earlier : undefined;
  }

  /** Writes a file (its name in the site, with `/`) and the folders that it lies in. Throws as the file system does. */
  async write(file: string, content: Uint8Array | string): Promise<void> {
    const target = await this.place(file),
      bytes = typeof content === "string" ? Buffer.from(content) : content;
    if (!this.#link(file, target, () => bytes)) await writeFile(target, bytes);
  }

  /** Copies a file from elsewhere. Throws as the file system does, such as where it is not there. */
  async copy(from: string, file: string): Promise<void> {
    const target = await this.place(file);
    if (!this.#link(file, target, () => readFileSync(from))) await copyFile(from, target, constants.COPYFILE_FICLONE);
  }

  /** Where a file of the site lies, for who writes it by other means; its folder is there. */
  async place(file: string): Promise<string> {
    const target = join(this.path, file),
      parent = dirname(target),
      made = this.#parents.get(parent) ?? mkdir(parent, { recursive: true });
    this.#parents.set(parent, made);
    await made;
    return target;
  }

  /**
   * Puts the file of the site before in place and keeps it there if it says the same. It is compared after it was
   * linked: another build may replace that site at any moment. Nothing is at `target` where the answer is no.
   */
  #link(file: string, target: string, content: () => Uint8Array): boolean {
    if (this.#earlier === undefined) return false;
    try {
      linkSync(join(this.#earlier, file), target);
    } catch (error) {
      // Not in it, on another disk, or on one that has no links; or there is one that will be written over.
      if ((error as NodeJS.ErrnoException).code === "EEXIST") rmSync(target);
      return false;
    }
    let isSame = false;
    try {
      isSame = readFileSync(target).equals(content());
    } finally {
      // Never written over: it is the other site's file too.
      if (!isSame) rmSync(target);
    }
    return isSame;
  }
}
