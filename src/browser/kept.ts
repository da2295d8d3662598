/**
 * What the site keeps on this device, under keys of its own (`siteKey`). What the device refuses (storage is full, or
 * closed) holds until the page is left: no page says less than what was said on it.
 */
const onPage = new Map<string, string | null>();

/** What is kept under a key; `null` if nothing is. */
export function readKey(key: string): string | null {
  if (onPage.has(key)) return onPage.get(key)!;
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * Keeps a text under a key, or with `null` nothing; answers with whether the device keeps it, else the page does.
 * `otherwise`: whether the device then still has what was kept there before, or nothing.
 */
export function keepKey(key: string, text: string | null, otherwise: "older" | "none" = "older"): boolean {
  try {
    if (text === null) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
    onPage.delete(key);
    return true;
  } catch {
    onPage.set(key, text);
    if (otherwise === "none") removeOlder(key);
    return false;
  }
}

/** Full storage still lets go of what it has; closed storage has nothing. */
function removeOlder(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // Nothing was kept.
  }
}

/** The keys that begin so and under which something is kept. */
export function keysUnder(prefix: string): string[] {
  const held = [...onPage].flatMap(([key, text]) => (text === null ? [] : [key]));
  let kept: string[] = [];
  try {
    kept = Object.keys(localStorage).filter((key) => !onPage.has(key));
  } catch {
    // Closed storage.
  }
  return [...held, ...kept].filter((key) => key.startsWith(prefix));
}
