/** A changeover left half-built for another patient: it goes in the address through the entry of the weight. */
import { wordsHere } from "../../words/heard.ts";
import { readBegun } from "../../domain/tonight/begun-text.ts";
import { sayBegun } from "../tonight/say-out.ts";

/** Where the way on begins. */
interface HalfBuilt {
  /** The arrangement that stood before the first step was done. */
  readonly from: string;
  /** What was begun, as one word. */
  readonly begun: string;
}

/** What the address has of it; `undefined` if nothing was begun, or it makes no sense. */
export function halfBuiltInAddress(): HalfBuilt | undefined {
  const fields = new URLSearchParams(location.hash.slice(1).replaceAll("+", "%2B"));
  const [from, begun] = [fields.get("from"), fields.get("begun")];
  return from && begun && readBegun(begun) ? { from, begun } : undefined;
}

/**
 * Says on the page of weights that the platform is half-built, in the place of the question what is on it now. `title`:
 * what stood before.
 */
export function showHalfBuilt(form: HTMLFormElement, { begun }: HalfBuilt, title: string): void {
  const place = form.querySelector<HTMLElement>(".half-built"),
    asked = form.querySelector<HTMLElement>(".entry.now");
  if (asked) asked.hidden = true;
  if (!place) return;
  place.hidden = false;
  place.querySelector("span")!.textContent = wordsHere("choosing").choosing.wayFromThere({
    begun: sayBegun(readBegun(begun)!, title),
  });
}
