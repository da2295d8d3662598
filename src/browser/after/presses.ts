/** What was pressed when in a walk: the raw times of a run. */
import type { Press } from "../../domain/after/run.ts";

/** Presses so far, and ways to add one, now, and to forget them all. */
interface Presses {
  readonly all: () => readonly Press[];
  readonly add: (kind: Press["kind"], stop: number) => void;
  readonly forget: () => void;
}

/** Goes on from what was kept; what is not a press is passed over. */
export function pressesOf(kept: readonly Partial<Press>[] | undefined): Presses {
  let presses = (Array.isArray(kept) ? (kept as readonly Partial<Press>[]) : []).filter(isPress);
  return {
    all: () => presses,
    add: (kind, stop) => {
      presses = [...presses, { at: Date.now(), stop, kind }];
    },
    forget: () => {
      presses = [];
    },
  };
}

const isPress = (entry: Partial<Press> | null): entry is Press =>
  Number.isFinite(entry?.at) && Number.isInteger(entry?.stop) && typeof entry?.kind === "string";
