/** The controlled documents of a platform: what is issued, revised, reviewed and withdrawn. */
import type { Configuration, Option, Platform, Procedure } from "./collection.ts";

/** A controlled document. */
export type Issuable = Procedure | Configuration | Option;

/** A platform's procedures, configurations and options, in this order; empty where it has none. */
export function documentsOf(platform: Pick<Platform, "procedures" | "configurations" | "options">): Issuable[] {
  return [...platform.procedures, ...platform.configurations, ...platform.options];
}
