/** Saving that loses nothing: what was changed elsewhere is not overwritten, and what was there can be had back. */
import { randomUUID } from "node:crypto";
import { readdirSync, rmdirSync } from "node:fs";
import { join } from "node:path";
import { whatIsRefused } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { contentHash, KeptStates } from "./keep-states.ts";
import type { KeptSave } from "./keep-states.ts";
import { ownFile, realFolder } from "./own-paths.ts";
import { bytesOf, endInterrupted, placeFiles, tidy } from "./place-files.ts";
import type { Placing } from "./place-files.ts";
import { Refusal } from "./refusal.ts";

/** A file as it is to be. */
export interface FileToSave {
  /** In the collection, with `/` between its parts: `tern/seat-capsule.mdx`. */
  readonly path: string;
  /** `contentHash` of what was read; `null` where there was no such file. */
  readonly basedOn: string | null;
  /** What it shall say, its byte-order mark included; `null` removes it. */
  readonly text: string | Uint8Array | null;
}

/** A file that somebody else has changed since it was read. */
interface ChangedElsewhere {
  readonly path: string;
  /** What it says now; `null` where it is gone. A picture has no text. */
  readonly theirs: string | null;
  /** `contentHash` of that: who saves on it has seen it. */
  readonly hash: string | null;
  readonly yours: string | Uint8Array | null;
}

/**
 * What became of a save: all of it was saved (`hashes` by path, to save on next time); or nothing, since files were
 * changed elsewhere; or nothing, for the reason given in a sentence.
 */
export type SaveResult =
  | { readonly saved: true; readonly hashes: Readonly<Record<string, string | null>> }
  | { readonly changed: readonly ChangedElsewhere[] }
  | { readonly refused: string };

/** One state of a file on this day. */
interface FileState {
  /** When it was saved, as ISO 8601 in UTC. */
  readonly at: string;
  /** By which `textOfState` finds what it said; `null` where it was not there. */
  readonly hash: string | null;
}

/**
 * To be called when a desk starts: ends what was interrupted, removes what it left, and forgets what is older than a
 * day. Gives a sentence where that can't be done, else nothing.
 */
export function startSaving(root: string): string | undefined {
  const result = guarded(root, (real, states) => {
    tidy(real);
    states.clear();
    return { saved: true, hashes: {} };
  });
  return "refused" in result ? result.refused : undefined;
}

/**
 * Saves files, all of them or none. Each is written beside its place, down to the disk, and then renamed; its mode is
 * kept. A folder that is missing is made. What it said before, and what it says now, can be had back on the same day.
 */
export function saveFiles(root: string, files: readonly FileToSave[]): SaveResult {
  return guarded(root, (real, states) => save(real, states, files, {}));
}

/** The states of a file on this day, from before the first save to the last, the latest first; none without a save. */
export function historyOf(root: string, path: string): readonly FileState[] {
  const found = new KeptStates(realFolder(root)).saves().flatMap(({ at, changes }) => {
    const change = changes.find((each) => each.path === path);
    return change ? { at, change } : [];
  });
  return found
    .flatMap(({ at, change }, index) => [
      // Somebody else wrote it in between.
      ...(found[index - 1]?.change.after === change.before ? [] : [{ at, hash: change.before }]),
      { at, hash: change.after },
    ])
    .reverse();
}

/** What a state of the day said; nothing where it is kept no longer. */
export function textOfState(root: string, hash: string): string | undefined {
  const content = new KeptStates(realFolder(root)).content(hash);
  return content && Buffer.from(content).toString("utf8");
}

/**
 * Takes back the last save of the day that changed a file, with all other files of that save. Nothing is written where
 * one of them was changed elsewhere since.
 */
export function undo(root: string, path: string): SaveResult {
  return again(root, path, "undoes");
}

/** Does again what was taken back last. */
export function redo(root: string, path: string): SaveResult {
  return again(root, path, "redoes");
}

