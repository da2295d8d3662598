/** Filling a cache with a whole set of the site, and answering from it. A set is whole or it is not used at all. */
import type { HeldSet, SavedFile, SavedSet } from "../../schema/offline.ts";

/** What the work needs of the browser; tests give their own. */
export interface Surroundings {
  readonly caches: Pick<CacheStorage, "open" | "keys" | "delete">;
  readonly fetch: (address: string) => Promise<Response>;
  readonly digest: (bytes: ArrayBuffer) => Promise<string>;
  readonly now: () => Date;
  /** Address of the site's root, with a closing `/`. */
  readonly scope: string;
}

/** Address in the cache of the record that makes a set whole; it is written last. */
const HELD = "held-set.json";
/** Files fetched at the same time: enough to hide the way to the server, few enough for a phone. */
const AT_ONCE = 4;

/** Name of the cache of a version; sites in different folders of a host keep apart. */
export function cacheName(scope: string, version: string): string {
  return `rerig ${scope} ${version}`;
}

/** Whether a cache is one of this site's. */
export function isOurs(name: string, scope: string): boolean {
  return name.startsWith(`rerig ${scope} `);
}

/**
 * Fills the cache of a set's version: what an interrupted try left and what another whole set holds with the same
 * content is taken from the device, the rest is fetched and must have exactly the content that was built. Rejects at
 * the first file that can't be had; the record that makes the set whole is then missing, and whatever set was in use
 * stays in use. `progress` hears of bytes as they become safe.
 */
export async function fillSet(
  set: SavedSet,
  { caches, fetch, digest, now, scope }: Surroundings,
  progress: (done: number, files: number) => void,
): Promise<void> {
  const cache = await caches.open(cacheName(scope, set.version));
  const older = await Promise.all(
    (await caches.keys())
      .filter((name) => isOurs(name, scope) && name !== cacheName(scope, set.version))
      .map((name) => caches.open(name)),
  );
  const queue = set.files.values();
  let done = 0,
    files = 0,
    stopped = false;
  const holds = async (file: SavedFile, response: Response | undefined) =>
    response?.headers.get("x-rerig-hash") === file.hash ? response : undefined;
  const work = async () => {
    for (const file of queue) {
      if (stopped) return;
      const address = scope + encodeURI(file.address);
      if (!(await holds(file, await cache.match(address))))
        await cache.put(address, (await fromOlder(file, address)) ?? (await fetchWhole(file, address)));
      done += file.bytes;
      files += 1;
      progress(done, files);
    }
  };
  const fromOlder = async (file: SavedFile, address: string) => {
    for (const other of older) {
      const found = await holds(file, await other.match(address));
      if (found) return found;
    }
    return undefined;
  };
  const fetchWhole = async (file: SavedFile, address: string) => {
    const response = await fetch(address);
    if (!response.ok) throw new Error(`${file.address || "the home page"}: the server answered ${response.status}`);
    const bytes = await response.arrayBuffer();
    if ((await digest(bytes)) !== file.hash)
      throw new Error(`${file.address || "the home page"}: the server sent something else than was built`);
    const headers = {
      "content-type": response.headers.get("content-type") ?? "application/octet-stream",
      "content-length": String(bytes.byteLength),
      "x-rerig-hash": file.hash,
    };
    return new Response(bytes, { headers: { ...headers, ...policyOf(response) } });
  };
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, work));
  } catch (error) {
    stopped = true;
    throw error;
  }
  const { files: all, ...head } = set;
  const held: HeldSet = { ...head, count: all.length, saved: now().toISOString() };
  await cache.put(
    scope + HELD,
    new Response(JSON.stringify(held), { headers: { "content-type": "application/json" } }),
  );
}

/** Pages answered from the device keep the policy that the server gave them. */
function policyOf(response: Response): Record<string, string> {
  const policy = response.headers.get("content-security-policy");
  return policy ? { "content-security-policy": policy } : {};
}

/** Removes every set of this site but one. One that the browser can't remove now stays, and stops nothing. */
export async function dropOthers(
  version: string,
  { caches, scope }: Pick<Surroundings, "caches" | "scope">,
): Promise<void> {
  await Promise.allSettled(
    (await caches.keys())
      .filter((name) => isOurs(name, scope) && name !== cacheName(scope, version))
      .map((name) => caches.delete(name)),
  );
}

/**
 * Removes the whole sets that were saved before that of `version`: what is left of one if the device stopped while this
 * one took over. A set that is not whole may be one that is being fetched, and stays; so does everything where the set
 * of `version` is not whole itself.
 */
export async function dropOlder(
  version: string,
  { caches, scope }: Pick<Surroundings, "caches" | "scope">,
): Promise<void> {
  const sets = await heldSets({ caches, scope }),
    own = sets.find((set) => set.version === version);
  if (!own) return;
  const older = sets.filter((set) => set !== own && set.saved < own.saved);
  await Promise.allSettled(older.map((set) => caches.delete(cacheName(scope, set.version))));
}

/** The whole sets on this device, the one that became whole last first. */
export async function heldSets({ caches, scope }: Pick<Surroundings, "caches" | "scope">): Promise<HeldSet[]> {
  const sets = await Promise.all(
    (await caches.keys())
      .filter((name) => isOurs(name, scope))
      .map(async (name) => {
        const held = await (await caches.open(name)).match(scope + HELD);
        return held ? ((await held.json()) as HeldSet) : undefined;
      }),
  );
  return sets.filter((set) => set !== undefined).sort((a, b) => (a.saved < b.saved ? 1 : -1));
}

/** The address under which a request's file is kept: without query, fragment and a closing `index.html`. */
export function keptAddress(url: string): string {
  return url.replace(/[?#].*$/, "").replace(/\/index\.html$/, "/");
}

/** A digest as hexadecimal digits. */
export function hexOf(digest: ArrayBuffer): string {
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
