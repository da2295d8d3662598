/**
 * Who works out a page may have it watched what of the records is read for it. Results that are worked out once and
 * used again are where a watcher would miss something: whoever remembers one says so here.
 */

/** What was read for a result; what it is made of is the watcher's own business. */
export type Reads = object;

/** Watches what of records is read. */
export interface Watcher {
  /** Works something out, and says what was read for it; whoever works around it has read that too. */
  readonly during: <Result>(work: () => Result) => { readonly result: Result; readonly reads: Reads };
  /** A result that was worked out before is used again: what was read for it is read by whoever uses it. */
  readonly again: (reads: Reads) => void;
  /**
   * Works out a part of something that grows while it is used: whoever uses any of it has read what is read for all of
   * it.
   */
  readonly within: <Result>(whole: object, work: () => Result) => Result;
  /**
   * What `ask` says of something that is no record, such as a file: whoever asks is told of it, and rests on it. `name`
   * is its own.
   */
  readonly outside: (name: string, ask: () => string) => void;
}

/** Astro loads the modules of pages apart from those of the build around them: both ask for the same watcher. */
const KEY = Symbol.for("rerig.reads");
type Holder = { [KEY]?: Watcher | undefined };

/** Has all work of this process watched; nobody watches where there is none. */
export function watchWith(watcher: Watcher | undefined): void {
  (globalThis as Holder)[KEY] = watcher;
}

/** Who watches. */
export function watcherHere(): Watcher | undefined {
  return (globalThis as Holder)[KEY];
}
