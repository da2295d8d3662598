/**
 * The folder that a site is written into. What the site before it has alike is not written again but linked: an edit
 * changes a handful of thousands of files, and a disk is slower at forgetting files than at anything else.
 */
import { createHash } from "node:crypto";
import { constants, existsSync, linkSync, readFileSync, rmSync, statSync } from "node:fs";
import { copyFile, mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";

/** What a file says, as far as a device that keeps it asks. */
interface Digest {
  readonly bytes: number;
  /** SHA-256 in 64 hexadecimal digits (FIPS 180-4). */
  readonly hash: string;
}

/** A file as it was written, by which it is known again. */
export interface WrittenFile {
  /** Its number on the disk, size and time of change (not of its names): another content has others. */
  readonly stamp: string;
  /** What its content was made of, by the very values (`writeAs`). */
  readonly from?: readonly unknown[] | undefined;
  digest?: Digest;
}

/** A folder that is written once, from top to bottom, over a site that nobody writes into meanwhile. */
export class SiteFolder {
  /** Where the site is being written; nobody else writes there. */
  readonly path: string;
  readonly #earlier: string | undefined;
  readonly #parents = new Map<string, Promise<unknown>>();
  readonly #known: ReadonlyMap<string, WrittenFile>;
  readonly #written = new Map<string, WrittenFile>();

  /**
   * `earlier`: where a finished site is, if there is one; it is only read. `known`: what this process has `written` of
   * it.
   */
  constructor(path: string, earlier: string, known: ReadonlyMap<string, WrittenFile> = new Map()) {
    this.path = path;
    this.#earlier = existsSync(earlier) ? earlier : undefined;
    this.#known = known;
  }

  /** The files that were written so far, by their names. */
  get written(): ReadonlyMap<string, WrittenFile> {
    return this.#written;
  }

  /** Writes a file (its name in the site, with `/`) and the folders that it lies in. Throws as the file system does. */
  async write(file: string, content: Uint8Array | string): Promise<void> {
    const target = await this.place(file),
      bytes = typeof content === "string" ? Buffer.from(content) : content;
    if (!this.#link(file, target, () => bytes)) await writeFile(target, bytes);
    const hash = createHash("sha256").update(bytes).digest("hex");
    this.#note(file, target, { digest: { bytes: bytes.length, hash } });
  }

  /**
   * Writes a file whose content rests on the values `from` alone: where these are the very ones of the site before, and
   * its file is the one that was written then, nobody asks for the content.
   */
  async writeAs(file: string, from: readonly unknown[] | undefined, content: () => Uint8Array | string): Promise<void> {
    if (from && (await this.#takeKnown(file, from))) return;
    await this.write(file, content());
    this.#written.set(file, { ...this.#written.get(file)!, from });
  }

  /**
   * Copies a file from elsewhere, where the same name holds the same bytes. Throws as the file system does, such as
   * where it is not there.
   */
  async copy(from: string, file: string): Promise<void> {
    if (await this.#takeKnown(file, [from])) return;
    const target = await this.place(file);
    if (!this.#link(file, target, () => readFileSync(from))) await copyFile(from, target, constants.COPYFILE_FICLONE);
    this.#note(file, target, { from: [from] });
  }

  /** What a file of the site says, whoever has written it. Throws as the file system does. */
  async digest(file: string): Promise<Digest> {
    const written = this.#written.get(file);
    if (written?.digest) return written.digest;
    const content = await readFile(join(this.path, file)),
      digest = { bytes: content.length, hash: createHash("sha256").update(content).digest("hex") };
    if (written) written.digest = digest;
    return digest;
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

  #note(file: string, target: string, what: Omit<WrittenFile, "stamp">): void {
    this.#written.set(file, { stamp: stampOf(target), ...what });
  }

  /** Puts the file of the site before in place if it is the one that was written, from these very values. */
  async #takeKnown(file: string, from: readonly unknown[]): Promise<boolean> {
    const known = this.#known.get(file);
    if (known?.from?.length !== from.length || !known.from.every((each, at) => each === from[at])) return false;
    const target = await this.place(file),
      isSame = this.#link(file, target, () => stampOf(target) === known.stamp);
    if (isSame) this.#written.set(file, known);
    return isSame;
  }

  /**
   * Puts the file of the site before in place and keeps it there if it says the same. It is compared after it was
   * linked: another build may replace that site at any moment. `content`: what it is to say, or whether it does.
   * Nothing is at `target` where the answer is no.
   */
  #link(file: string, target: string, content: () => Uint8Array | boolean): boolean {
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
      const wanted = content();
      isSame = typeof wanted === "boolean" ? wanted : readFileSync(target).equals(wanted);
    } finally {
      // Never written over: it is the other site's file too.
      if (!isSame) rmSync(target);
    }
    return isSame;
  }
}

function stampOf(target: string): string {
  const { ino, size, mtimeNs } = statSync(target, { bigint: true });
  return `${ino} ${size} ${mtimeNs}`;
}
