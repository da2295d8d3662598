/** The collection as its files are now, read again after every change, whoever made it. */
import { compiledIn } from "../build/shelf.ts";
import { stateOfFolder, untilChanged } from "../build/watch.ts";
import { loadCollection } from "../compile/load.ts";
import { asBefore, followOn } from "../domain/force/as-before.ts";
import { sayRefusal } from "../findings/cannot-run.ts";
import { type Finding, Findings, inFileOrder } from "../findings/finding.ts";
import { runRules } from "../rules/run-rules.ts";
import type { Collection } from "../schema/collection.ts";
import { makeSite, type Site } from "../site/site.ts";
import { today } from "../site/today.ts";

/** The collection at one moment. */
export interface Moment {
  /** Counts the moments from 1. */
  readonly number: number;
  readonly files: Collection;
  /** What pages on demand are rendered from. */
  readonly site: Site;
  /** `YYYY-MM-DD` */
  readonly day: string;
  /** What reading found, at once. */
  readonly textFindings: readonly Finding[];
  /** All that `check` finds, in file order; worked out when it is first asked for. */
  readonly findings: () => readonly Finding[];
  /** Whether that is worked out already. */
  readonly isJudged: () => boolean;
}

/** Keeps the newest reading of a folder, and tells who listens when there is a newer one. */
export class CollectionReader {
  readonly folder: string;
  readonly #stop = new AbortController();
  readonly #listeners = new Set<(number: number) => void>();
  #number = 0;
  #seen = "";
  #day = "";
  /** The reading before: what an edit leaves as it was keeps its records. */
  #files: Collection | undefined;
  #moment: Promise<Moment> | undefined;
  /** Why the files can't be read at this moment, in a sentence; what was read before is then still shown. */
  trouble: string | undefined;

  constructor(folder: string) {
    this.folder = folder;
  }

  /** Reads the folder for the first time and goes on to watch it; throws what `loadCollection` throws. */
  async open(): Promise<Moment> {
    const first = await this.now();
    void this.#watch();
    return first;
  }

  /** The newest reading: the same one for as long as nothing has changed. */
  async now(): Promise<Moment> {
    return (this.#moment ??= this.#read());
  }

  /** Reads again, if a file has changed since. Who listens is told. */
  async refresh(): Promise<Moment> {
    const before = await this.now(),
      state = await stateOfFolder(this.folder);
    // Who watches may have begun to read it meanwhile: that reading is then the newest, and waited for.
    if (state === this.#seen && today() === this.#day) return this.now();
    const mine = this.#read(state);
    this.#moment = mine.catch(() => before);
    try {
      const moment = await mine;
      this.trouble = undefined;
      return moment;
    } catch (error) {
      this.trouble = sayRefusal(error) ?? (error instanceof Error ? error.message : String(error));
      return before;
    } finally {
      for (const listener of this.#listeners) listener(this.#number);
    }
  }

  /** Calls when there is a newer reading, or none can be had; gives back what ends it. */
  listen(listener: (number: number) => void): () => void {
    this.#listeners.add(listener);
    return () => void this.#listeners.delete(listener);
  }

  /** Ends the watch. */
  close(): void {
    this.#stop.abort();
    this.#listeners.clear();
  }

  async #read(state?: string): Promise<Moment> {
    // What changes while it is read is another state, and read again.
    this.#seen = state ?? (await stateOfFolder(this.folder));
    const found = new Findings(),
      day = today();
    // On another day other text is in force: nothing of the day before is taken over.
    if (this.#day !== day) this.#files = undefined;
    this.#day = day;
    const read = await loadCollection(this.folder, found, { compiled: compiledIn(this.folder) });
    const files = this.#files ? asBefore([this.#files], [read])[0]! : read;
    if (this.#files && files !== this.#files) followOn(files, this.#files);
    this.#files = files;
    const textFindings = inFileOrder(found.list);
    let all: readonly Finding[] | undefined;
    const findings = () => (all ??= inFileOrder(runRules(files, found, day)));
    return {
      number: (this.#number += 1),
      files,
      site: makeSite(this.folder, files, day),
      day,
      textFindings,
      findings,
      isJudged: () => all !== undefined,
    };
  }

  async #watch(): Promise<void> {
    const { signal: stop } = this.#stop;
    try {
      for (;;) {
        const seen = this.#seen,
          day = this.#day;
        await untilChanged(this.folder, seen, { stop, otherwise: () => this.#seen !== seen || today() !== day });
        await this.refresh();
      }
    } catch (error) {
      if (!stop.aborted) throw error;
    }
  }
}
