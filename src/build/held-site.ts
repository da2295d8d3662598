/**
 * What a process that builds again holds of the site that it made last, so that an edit costs what it changes: pages as
 * they were rendered, the search index, and which files are known by sight. Nothing rests on it: a build that begins
 * with nothing makes the same bytes (`tests/build/watch.test.ts`).
 */
import { followOn } from "../domain/force/as-before.ts";
import type { Collection } from "../schema/collection.ts";
import { HeldIndex } from "../site/find/held-index.ts";
import type { WrittenFile } from "../site/site-folder.ts";
import type { KeptSite } from "./kept/pages-by-words.ts";

/** One for builds of one collection that follow each other; they must not be made at the same time. */
export class HeldSite {
  /** The files of the last site, by their names. */
  written: ReadonlyMap<string, WrittenFile> = new Map();
  readonly index = new HeldIndex();
  #files: Collection | undefined;
  #pages: { readonly key: string; readonly kept: KeptSite } | undefined;
  #later: (() => void)[] = [];

  /** Says what the next site is made of, before anything is asked of it: what says the same as before is known. */
  readAgain(files: Collection): void {
    if (this.#files && this.#files !== files) followOn(files, this.#files);
    this.#files = files;
  }

  /** The pages of the last site, if they were kept under this key. */
  pagesBy(key: string): KeptSite | undefined {
    return this.#pages?.key === key ? this.#pages.kept : undefined;
  }

  /** Holds the pages of a site. `put` leaves them to the next process. */
  holdPages(key: string, kept: KeptSite, put: () => void): void {
    this.#pages = { key, kept };
    this.later(put);
  }

  /** Puts off what nobody who waits for the site waits for. */
  later(work: () => void): void {
    this.#later.push(work);
  }

  /** Does what was put off: when the site is there, or before the next one is begun. */
  catchUp(): void {
    for (const work of this.#later.splice(0)) work();
  }

  /** Ends the other process; nothing is held afterwards. */
  close(): void {
    this.catchUp();
    this.index.end();
  }
}
