/** What is said to be out of service, kept on the device. */
import { keepKey } from "../kept.ts";
import { type KeptItem, keyOfOut } from "./out-store.ts";

/**
 * Keeps it in the place of what was kept before; answers with whether the device keeps it. If not, the page that asked
 * goes by it all the same, and says so.
 */
export function keepOut(platform: string, items: readonly KeptItem[]): boolean {
  return keepKey(keyOfOut(platform), items.length > 0 ? JSON.stringify(items) : null);
}
