/**
 * On which state of the screen's file a change rests: the one that was shown when its writer began with it, not one
 * that has come since. A file that was changed elsewhere meanwhile is then never written over unseen.
 */

/** What is begun and not saved yet, and on which state. */
const begun = new Map<Element, string>();
/** What was begun at a step that has another number since, or is gone: it stands at another step now. */
const displaced = new WeakSet<Element>();

/** What the screen's file is, and which state of it the screen shows. */
export const bench = () => document.querySelector<HTMLElement>("[data-file]")!;

/** The form that is sent as a whole, the controls that make one text, or the control itself: what is begun together. */
export function ownerOf(control: Element): Element {
  return (
    control.closest("form[data-add], form[data-put], form[data-send], form[data-take]") ??
    control.closest("[data-compose]") ??
    control
  );
}

/** Its writer has begun with it, on what the screen shows now; does nothing where that was said before. */
export function begin(owner: Element): void {
  for (const each of begun.keys()) if (!each.isConnected) begun.delete(each);
  const shown = document.querySelector<HTMLElement>("[data-file]")?.dataset["hash"];
  if (shown !== undefined && !begun.has(owner)) begun.set(owner, shown);
}

/** It is left without being sent. */
export function end(owner: Element): void {
  begun.delete(owner);
  displaced.delete(owner);
}

/** The steps have other numbers from here on; what was begun at one of them is not that step's any more. */
export function displace(renumbered: (step: number) => number | undefined): void {
  for (const owner of begun.keys()) {
    const step = stepAt(owner);
    if (step > 0 && renumbered(step) !== step) displaced.add(owner);
  }
}

/** The number of the step at which it stands; 0 where it stands at none. */
export const stepAt = (owner: Element): number =>
  Number(/^step-(\d+)$/.exec(owner.closest("li.step")?.id ?? "")?.[1] ?? 0);

/** Whether it stands at another step than the one at which it was begun. */
export const isDisplaced = (owner: Element | undefined): boolean => owner !== undefined && displaced.has(owner);

/**
 * On which state a change rests that is sent now; `null`: there is no such file yet. What is written into its owner
 * from here on is begun anew. Without an owner: the state that is shown.
 */
export function takeBase(owner?: Element): string | null {
  const base = owner && begun.get(owner);
  if (owner) begun.delete(owner);
  return (base ?? document.querySelector<HTMLElement>("[data-file]")?.dataset["hash"]) || null;
}

/** What was sent is not saved, and its owner still has it. */
export function putBack(owner: Element, base: string | null): void {
  if (!begun.has(owner)) begun.set(owner, base ?? "");
}

/**
 * The desk has saved a change of `before` as `after`: whatever else was begun on `before` may follow it. Where steps
 * have other numbers since (`isRenumbered`), the screen itself follows only when it shows them.
 */
export function follow(before: string | null, after: string, isRenumbered: boolean): void {
  for (const [owner, base] of begun) if (base === (before ?? "")) begun.set(owner, after);
  if (isRenumbered) return;
  const screen = document.querySelector<HTMLElement>("[data-file]");
  if (screen && (screen.dataset["hash"] || null) === before) screen.dataset["hash"] = after;
}
