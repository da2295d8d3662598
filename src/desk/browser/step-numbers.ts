/** Steps are named by their numbers: what becomes of the numbers by a change of the steps' order. */

type Renumbered = (step: number) => number | undefined;

/**
 * Where a step stands that stood elsewhere in the file before another program wrote it: by what steps say, in their
 * order, before and now. A step that says something else now is where it was, as long as there are as many steps.
 */
export function placesNow(before: readonly string[], now: readonly string[]): Renumbered {
  return (step) => {
    const said = before[step - 1] ?? "";
    if (now[step - 1] === said) return step;
    const at = now.indexOf(said);
    return at >= 0 ? at + 1 : now.length === before.length ? step : undefined;
  };
}

/** What the steps of a screen say, in their order. */
export const stepsOn = (screen: ParentNode): readonly string[] =>
  [...screen.querySelectorAll("li.step .do")].map(({ textContent }) => textContent.trim());

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
