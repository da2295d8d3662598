/** Which platform an author's component speaks of. */
import type { Platform } from "../schema/collection.ts";
import type { Site } from "./site.ts";

/**
 * The platform that is named; else the one whose page this is; else the first that `has` what is meant; else the first
 * of all.
 * Throws only if the collection has no platform.
 */
export function platformHere(
  site: Site,
  named: string | undefined,
  page: URL,
  has?: (platform: Platform) => boolean,
): Platform {
  const { platforms } = site.collection;
  const ofPage = page.pathname.split("/").find((part) => platforms.some(({ id }) => id === part));
  const found =
    platforms.find(({ id }) => id === (named ?? ofPage)) ??
    platforms.find((platform) => has?.(platform)) ??
    platforms[0];
  if (!found) throw new Error("The collection has no platform");
  return found;
}
