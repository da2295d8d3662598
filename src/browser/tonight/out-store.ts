/**
 * What is out of service on a platform, kept on this device with the hour until somebody takes it back. Nothing of it
 * leaves the device.
 */
import type { AmendmentOut } from "../../site/records/amendments.ts";
import { dayOf } from "../../domain/words/say.ts";
import type { OutOfService } from "../../domain/tonight/blocked.ts";
import { onNewDay } from "../amendments.ts";
import { siteKey } from "../site-root.ts";

/** Pieces of an item that are out of service. */
export interface KeptItem {
  readonly id: string;
  readonly name: string;
  /** How many are out, of how many there are. */
  readonly count: number;
  readonly of: number;
  /** Milliseconds since 1970 at which it was said. */
  readonly since: number;
  /** The temporary amendment that takes it out of service, with its last day; absent for what was said here. */
  readonly by?: { readonly number: string; readonly until: string };
}

const PREFIX = "rerig-out";

/** Under which name the device keeps what is out on a platform. */
export function keyOfOut(platform: string): string {
  return siteKey(PREFIX) + platform;
}

/**
 * All that is out of service on a platform by this device: what was said on it, and what a temporary amendment takes
 * that runs today by its clock. Empty if nothing is. `said`: what was said, where the page knows better than the
 * device, which may have refused to keep it.
 */
export function readOut(platform: string, said = readKept(platform)): readonly KeptItem[] {
  const today = dayOf(new Date()),
    { out = "[]" } = document.documentElement.dataset;
  const taken = (JSON.parse(out) as readonly AmendmentOut[])
    .filter(({ from, until }) => from <= today && today <= until)
    .flatMap(({ number, from, until, items }) =>
      items.map(({ id, name, count }): KeptItem => ({
        id,
        name,
        count,
        of: count,
        since: new Date(`${from}T00:00`).getTime(),
        by: { number, until },
      })),
    );
  const ids = new Set(taken.map(({ id }) => id));
  return [
    ...taken.filter(({ id }, at) => taken.findIndex((each) => each.id === id) === at),
    ...said.filter(({ id }) => !ids.has(id)),
  ];
}

/** What was said on this device, in the order of its items; empty if nothing is, or if storage is closed. */
export function readKept(platform: string): readonly KeptItem[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(keyOfOut(platform)) ?? "[]");
    return Array.isArray(kept) ? kept.filter(isKept) : [];
  } catch {
    return [];
  }
}

/**
 * Calls back when what is out may be something else: another page has changed it, somebody comes back to this one, or
 * it is another day, on which an amendment begins or ends and `since 21:40` was yesterday.
 */
export function onOutChange(listener: () => void): void {
  addEventListener("storage", ({ key }) => {
    if (key === null || key.startsWith(PREFIX)) listener();
  });
  addEventListener("pageshow", ({ persisted }) => {
    if (persisted) listener();
  });
  onNewDay(listener);
}

/** The pieces as functions of the domain take them. */
export function piecesOut(kept: readonly KeptItem[]): OutOfService {
  return new Map(kept.map(({ id, count }) => [id, count]));
}

function isKept(entry: Partial<KeptItem> | null): entry is KeptItem {
  return (
    typeof entry?.id === "string" &&
    typeof entry.name === "string" &&
    [entry.count, entry.of, entry.since].every((value) => typeof value === "number" && value > 0)
  );
}
