/** What is said to be out of service, kept on the device. */
import { type KeptItem, keyOfOut } from "./out-store.ts";

/** Keeps it in the place of what was kept before; answers with whether the device keeps it. */
export function keepOut(platform: string, items: readonly KeptItem[]): boolean {
  try {
    if (items.length > 0) localStorage.setItem(keyOfOut(platform), JSON.stringify(items));
    else localStorage.removeItem(keyOfOut(platform));
    return true;
  } catch {
    // Closed or full storage: the page that asked says so.
    return false;
  }
}
