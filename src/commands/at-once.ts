/**
 * A large collection that nobody has read before is read and judged by several threads: each leaves what it comes to
 * on the shelf, where this process finds it. Nothing else passes between them, so that a thread can only save time:
 * what it did not do, or did of other bytes, is done here.
 */
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { compiledIn } from "../build/shelf.ts";
import { workersAtMost } from "../build/workers.ts";

/** What a thread is given. Plain data; the claims are shared. */
export interface HelperStart {
  readonly folder: string;
  readonly day: string;
  readonly hashPhotos: boolean;
  readonly platforms: readonly string[];
  readonly claims: Readonly<Record<"read" | "judged", SharedArrayBuffer>>;
}

/** A thread has read all that was left, or judged it. */
export type HelperNews = "read" | "judged";

/** A thread has records of its own: with two, a collection of 1,000 procedures is checked in less than 1 GB. */
const MOST_WORKERS = 2;
/** In megabytes. Where a thread needs more it ends, and what it has not done is done by the process that asked. */
const ROOM = { maxOldGenerationSizeMb: 256, maxYoungGenerationSizeMb: 48 };
/** So few files are read sooner than a thread has begun. */
const WORTH_A_THREAD = 100;

/** Threads at work beside this process. */
export interface Helpers {
  /** Names of platforms that this process is to read, as it comes to them; the threads read the others. */
  readonly toRead: () => Iterable<string>;
  /** Waits till all platforms have been read. */
  readonly untilRead: () => Promise<void>;
  /** The same of judging, which the threads begin when all are read. */
  readonly toJudge: () => Iterable<string>;
  readonly untilJudged: () => Promise<void>;
}

/**
 * Begins threads that read and judge the platforms of a collection of which nothing is known; `undefined` where that
 * would not save time.
 */
export function beginHelpers(folder: string, day: string, hashPhotos: boolean): Helpers | undefined {
  if (!existsSync(join(folder, "service.yaml"))) return undefined;
  const shelf = compiledIn(folder),
    unread = sizesIn(folder).filter(({ name }) => !shelf.holdsWhole(name)),
    files = unread.reduce((sum, each) => sum + each.files, 0),
    most = workersAtMost(Math.min(MOST_WORKERS, Math.floor(files / WORTH_A_THREAD))),
    count = Math.min(most, unread.length) - 1;
  if (count < 1) return undefined;
  const platforms = unread.map(({ name }) => name),
    newClaims = () => new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT * platforms.length),
    start: HelperStart = { folder, day, hashPhotos, platforms, claims: { read: newClaims(), judged: newClaims() } };
  const threads = Array.from({ length: count }, () => beginHelper(start));
  const until = (news: HelperNews) => async () => {
    // Only while it is waited for does a thread keep the process from ending.
    for (const { worker } of threads) worker.ref();
    await Promise.all(threads.map((thread) => thread[news]));
    for (const { worker } of threads) worker.unref();
  };
  return {
    toRead: () => claimed(platforms, start.claims.read),
    untilRead: async () => {
      await until("read")();
      for (const { worker } of threads) worker.postMessage(null);
    },
    toJudge: () => claimed(platforms, start.claims.judged),
    untilJudged: until("judged"),
  };
}

/** Names that nobody else has taken, from one end or the other: each is taken when it is asked for. */
export function* claimed(names: readonly string[], claims: SharedArrayBuffer, fromEnd = false): Generator<string> {
  const taken = new Int32Array(claims),
    all = [...names.entries()];
  for (const [at, name] of fromEnd ? all.reverse() : all)
    if (Atomics.compareExchange(taken, at, 0, 1) === 0) yield name;
}

function beginHelper(start: HelperStart) {
  const worker = new Worker(new URL("./helper-thread.ts", import.meta.url), {
    workerData: start,
    resourceLimits: ROOM,
  });
  worker.unref();
  const over = new Promise<void>((resolve) => {
    // A thread that fails has done less: what is wrong with the files is met here too.
    worker.once("error", () => {
      resolve();
    });
    worker.once("exit", () => {
      resolve();
    });
  });
  const heard = async (news: HelperNews) =>
    Promise.race([
      over,
      new Promise<void>((resolve) => {
        worker.on("message", (said: HelperNews) => {
          if (said === news) resolve();
        });
      }),
    ]);
  return { worker, read: heard("read"), judged: heard("judged") };
}

/** The folders of a collection that may be platforms, and how many texts are in each. */
function sizesIn(folder: string): readonly { readonly name: string; readonly files: number }[] {
  const foldersIn = readdirSync(folder, { withFileTypes: true }).filter(
    (entry) => entry.isDirectory() && !["issued", "reviews"].includes(entry.name) && !entry.name.startsWith("."),
  );
  return foldersIn.map(({ name }) => ({
    name,
    files: readdirSync(join(folder, name), { recursive: true, encoding: "utf8" }).filter((each) => /\.mdx$/.test(each))
      .length,
  }));
}
