/**
 * Goes by the days of temporary amendments with the device's own clock, so that one ends by itself in a set that was
 * saved long ago, and begins in one that was saved before its first day. Without scripts the days stand beside it.
 */
import { type Days, holdsOn, readDays, sayNotRunning, stateOn } from "../domain/words/days.ts";
import { dayOf } from "../domain/words/say.ts";

/** How often a page that stays open looks whether it is another day: any may say since when something is out. */
const EVERY_MS = 30_000;
/** Told to the document when it is another day, after what has days shows what holds on it. */
const NEW_DAY = "rerig-new-day";

/** Calls back when it has become another day while the page stays open. */
export function onNewDay(listener: () => void): void {
  document.addEventListener(NEW_DAY, listener);
}

/**
 * Shows of everything that has days what holds today, and on another day again: when somebody comes back, and where the
 * page stays open over midnight.
 */
export function startAmendments(): void {
  let shown = "";
  const show = () => {
    const today = dayOf(new Date());
    if (today === shown) return;
    showOn(today);
    const isAnother = shown !== "";
    shown = today;
    if (isAnother) document.dispatchEvent(new Event(NEW_DAY));
  };
  show();
  document.addEventListener("visibilitychange", show);
  addEventListener("pageshow", show);
  addEventListener("beforeprint", show);
  setInterval(show, EVERY_MS);
}

/** Of what stands otherwise on other days what stands today, by the device's clock; the first if nothing has days. */
export function standingToday<T extends { readonly days: readonly Days[] }>(versions: readonly T[]): T {
  const today = dayOf(new Date());
  return versions.find(({ days }) => days.some((span) => holdsOn(span, today))) ?? versions[0]!;
}

function showOn(day: string): void {
  const anchors = new Map<string, HTMLElement[]>();
  for (const part of document.querySelectorAll<HTMLElement>("[data-days]")) {
    const { days = "", anchor } = part.dataset;
    if (anchor) anchors.set(anchor, [...(anchors.get(anchor) ?? []), part]);
    else part.hidden = !isAmong(days, day);
  }
  for (const [anchor, versions] of anchors) exchange(anchor, versions, day);
  for (const part of document.querySelectorAll<HTMLElement>("[data-from][data-until]")) {
    const days = { from: part.dataset["from"]!, until: part.dataset["until"]! };
    if (part.matches(".amendment-state")) {
      const said = sayNotRunning(day, days);
      part.hidden = said === undefined;
      part.textContent = said ?? "";
    } else {
      part.classList.remove("coming", "running", "lapsed");
      part.classList.add(stateOn(day, days));
    }
  }
}

const isAmong = (days: string, day: string) => readDays(days).some((span) => holdsOn(span, day));

/** The version of a step that holds today takes place and address of the one that was seen. */
function exchange(anchor: string, versions: readonly HTMLElement[], day: string): void {
  const before = versions.find(({ hidden }) => !hidden),
    now = versions.find(({ dataset }) => isAmong(dataset["days"] ?? "", day));
  if (!now || now === before) return;
  if (before) {
    const place = document.createComment("");
    before.replaceWith(place);
    now.replaceWith(before);
    place.replaceWith(now);
    before.hidden = true;
    before.removeAttribute("id");
  }
  now.hidden = false;
  now.id = anchor;
}
