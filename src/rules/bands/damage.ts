/** Whether the bands of a platform can be judged: not while a configuration could not be read whole. */
import type { Platform } from "../../schema/collection.ts";

/** True if service.yaml or a configuration of the platform has an error found while reading. */
export function hasDamage(platform: Platform, damaged: ReadonlySet<string>): boolean {
  return [...damaged].some((file) => file === "service.yaml" || file.startsWith(`${platform.id}/configurations/`));
}
