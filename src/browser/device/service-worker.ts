/**
 * The site's service worker: keeps one whole set of the site on the device and answers from it, with or without a
 * signal.
 */
import type { SavedSet } from "../../schema/offline.ts";
import { asksAnew, isOfThisSite, mark, saysWhetherInForce } from "./origin.ts";
import { cacheName, dropOlder, dropOthers, fillSet, hexOf, keptAddress, type Surroundings } from "./saved-set.ts";

/** The set that this worker stands for; put in by the build, so that each set has a worker of its own. */
declare const RERIG_SET: SavedSet;
/** What stands in the place of what is not in the set, in the language of the pages. */
declare const RERIG_SAYS: string;

interface WaitingEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface RequestEvent extends WaitingEvent {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Worker {
  readonly registration: {
    readonly scope: string;
    readonly installing: object | null;
    readonly waiting: object | null;
  };
  /** Itself, where the browser says so; a worker that a newer one has replaced may still answer. */
  readonly serviceWorker?: { readonly state: string };
  readonly clients: {
    claim(): Promise<void>;
    matchAll(options: { includeUncontrolled: boolean }): Promise<readonly { postMessage(message: unknown): void }[]>;
  };
  skipWaiting(): Promise<void>;
  addEventListener(type: "install" | "activate", listener: (event: WaitingEvent) => void): void;
  addEventListener(type: "fetch", listener: (event: RequestEvent) => void): void;
  addEventListener(type: "message", listener: (event: MessageEvent & WaitingEvent) => void): void;
}
const worker = self as unknown as Worker;
const { scope } = worker.registration;
const surroundings: Surroundings = {
  caches,
  scope,
  now: () => new Date(),
  fetch: (address) => fetch(address, { cache: "no-cache", credentials: "same-origin" }),
  digest: async (bytes) => hexOf(await crypto.subtle.digest("SHA-256", bytes)),
};

async function tell(message: unknown): Promise<void> {
  for (const client of await worker.clients.matchAll({ includeUncontrolled: true })) client.postMessage(message);
}

/** The worker is installed only when its set is whole; until then, and if it never is, the one before it answers. */
worker.addEventListener("install", (event) => event.waitUntil(install()));

async function install(): Promise<void> {
  let said = 0;
  const { bytes, files } = RERIG_SET;
  try {
    await fillSet(RERIG_SET, surroundings, (done, count) => {
      if (Date.now() - said < 200 && count < files.length) return;
      said = Date.now();
      void tell({ rerig: "progress", done, bytes, files: count, of: files.length });
    });
  } catch (error) {
    // Thrown by `Cache.put` where the origin may keep no more (Service Workers, W3C: "QuotaExceededError").
    const isFull = error instanceof Error && error.name === "QuotaExceededError";
    await tell({ rerig: "failed", isFull, message: error instanceof Error ? error.message : String(error) });
    throw error;
  }
  await tell({ rerig: "whole", version: RERIG_SET.version });
}

worker.addEventListener("activate", (event) =>
  event.waitUntil(
    dropOthers(RERIG_SET.version, surroundings)
      .then(() => worker.clients.claim())
      .then(() => tell({ rerig: "active", version: RERIG_SET.version })),
  ),
);

/** Whether this worker answers for the site and no other is on its way. */
function isTheOne(): boolean {
  const { installing, waiting } = worker.registration;
  return worker.serviceWorker?.state === "activated" && !installing && !waiting;
}

worker.addEventListener("message", (event) => {
  const { data, source } = event;
  const asked = (data as { rerig?: string } | null)?.rerig;
  if (asked === "switch") void worker.skipWaiting();
  if (asked === "which") {
    (source as { postMessage(message: unknown): void } | null)?.postMessage({
      rerig: "active",
      version: RERIG_SET.version,
    });
    // A phone that was switched off while this set took over would keep the one before it for ever.
    if (isTheOne()) event.waitUntil(dropOlder(RERIG_SET.version, surroundings));
  }
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(scope)) return;
  // What says which set the site has now must come from the site.
  if (/\/(offline\.json|service-worker\.js)(\?|$)/.test(request.url)) return;
  event.respondWith(answer(request));
});

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(cacheName(scope, RERIG_SET.version));
  const kept = await cache.match(keptAddress(request.url));
  const address = keptAddress(request.url).slice(scope.length);
  const isPage = request.mode === "navigate";
  if (isPage && saysWhetherInForce(address)) {
    const now = await askSite(request.url, PATIENCE_MS);
    if (now) return now;
    if (kept) return withSet(kept, { asked: "no", built: RERIG_SET.built });
  }
  if (isPage && kept && asksAnew(request)) {
    const now = await askSite(request.url, PATIENCE_OF_RELOAD_MS);
    if (now) return now;
  }
  if (kept) return isPage ? withSet(kept) : kept;
  try {
    const response = await fetch(request);
    // Followed on the way, it could not answer a page's request; the browser then follows by itself.
    return isPage && response.ok && !response.redirected ? withMark(response, { from: "site" }) : response;
  } catch {
    // The code of a card that has no page in the set: the page with the box says what that means.
    const code = codeIn(address);
    if (code && request.mode === "navigate" && (await cache.match(`${scope}check/`)))
      return Response.redirect(`${scope}check/?code=${code}`);
    const device = request.mode === "navigate" ? await cache.match(`${scope}device/`) : undefined;
    // A page that was never in the set: the page about this device says what is.
    return device
      ? Response.redirect(`${scope}device/#not-here`)
      : new Response(RERIG_SAYS, {
          status: 504,
          headers: { "content-type": "text/plain; charset=utf-8" },
        });
  }
}

const codeIn = (address: string): string | undefined => /^C\/([0-9A-Z]{6})\/?$/i.exec(address)?.[1];

/** How long the site may take to say whether a card is in force, before the saved set is asked instead. */
const PATIENCE_MS = 5000;
/** How long it may take to show a page as it is now to somebody who asks for it anew, before the saved one is shown. */
const PATIENCE_OF_RELOAD_MS = 2000;

/**
 * The page as the site has it now; `undefined` if the site does not answer, or something else answers in its place
 * (the sign-in page of a guest network). A code that the site does not know leads to the page that says what it means.
 */
async function askSite(url: string, patience: number): Promise<Response | undefined> {
  try {
    const response = await fetch(url, {
      cache: "no-cache",
      credentials: "same-origin",
      signal: AbortSignal.timeout(patience),
    });
    const code = codeIn(keptAddress(url).slice(scope.length));
    const text = await response.clone().text();
    if (!isOfThisSite(text)) return undefined;
    if (response.status === 404 && code) return Response.redirect(`${scope}check/?code=${code}`);
    return response.ok ? withMark(response, { from: "site" }) : undefined;
  } catch {
    return undefined;
  }
}

/**
 * A page with the version of its set on it. While a newer set takes over, the worker before it may answer one page
 * more; the page can then tell that it is not of the set that this device now answers from.
 */
function withSet(page: Response, more: Readonly<Record<string, string>> = {}): Promise<Response> {
  return withMark(page, { set: RERIG_SET.version, ...more });
}

async function withMark(page: Response, marks: Readonly<Record<string, string>>): Promise<Response> {
  const { headers } = page;
  if (!headers.get("content-type")?.startsWith("text/html")) return page;
  // The length and the packing are no longer those of what is sent on.
  const kept = [...headers].filter(([name]) => name !== "content-length" && name !== "content-encoding");
  return new Response(mark(await page.text(), marks), { headers: kept });
}
