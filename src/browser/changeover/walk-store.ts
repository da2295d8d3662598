/** Where a crew is in a changeover, kept on this device until they finish or leave; never who the patient is. */
import type { Press } from "../../domain/after/run.ts";

/** How far a walk has come. */
interface WalkState {
  /** Index of the stop; the number of stops: at the count; one more: finished. */
  readonly at: number;
  /** Answers heard, agreements and counts, as `stop/part`. */
  readonly pressed: readonly string[];
  /** What was pressed when, for the times of the run; a state kept by an older page has none. */
  readonly presses?: readonly Press[];
  /** Milliseconds since 1970 at which it was kept. */
  readonly when: number;
}

const PREFIX = "rerig-step/";
/** What is older than a shift belongs to another patient. */
const OLDEST = 12 * 3600 * 1000;

/** The kept state of a walk; `undefined` if there is none, it is old, or storage is closed. */
export function readWalk(key: string, now: number): WalkState | undefined {
  try {
    for (const name of Object.keys(localStorage)) {
      if (!name.startsWith(PREFIX)) continue;
      const kept = JSON.parse(localStorage.getItem(name)!) as Partial<WalkState> | null;
      if (!kept || typeof kept.when !== "number" || now - kept.when > OLDEST) localStorage.removeItem(name);
    }
    const state = JSON.parse(localStorage.getItem(PREFIX + key) ?? "null") as Partial<WalkState> | null;
    return state && Number.isInteger(state.at) && state.at! >= 0 && Array.isArray(state.pressed)
      ? (state as WalkState)
      : undefined;
  } catch {
    return undefined;
  }
}

/** Keeps the state; without storage it lasts as long as the page. */
export function keepWalk(key: string, state: WalkState): void {
  try {
    localStorage.setItem(PREFIX + key, JSON.stringify(state));
  } catch {
    // Closed storage (a private window): a reload then begins at the start, which is the safe side.
  }
}

/** Forgets it. */
export function dropWalk(key: string): void {
  try {
    localStorage.removeItem(PREFIX + key);
  } catch {
    // Nothing was kept.
  }
}
