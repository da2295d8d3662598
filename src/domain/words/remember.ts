/** Results that are worked out once for the records that they belong to, and forgotten with them. */

import { resultOf, type Told, noteReads } from "./reads.ts";

type Memory<Result> = WeakMap<object, Memory<Result> | Told<Result>>;

/** Said by whoever bundles the module for a browser, where nobody asks what was read. */
declare const RERIG_IN_BROWSER: true | undefined;

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
    const last = given.at(-1)!,
      known = memory.get(last) as Told<Result> | undefined;
    if (known) return typeof RERIG_IN_BROWSER === "undefined" ? resultOf(known) : known.result;
    const made = typeof RERIG_IN_BROWSER === "undefined" ? noteReads(() => work(...given)) : { result: work(...given) };
    memory.set(last, made);
    return made.result;
  };
}
