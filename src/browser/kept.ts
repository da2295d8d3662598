/**
 * What the site keeps on this device, under keys of its own (`siteKey`). What the device refuses (storage is full, or
 * closed) holds until the page is left: no page says less than what was said on it. Each script of a page has its own.
 */
const onPage = new Map<string, string | null>();

/** What the storage answers; `refused` where it is closed or full. */
function ask<T>(work: (storage: Storage) => T, refused: T): T {
  try {
    return work(localStorage);
  } catch {
    return refused;
  }
}

/** What is kept under a key; `null` if nothing is. */
export function readKey(key: string): string | null {
  return onPage.has(key) ? onPage.get(key)! : ask((storage) => storage.getItem(key), null);
}

/**
 * Keeps a text under a key, or with `null` nothing; answers with whether the device keeps it, else the page does.
 * `otherwise`: whether the device then still has what was kept there before, or nothing.
 */
export function keepKey(key: string, text: string | null, otherwise: "older" | "none" = "older"): boolean {
  const isKept = put(key, text);
  if (isKept) onPage.delete(key);
  else onPage.set(key, text);
  // Full storage still lets go of what it has; closed storage has nothing.
  if (!isKept && otherwise === "none") put(key, null);
  return isKept;
}

function put(key: string, text: string | null): boolean {
  return ask((storage) => {
    if (text === null) storage.removeItem(key);
    else storage.setItem(key, text);
    return true;
  }, false);
}

/** The keys that begin so and under which something is kept. */
export function keysUnder(prefix: string): string[] {
  const stored = ask((storage) => Object.keys(storage), []);
  return [...new Set([...onPage.keys(), ...stored])].filter((key) => key.startsWith(prefix) && readKey(key) !== null);
}
