/** Where a crew is in a changeover, kept on this device until they finish or leave; never who the patient is. */
import type { Press } from "../../domain/after/run.ts";
import { wayOfKey } from "../../domain/device/walk-marks.ts";

/** How far a walk has come. */
interface WalkState {
  /** Index of the stop; the number of stops: at the count; one more: finished. */
  readonly at: number;
  /** Answers heard, agreements and counts, as `stop/part`. */
  readonly pressed: readonly string[];
  /** What was pressed when, for the times of the run; a state kept by an older page has none. */
  readonly presses?: readonly Press[];
  /** What each stop said when it was kept (`marksOf`); a state kept by an older page has none. */
  readonly marks?: readonly string[];
  /** Milliseconds since 1970 at which it was kept. */
  readonly when: number;
}

const PREFIX = "rerig-step/";
/** What is older than a shift belongs to another patient. */
const OLDEST = 12 * 3600 * 1000;

/**
 * The kept state of a walk, else that of the same way in other revisions (then `key` is another one); `undefined` if
 * there is none, it is old, or storage is closed.
 */
export function readWalk(key: string, now: number): (WalkState & { readonly key: string }) | undefined {
  try {
    const states = Object.keys(localStorage).flatMap((name) => {
      if (!name.startsWith(PREFIX)) return [];
      const kept = JSON.parse(localStorage.getItem(name)!) as Partial<WalkState> | null;
      if (kept && typeof kept.when === "number" && now - kept.when <= OLDEST)
        return isWhole(kept) ? [{ ...kept, key: name.slice(PREFIX.length) }] : [];
      localStorage.removeItem(name);
      return [];
    });
    return (
      states.find((state) => state.key === key) ??
      states
        .filter((state) => state.marks !== undefined && wayOfKey(state.key) === wayOfKey(key))
        .sort((a, b) => b.when - a.when)[0]
    );
  } catch {
    return undefined;
  }
}

function isWhole(kept: Partial<WalkState>): kept is WalkState {
  return Number.isInteger(kept.at) && kept.at! >= 0 && Array.isArray(kept.pressed);
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