function again(root: string, path: string, way: "undoes" | "redoes"): SaveResult {
  return guarded(root, (real, states) => {
    const { done, undone } = stacksOf(states.saves(), path),
      last = (way === "undoes" ? done : undone).at(-1);
    if (!last) throw new Refusal(heard("deskRefused")[way === "undoes" ? "nothingToUndo" : "nothingToRedo"]);
    const files = last.changes.map(({ path: each, before, after }): FileToSave => {
      const [from, to] = way === "undoes" ? [after, before] : [before, after],
        content = to === null ? null : states.content(to);
      if (content === undefined) throw new Refusal(heard("deskRefused").keptNoLonger({ file: each }));
      return { path: each, basedOn: from, text: content };
    });
    return save(real, states, files, { [way]: last.id });
  });
}

/** The saves that changed a file and stand, and those that were taken back and can be done again; the last is next. */
function stacksOf(saves: readonly KeptSave[], path: string): { done: KeptSave[]; undone: KeptSave[] } {
  const done: KeptSave[] = [],
    undone: KeptSave[] = [];
  const move = (from: KeptSave[], to: KeptSave[], id: string): void => {
    const at = from.findIndex((each) => each.id === id);
    if (at >= 0) to.push(...from.splice(at, 1));
  };
  for (const each of saves.filter(({ changes }) => changes.some((change) => change.path === path)))
    if (each.undoes !== undefined) move(done, undone, each.undoes);
    else if (each.redoes !== undefined) move(undone, done, each.redoes);
    else {
      done.push(each);
      undone.length = 0;
    }
  return { done, undone };
}

function save(
  root: string,
  states: KeptStates,
  files: readonly FileToSave[],
  why: Pick<KeptSave, "undoes" | "redoes">,
): SaveResult {
  const wanted = files.map((each) => ({ ...each, file: ownFile(root, each.path) }));
  if (new Set(wanted.map(({ file }) => file)).size < wanted.length) throw new Refusal(heard("deskRefused").namedTwice);
  const changed = (): SaveResult => ({
    changed: wanted.flatMap(({ path, file, basedOn, text }) => {
      const now = bytesOf(file),
        hash = now && contentHash(now);
      return hash === basedOn ? [] : { path, theirs: now && now.toString("utf8"), hash, yours: text };
    }),
  });
  const placings = wanted.map(({ path, file, basedOn, text }): Placing & { readonly old: Buffer | null } => {
    const content = typeof text === "string" ? Buffer.from(text) : text;
    return {
      path,
      file,
      content,
      old: bytesOf(file),
      before: basedOn,
      after: content && contentHash(content),
    };
  });
  if (placings.some(({ old, before }) => (old && contentHash(old)) !== before)) return changed();
  const placed = placings.filter(({ before, after }) => before !== after);
  for (const { old, content } of placed) for (const each of [old, content]) if (each) states.keep(each);
  const changes = placed.map(({ path, before, after }) => ({ path, before, after }));
  const made: KeptSave = { id: randomUUID(), at: new Date().toISOString(), changes, ...why };
  if (placed.length > 0 && !placeFiles(placed, made, states)) return changed();
  for (const { path, content } of placed) if (content === null) removeEmptied(join(root, path.split("/")[0]!));
  return { saved: true, hashes: Object.fromEntries(placings.map(({ path, after }) => [path, after])) };
}

/** Removes a platform's folder with its folders once none of them holds a file: it would still count as a platform. */
function removeEmptied(folder: string): void {
  try {
    const inside = readdirSync(folder, { recursive: true, withFileTypes: true });
    if (!inside.every((each) => each.isDirectory())) return;
    // What lies in another comes before it; a folder that somebody fills meanwhile stays.
    for (const each of inside.reverse()) rmdirSync(join(each.parentPath, each.name));
    rmdirSync(folder);
  } catch {
    // It is gone already, or in use.
  }
}

/** Does something in a collection's turn, after what was interrupted is ended; a disk's refusal becomes a sentence. */
function guarded(root: string, act: (real: string, states: KeptStates) => SaveResult): SaveResult {
  try {
    const real = realFolder(root),
      states = new KeptStates(real);
    return states.inTurn(() => {
      endInterrupted(real, states);
      return act(real, states);
    });
  } catch (error) {
    if (error instanceof Refusal) return { refused: error.message };
    const what = whatIsRefused(error);
    if (what === undefined) throw error;
    return { refused: heard("deskRefused").cantBeSaved({ what }) };
  }
}
