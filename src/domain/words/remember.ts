/** Results that are worked out once for the records that they belong to, and forgotten with them. */
import { type Reads, watcherHere } from "./reads.ts";

/** A result with what was read for it, if somebody watched. */
interface Known<Result> {
  readonly result: Result;
  readonly reads?: Reads;
}

type Memory<Result> = WeakMap<object, Memory<Result> | Known<Result>>;

/**
 * The same function, which works out its result once for the same arguments (the same objects, not equal ones) and
 * answers with it from then on. It must be pure: what it throws is not remembered. Nothing is held longer than the
 * arguments are.
 *
 * Where pages carry the module, a memory is written as a pure call (`@__PURE__`), so that the bundler leaves
 * out what a page does not ask.
 *
 * Example: `const lookup = remember((platform: Platform) => new Map(…))` makes one map for each platform.
 */
export function remember<Arguments extends readonly [object, ...object[]], Result>(
  work: (...given: Arguments) => Result,
): (...given: Arguments) => Result {
  const all: Memory<Result> = new WeakMap();
  return (...given) => {
    let memory = all;
    for (const each of given.slice(0, -1)) {
      if (!memory.has(each)) memory.set(each, new WeakMap());
      memory = memory.get(each) as Memory<Result>;
    }
    return rememberIn(memory as WeakMap<object, Known<Result>>, given.at(-1)!, () => work(...given));
  };
}

/** Results by what they were worked out for. */
export interface Results<Key, Result> {
  readonly get: (key: Key) => Known<Result> | undefined;
  readonly set: (key: Key, known: Known<Result>) => unknown;
}

/**
 * What is known for the key, or what `work` makes now. For results that belong to a text beside their records: the map
 * must be one of those records (`remember`), and the key and they must say all that `work` rests on.
 */
export function rememberIn<Key, Result>(results: Results<Key, Result>, key: Key, work: () => Result): Result {
  const known = results.get(key),
    watcher = watcherHere();
  // What was worked out unwatched does not say what it rests on.
  if (known && (!watcher || known.reads)) {
    if (known.reads) watcher?.again(known.reads);
    return known.result;
  }
  const fresh: Known<Result> = watcher ? watcher.during(work) : { result: work() };
  results.set(key, fresh);
  return fresh.result;
}

/** Results by a text, for `rememberIn`; one such map for each of its arguments. */
export function resultsOf<Result>(): Map<string, Known<Result>> {
  return new Map();
}
