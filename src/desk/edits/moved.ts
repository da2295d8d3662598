/** One entry of a list, moved. */

/** The list with the entry that was number `from` as number `to`; both count from 0. */
export function moved<T>(list: readonly T[], from: number, to: number): T[] {
  const rest = list.filter((_, index) => index !== from);
  return [...rest.slice(0, to), list[from]!, ...rest.slice(to)];
}
