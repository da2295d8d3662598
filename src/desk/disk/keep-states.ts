/**
 * The states of the day: what every saved file said before and after, in the project's cache folder, by the collection
 * that it belongs to. Also where a save says what it is about to do, so that the next start can end it.
 */
import { createHash } from "node:crypto";
import {
  appendFileSync,
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { CACHE } from "../../build/shelf.ts";
import { isRunning } from "../../build/is-running.ts";
import { writeWhole } from "../../build/write-whole.ts";
import { heard } from "../../words/heard.ts";
import { Refusal } from "./refusal.ts";

/** A file's two states; `null`: it was not there. */
export interface FileChange {
  /** In the collection: `tern/seat-capsule.mdx`. */
  readonly path: string;
  readonly before: string | null;
  readonly after: string | null;
}

/** One save. */
export interface KeptSave {
  readonly id: string;
  /** When, as ISO 8601 in UTC. */
  readonly at: string;
  readonly changes: readonly FileChange[];
  /** The save that it takes back, or does again. */
  readonly undoes?: string | undefined;
  readonly redoes?: string | undefined;
}

/** How long a state is kept. */
const KEPT_MS = 24 * 3_600_000;

/** The content's hash (SHA-256, in hexadecimal digits), by which a file is known again. */
export function contentHash(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}

/** The states of one collection. */
export class KeptStates {
  readonly #folder: string;

  /** `root`: the collection's real folder. */
  constructor(root: string) {
    this.#folder = join(CACHE, "desk", contentHash(root).slice(0, 16));
    mkdirSync(join(this.#folder, "states"), { recursive: true });
  }

  /** Keeps a content; gives its hash. */
  keep(content: Uint8Array): string {
    const hash = contentHash(content),
      file = join(this.#folder, "states", hash);
    if (!existsSync(file)) writeWhole(file, content);
    return hash;
  }

  /** A content by its hash; nothing where it is kept no longer. */
  content(hash: string): Uint8Array | undefined {
    try {
      return readFileSync(join(this.#folder, "states", hash));
    } catch {
      return undefined;
    }
  }

  /** The saves of the day, the first first. */
  saves(): readonly KeptSave[] {
    let text: string;
    try {
      text = readFileSync(this.#log, "utf8");
    } catch {
      return [];
    }
    // The last line may have been cut off.
    return text.split("\n").flatMap((line) => {
      try {
        return JSON.parse(line) as KeptSave;
      } catch {
        return [];
      }
    });
  }

  /** Adds a save that has been made. */
  add(save: KeptSave): void {
    const open = openSync(this.#log, "a");
    try {
      // A line that a full disk has cut off is ended first.
      appendFileSync(open, `\n${JSON.stringify(save)}\n`);
      fsyncSync(open);
    } finally {
      closeSync(open);
    }
  }

  /** Says what is about to be done; until `forget` the next start ends it. */
  announce(plan: object): void {
    writeWhole(this.#plan, JSON.stringify(plan));
  }

  /** What was about to be done when the last run ended. */
  announced(): unknown {
    try {
      return JSON.parse(readFileSync(this.#plan, "utf8"));
    } catch {
      return undefined;
    }
  }

  forget(): void {
    rmSync(this.#plan, { force: true });
  }

  /** Removes what was saved more than a day ago, and the states that no save of the day has. */
  clear(now = Date.now()): void {
    const saves = this.saves(),
      kept = saves.filter(({ at }) => now - Date.parse(at) < KEPT_MS);
    if (kept.length === saves.length) return;
    writeWhole(this.#log, kept.map((save) => `${JSON.stringify(save)}\n`).join(""));
    const named = new Set(kept.flatMap(({ changes }) => changes.flatMap(({ before, after }) => [before, after])));
    for (const name of readdirSync(join(this.#folder, "states")))
      if (!named.has(name)) rmSync(join(this.#folder, "states", name), { force: true });
  }

  /** Does something that no other desk does in this collection meanwhile. */
  inTurn<T>(act: () => T): T {
    const lock = join(this.#folder, "lock");
    takeTurn(lock);
    try {
      return act();
    } finally {
      rmSync(lock, { force: true });
    }
  }

  get #log(): string {
    return join(this.#folder, "saves.jsonl");
  }

  get #plan(): string {
    return join(this.#folder, "plan.json");
  }
}

const MOST_TRIES = 250;
const WAIT_MS = 20;

/** Waits for a lock file; one whose process is gone is nobody's. */
function takeTurn(lock: string): void {
  const own = `${lock}.${process.pid}`;
  writeFileSync(own, String(process.pid));
  try {
    for (let tries = 0; tries < MOST_TRIES; tries += 1) {
      if (link(own, lock)) return;
      const holder = holderOf(lock);
      if (holder === process.pid || (holder !== undefined && !isRunning(holder))) {
        // Renamed before it is removed: of two who find it left behind, one takes it away.
        const stale = `${own}.stale`;
        renameIfThere(lock, stale);
        if (holderOf(stale) !== holder) link(stale, lock);
        rmSync(stale, { force: true });
      } else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, WAIT_MS);
    }
  } finally {
    rmSync(own, { force: true });
  }
  throw new Refusal(heard("deskRefused").anotherDesk);
}

function link(from: string, to: string): boolean {
  try {
    linkSync(from, to);
    return true;
  } catch (error) {
    if (["EEXIST", "ENOENT"].includes((error as NodeJS.ErrnoException).code ?? "")) return false;
    throw error;
  }
}

function renameIfThere(from: string, to: string): void {
  try {
    renameSync(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
  }
}

function holderOf(lock: string): number | undefined {
  try {
    return Number(readFileSync(lock, "utf8"));
  } catch {
    return undefined;
  }
}
