/**
 * Goes by the days of temporary amendments with the device's own clock, so that one ends by itself in a set that was
 * saved long ago, and begins in one that was saved before its first day. Without scripts the days stand beside it.
 */
import { dayOf, sayDate } from "../domain/words/say.ts";

/** Whether an amendment is still to come, runs or has lapsed on a day; its first and last day count. */
function stateOn(day: string, { from, until }: { readonly from: string; readonly until: string }) {
  return day < from ? "coming" : day > until ? "lapsed" : "running";
}

/** The words that stand in the place of an amendment that does not run; `undefined` for one that does. */
export function sayNotRunning(mark: { readonly from: string; readonly until: string }): string | undefined {
  const state = stateOn(dayOf(new Date()), mark);
  if (state === "running") return undefined;
  return state === "lapsed"
    ? `Lapsed: its last day was ${sayDate(mark.until)}. Do what was issued.`
    : `Not yet: its first day is ${sayDate(mark.from)}. Until then do what was issued.`;
}

/** Marks everything on the page that an amendment adds with whether it runs (`lapsed`, `coming`). */
export function startAmendments(): void {
  for (const part of document.querySelectorAll<HTMLElement>("[data-amendment]")) {
    const mark = { from: part.dataset["from"] ?? "", until: part.dataset["until"] ?? "" },
      said = sayNotRunning(mark);
    const state = stateOn(dayOf(new Date()), mark);
    part.classList.toggle("lapsed", state === "lapsed");
    part.classList.toggle("coming", state === "coming");
    const place = part.querySelector<HTMLElement>(".amendment-state");
    if (place) {
      place.hidden = said === undefined;
      place.textContent = said ?? "";
    }
    if (said) for (const issued of part.querySelectorAll<HTMLDetailsElement>("details.as-issued")) issued.open = true;
  }
}
