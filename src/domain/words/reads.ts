/**
 * Which documents' words a piece of work has read: so that a page is rendered again after an edit of words that it has
 * read, and after no other. Too many is slower; one too few would be a page that is out of date.
 *
 * Words tell when they are read (`parts/watched-words.ts`). Whatever hands out a result that was made earlier tells
 * again what was read for it (`remember`, `Told`): a memory that is written otherwise, and holds words, must do so too.
 */

import { onceInProcess } from "../../schema/once-in-process.ts";

/** Names of documents. */
export type Reads = ReadonlySet<string>;

interface Listening {
  /** Who is told; nobody while `undefined`. */
  now: Set<string> | undefined;
  /** Whether anything tells: else nothing need be kept beside a result. */
  isOn: boolean;
}
const on = /* @__PURE__ */ onceInProcess<Listening>("reads", () => ({ now: undefined, isOn: false }));

/** Says that something of this process tells when it is read. */
export function beginTelling(): void {
  on.isOn = true;
}

/** Tells that words of a document were read. */
export function tellRead(document: string): void {
  on.now?.add(document);
}

/** A result, and what was read for it: absent where that is nothing. */
export interface Told<Result> {
  readonly result: Result;
  readonly reads?: Reads;
}

/** Works something out that will be handed out again: by `resultOf`, each time. */
export function noteReads<Result>(work: () => Result): Told<Result> {
  if (!on.isOn) return { result: work() };
  const before = on.now,
    reads = (on.now = new Set<string>());
  try {
    const result = work();
    return reads.size > 0 ? { result, reads } : { result };
  } finally {
    on.now = before;
    for (const each of reads) before?.add(each);
  }
}

/** Hands out what was worked out earlier, and tells what was read for it. */
export function resultOf<Result>({ result, reads }: Told<Result>): Result {
  const { now } = on;
  if (reads && now) for (const each of reads) now.add(each);
  return result;
}

/**
 * Works without telling: for what is asked of words and is known by other means wherever it counts, which the caller
 * names.
 */
export function withoutTelling<Result>(work: () => Result): Result {
  const before = on.now;
  on.now = undefined;
  try {
    return work();
  } finally {
    on.now = before;
  }
}

/** As `noteReads`, of work that waits: no other work that reads may be under way meanwhile. */
export async function noteReadsWaiting<Result>(work: () => Promise<Result>): Promise<Required<Told<Result>>> {
  const before = on.now,
    reads = (on.now = new Set<string>());
  try {
    return { result: await work(), reads };
  } finally {
    on.now = before;
  }
}
