/** Does the same slow thing with many files, a few at a time. */

/** How many are under way at once: enough that the processor does not wait for the disk. */
const AT_ONCE = 8;

/** Awaits `work` for each of the list, some at the same time, begun in its order. Throws what the first of them throws. */
export async function forEachOf<T>(list: Iterable<T>, work: (each: T) => Promise<unknown>): Promise<void> {
  const queue = list[Symbol.iterator]();
  const take = async () => {
    for (let next = queue.next(); !next.done; next = queue.next()) await work(next.value);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, take));
}
