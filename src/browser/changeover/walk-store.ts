/** Where a crew is in a changeover, kept on this device until they finish or leave; never who the patient is. */
import type { Press } from "../../domain/after/run.ts";
import { wayOfKey } from "../../domain/device/walk-marks.ts";
import { keepKey, keysUnder, readKey } from "../kept.ts";
import { siteKey } from "../site-root.ts";

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

/** A state that was found, with the key of the walk that it was kept of. */
type KeptWalk = WalkState & { readonly key: string };

const prefixNow = () => siteKey("rerig-walk");
/** Before which pages kept a walk that did not yet tell the sites of one host apart. It is taken over once. */
const SHARED = "rerig-step/";
/** What is older than a shift belongs to another patient. */
const OLDEST = 12 * 3600 * 1000;

/**
 * The kept state of a walk, else that of the same way in other revisions (then `key` is another one); `undefined` if
 * there is none, or it is old.
 */
export function readWalk(key: string, now: number): KeptWalk | undefined {
  const states = [prefixNow(), SHARED].flatMap((prefix) => statesUnder(prefix, now));
  return (
    states.find((state) => state.key === key) ??
    states
      .filter((state) => state.marks !== undefined && wayOfKey(state.key) === wayOfKey(key))
      .sort((a, b) => b.when - a.when)[0]
  );
}

/** Whole states that are not old. The others are forgotten, each by itself: a damaged one hides none. */
function statesUnder(prefix: string, now: number): KeptWalk[] {
  return keysUnder(prefix).flatMap((name) => {
    const kept = readState(name);
    if (kept && now - kept.when <= OLDEST) return [{ ...kept, key: name.slice(prefix.length) }];
    keepKey(name, null);
    return [];
  });
}

function readState(name: string): WalkState | undefined {
  try {
    const kept = JSON.parse(readKey(name) ?? "null") as Partial<WalkState> | null;
    return kept && typeof kept.when === "number" && isWhole(kept) ? kept : undefined;
  } catch {
    return undefined;
  }
}

function isWhole(kept: Partial<WalkState>): kept is WalkState {
  return Number.isInteger(kept.at) && kept.at! >= 0 && Array.isArray(kept.pressed);
}

/**
 * Keeps the state; answers with whether the device does. Where it can't, the page knows it until it is left, and what
 * the device kept of the walk before is taken away: a crew that went back must not find itself further on again. A
 * reload then begins at the start, which is the safe side.
 */
export function keepWalk(key: string, state: WalkState): boolean {
  const isKept = keepKey(prefixNow() + key, JSON.stringify(state), "none");
  keepKey(SHARED + key, null);
  return isKept;
}

/** Forgets it. */
export function dropWalk(key: string): void {
  for (const prefix of [prefixNow(), SHARED]) keepKey(prefix + key, null);
}

/** Calls back when another window of this device keeps a place in the same walk, until `signal` is given. */
export function onKeptElsewhere(key: string, listener: () => void, signal: AbortSignal): void {
  const name = prefixNow() + key;
  addEventListener("storage", (event) => event.key === name && event.newValue !== null && listener(), { signal });
}
