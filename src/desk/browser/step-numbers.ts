/** Steps are named by their numbers: what becomes of the numbers by a change of the steps' order. */

type Renumbered = (step: number) => number | undefined;

/** Gives a step's number after it, `undefined` for a step that is gone; nothing for a change that leaves them. */
export function renumberedBy(edit: object): Renumbered | undefined {
  const { kind, step, place } = edit as { kind: string; step: number; place?: { before?: number; after?: number } };
  /** How many steps stand before the place. */
  const slot = place?.before !== undefined ? place.before - 1 : (place?.after ?? Infinity);
  if (kind === "insert-step") return (each) => (each > slot ? each + 1 : each);
  if (kind === "delete-step") return (each) => (each === step ? undefined : each > step ? each - 1 : each);
  if (kind === "join-step") return (each) => (each > step ? each - 1 : each);
  if (kind === "split-step") return (each) => (each > step ? each + 1 : each);
  if (kind !== "move-step") return undefined;
  const to = slot >= step ? slot : slot + 1;
  return (each) => {
    if (each === step) return to;
    const closed = each > step ? each - 1 : each;
    return closed >= to ? closed + 1 : closed;
  };
}
