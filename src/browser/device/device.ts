/**
 * What this device holds of the site, and how to add, renew or remove it. Shared by the foot of every page and the page
 * about the device.
 */
import { type HeldSet, OLD_AFTER_DAYS, type SavedSetHead } from "../../schema/offline.ts";
import { writeDecimal, writeHour } from "../../schema/spoken.ts";
import { keepKey, readKey } from "../kept.ts";
import { cacheName, heldSets, isOurs } from "./saved-set.ts";
import { homeAddress, siteKey } from "../site-root.ts";
import { dayOf, sayDate } from "../../domain/words/say.ts";

/** What a service worker tells the pages. */
export type Message =
  | {
      readonly rerig: "progress";
      readonly done: number;
      readonly bytes: number;
      readonly files: number;
      readonly of: number;
    }
  /** `isFull`: the device has no room for the whole set. */
  | { readonly rerig: "failed"; readonly message: string; readonly isFull: boolean }
  | { readonly rerig: "whole" | "active"; readonly version: string };

/**
 * Whether this browser can keep the site: not from a folder, not over plain http, not in some private windows; nor what
 * stands in the frame of the desk, which is no whole site.
 */
export function canKeep(): boolean {
  return "serviceWorker" in navigator && "caches" in globalThis && location.protocol !== "file:" && parent === window;
}

/** Asks the browser to save the site on this device, or to see whether there is a newer set. Rejects if it can't. */
export async function addToDevice(): Promise<ServiceWorkerRegistration> {
  const registration = await navigator.serviceWorker.register(`${homeAddress()}service-worker.js`, {
    updateViaCache: "none",
  });
  if (registration.active && !registration.installing && !registration.waiting) await registration.update();
  return registration;
}

/**
 * Removes everything that this site keeps on the device except practice; the next visit would save it again, unless
 * `refuse` is kept.
 */
export async function removeFromDevice(): Promise<void> {
  const scope = homeAddress();
  const registration = await navigator.serviceWorker.getRegistration(scope);
  await registration?.unregister();
  await Promise.all((await caches.keys()).filter((name) => isOurs(name, scope)).map((name) => caches.delete(name)));
  keepChoice("no");
}

/** The set that this device answers from; `undefined` if there is none. */
export async function heldHere(): Promise<HeldSet | undefined> {
  const held = await heldSets({ caches, scope: homeAddress() });
  const active = (await navigator.serviceWorker.getRegistration(homeAddress()))?.active;
  return active ? held[held.length > 1 && (await isWaiting()) ? 1 : 0] : undefined;
}

async function isWaiting(): Promise<boolean> {
  return Boolean((await navigator.serviceWorker.getRegistration(homeAddress()))?.waiting);
}

/** The set that the site has now; `undefined` without a signal. Remembers when the two were compared. */
export async function compareWithSite(held: HeldSet | undefined): Promise<SavedSetHead | undefined> {
  try {
    const response = await fetch(`${homeAddress()}offline.json`, { cache: "no-store" });
    if (!response.ok) return undefined;
    const head = (await response.json()) as SavedSetHead;
    if (held && held.version === head.version)
      await (await openSet(held)).put(checkedAddress(), new Response(JSON.stringify(new Date().toISOString())));
    return head;
  } catch {
    return undefined;
  }
}

/** When the held set was last known to be the site's newest. */
export async function lastCompared(held: HeldSet): Promise<Date> {
  const checked = await (await openSet(held)).match(checkedAddress());
  return new Date(checked ? ((await checked.json()) as string) : held.saved);
}

/** Whole days from one moment to another. */
export function daysBetween(earlier: Date, later: Date): number {
  return Math.max(0, Math.floor((later.getTime() - earlier.getTime()) / 86_400_000));
}

/**
 * Whether the clock is wrong for certain: it shows a moment before the day on which the held set was made had begun
 * anywhere (the earliest zone is 14 hours ahead of UTC, tz database: Pacific/Kiritimati).
 */
export function isClockBehind({ built }: Pick<HeldSet, "built">, now: Date): boolean {
  return now.getTime() < Date.parse(`${built}T00:00:00Z`) - 14 * 3_600_000;
}

/** Whether the device has been without a comparison for too long. */
export function isOld(compared: Date, now: Date): boolean {
  return daysBetween(compared, now) > OLD_AFTER_DAYS;
}

function openSet({ version }: HeldSet): Promise<Cache> {
  return caches.open(cacheName(homeAddress(), version));
}

function checkedAddress(): string {
  return `${homeAddress()}compared-set.json`;
}

/** `14 Sep 2026, 07:40`. */
export function sayMoment(date: Date): string {
  return `${sayDate(dayOf(date))}, ${writeHour(date)}`;
}

/** A size for people, in MB of a million bytes. */
export function sayBytes(bytes: number): string {
  return bytes < 100_000
    ? `${Math.max(1, Math.round(bytes / 1000))} kB`
    : `${writeDecimal((bytes / 1_000_000).toFixed(bytes < 10_000_000 ? 1 : 0))} MB`;
}

const CHOICE = "rerig-keep";

/**
 * Whether the reader has removed this site from this device, or asked for it. Under the bare name stands what pages
 * kept that did not yet tell the sites of one host apart; it holds until something is said of this site.
 */
export function readChoice(): "yes" | "no" | undefined {
  const kept = readKey(siteKey(CHOICE)) ?? readKey(CHOICE);
  return kept === "yes" || kept === "no" ? kept : undefined;
}

/** Keeps the reader's wish. */
export function keepChoice(choice: "yes" | "no"): void {
  keepKey(siteKey(CHOICE), choice);
}

/** Whether the connection is one on which nothing large should be fetched unasked. */
export function isSparing(): boolean {
  const { connection } = navigator as Navigator & { connection?: { saveData?: boolean; type?: string } };
  return connection?.saveData === true;
}
