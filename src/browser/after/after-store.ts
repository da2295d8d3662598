/**
 * Times of runs and notes at steps, kept on this device until somebody takes them off it. Nothing of it leaves the
 * device unless somebody saves the file; no name and no patient is in it.
 */
import type { TimedRun, StepNote, TimesFile } from "../../schema/times/times.ts";
import { keepKey, readKey } from "../kept.ts";
import { siteKey } from "../site-root.ts";

interface Kept {
  readonly runs: readonly TimedRun[];
  readonly notes: readonly StepNote[];
}

/** So many of each are kept, the newest: some 2 MB at most. */
const MOST_KEPT = 200;

const keyNow = () => siteKey("rerig-after");

/** What is kept, oldest first; empty if nothing is. */
export function readAfter(): TimesFile {
  const collection = document.documentElement.dataset["collection"] ?? "";
  const list = <T>(own: readonly T[] | undefined): readonly T[] => (Array.isArray(own) ? (own as T[]) : []);
  try {
    const kept = JSON.parse(readKey(keyNow()) ?? "{}") as Partial<Kept> | null;
    return { collection, runs: list(kept?.runs), notes: list(kept?.notes) };
  } catch {
    // What is there is no record of ours.
    return { collection, runs: [], notes: [] };
  }
}

/** Adds a run or a note; answers with whether the device keeps it (else the page does, until it is left). */
export function keepAfter(added: { readonly run?: TimedRun; readonly note?: StepNote }): boolean {
  const { runs, notes } = readAfter();
  return write({
    runs: [...runs, ...(added.run ? [added.run] : [])].slice(-MOST_KEPT),
    notes: [...notes, ...(added.note ? [added.note] : [])].slice(-MOST_KEPT),
  });
}

/** Takes everything, or one note, off the device. */
export function forgetAfter(note?: string): void {
  const { runs, notes } = readAfter();
  write(note === undefined ? { runs: [], notes: [] } : { runs, notes: notes.filter(({ id }) => id !== note) });
}

function write(kept: Kept): boolean {
  return keepKey(keyNow(), kept.runs.length + kept.notes.length > 0 ? JSON.stringify(kept) : null);
}

/** Drawn, so that it says nothing of who, when or where. */
export function newId(): string {
  const bytes = [...crypto.getRandomValues(new Uint8Array(5))];
  // A letter first: a spreadsheet takes `12e34567` for a number.
  return `r${bytes.map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}
