/** The collection as its files are now, read again after every change, whoever made it. */
import { join } from "node:path";
import { readFile } from "node:fs/promises";
import { setImmediate as turn } from "node:timers/promises";
import { compiledIn } from "../build/shelf.ts";
import { isAsIn, stateOfFolder, untilChanged } from "../build/watch.ts";
import { loadCollection } from "../compile/load.ts";
import { asBefore, followOn } from "../domain/force/as-before.ts";
import { sayRefusal } from "../findings/cannot-run.ts";
import { type Finding, Findings, inFileOrder } from "../findings/finding.ts";
import { rulesInTurn } from "../rules/run-rules.ts";
import type { Collection } from "../schema/collection.ts";
import { makeSite, type Site } from "../site/site.ts";
import { today } from "../site/today.ts";
import { speakFor } from "../words/words.ts";
import type { TakenIn } from "./changes/take-in.ts";

/** The collection at one moment. */
export interface Moment {
  /** Counts the readings from 1, also those that could not be made: a later one has all that an earlier one has. */
  readonly number: number;
  /** Of the folder before it was read (`stateOfFolder`). */
  readonly state: string;
  readonly files: Collection;
  /** What pages on demand are rendered from. */
  readonly site: Site;
  /** `YYYY-MM-DD` */
  readonly day: string;
  /** What reading found, at once. */
  readonly textFindings: readonly Finding[];
  /** All that `check` finds, in file order; worked out when it is first asked for. */
  readonly findings: () => readonly Finding[];
  /** Works that out beside other work: after each rule it waits for what `first` says, if anything. */
  readonly judged: (first: () => Promise<unknown> | undefined) => Promise<void>;
}

/** A file has been changed since the collection was read: what it says now belongs to a later reading. */
export class LaterThanRead extends Error {
  readonly file: string;
  constructor(file: string) {
    super();
    this.file = file;
  }
}

/** Keeps the newest reading of a folder, and tells who listens when there is a newer one. */
export class CollectionReader {
  readonly folder: string;
  readonly #stop = new AbortController();
  readonly #listeners = new Set<(number: number) => void>();
  #number = 0;
  /** The state of the folder, and the day, of the newest reading. */
  #seen = "";
  #day = "";
  #moment: Promise<Moment> | undefined;
  /** One reading after the other, so that none that is begun earlier is taken for the newer one. */
  #turn: Promise<unknown> = Promise.resolve();
  /** What documents and tables became that were taken in since the desk was opened. */
  readonly takenIn: TakenIn[] = [];
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

  /** The newest reading, also one that is only being made: the same one for as long as nothing has changed. */
  async now(): Promise<Moment> {
    return this.#moment ?? this.refresh();
  }

  /** Reads again, if a file has changed since. Who listens is told. */
  async refresh(): Promise<Moment> {
    const mine = this.#turn.then(async () => this.#newest());
    this.#turn = mine.catch(() => undefined);
    return mine;
  }

  /**
   * What a file of the collection says in a reading; `undefined` if there is none. Throws `LaterThanRead` where the
   * file is another one now.
   */
  async bytesIn(moment: Moment, file: string): Promise<Buffer | undefined> {
    if (/(^|\/)\.|\\|\0/.test(file)) return undefined;
    const bytes = await readFile(join(this.folder, file)).catch(() => undefined);
    if (!(await isAsIn(moment.state, this.folder, file))) throw new LaterThanRead(file);
    return bytes;
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

  async #newest(): Promise<Moment> {
    const before = await this.#moment,
      state = await stateOfFolder(this.folder),
      day = today();
    if (before && state === this.#seen && day === this.#day) return before;
    // On another day other text is in force: nothing of the day before is taken over.
    const earlier = day === this.#day ? before?.files : undefined;
    // What changes while it is read is another state, and read again.
    [this.#seen, this.#day] = [state, day];
    const number = (this.#number += 1),
      reading = this.#read({ number, state, day }, earlier);
    // Where nothing can be read, what was read before stands under the new number: screens then say so.
    const made = reading.then(
      (moment) => {
        this.trouble = undefined;
        return moment;
      },
      (error: unknown) => {
        if (!before) throw error;
        this.trouble = sayRefusal(error) ?? (error instanceof Error ? error.message : String(error));
        return { ...before, number, state };
      },
    );
    this.#moment = made;
    try {
      return await made;
    } catch (error) {
      this.#moment = undefined;
      throw error;
    } finally {
      for (const listener of this.#listeners) listener(number);
    }
  }

  async #read(at: Pick<Moment, "number" | "state" | "day">, earlier: Collection | undefined): Promise<Moment> {
    const found = new Findings(),
      read = await loadCollection(this.folder, found, { compiled: compiledIn(this.folder) });
    const files = earlier ? asBefore([earlier], [read])[0]! : read;
    if (earlier && files !== earlier) followOn(files, earlier);
    speakFor(files.service);
    const judging = rulesInTurn(files, found, at.day);
    let all: readonly Finding[] | undefined;
    const judgeOn = (): boolean => {
      const { done, value } = judging.next();
      if (done && value) all = inFileOrder(value);
      return all === undefined;
    };
    return {
      ...at,
      files,
      site: makeSite(this.folder, files, at.day),
      textFindings: inFileOrder(found.list),
      findings: () => {
        while (!all) judgeOn();
        return all;
      },
      judged: async (first) => {
        // Requests are taken between one rule and the next.
        for (await turn(); !all; await turn()) await (first() ?? judgeOn());
      },
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
