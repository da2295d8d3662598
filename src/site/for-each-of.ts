/** Does the same slow thing with many files, a few at a time. */

/** How many are under way at once: enough that the processor does not wait for the disk. */
const AT_ONCE = 8;

/**
 * Awaits `work` for each of the list, some at the same time, begun in its order. After the first that throws no other
 * is begun, and what it threw is thrown once all have ended.
 */
export async function forEachOf<T>(list: Iterable<T>, work: (each: T) => Promise<unknown>): Promise<void> {
  const queue = list[Symbol.iterator]();
  const faults: unknown[] = [];
  const take = async () => {
    for (let next = queue.next(); !next.done && faults.length === 0; next = queue.next())
      try {
        await work(next.value);
      } catch (error) {
        faults.push(error);
      }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, take));
  if (faults.length > 0) throw faults[0];
}
