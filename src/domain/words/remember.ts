/** Results that are worked out once for the records that they belong to, and forgotten with them. */

type Memory<Result> = WeakMap<object, Memory<Result> | { readonly result: Result }>;

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
      known = memory.get(last) as { readonly result: Result } | undefined;
    if (known) return known.result;
    const result = work(...given);
    memory.set(last, { result });
    return result;
  };
}
