/** The controlled documents of a platform: what is issued, revised, reviewed and withdrawn. */
import type { Amendment, Collection, Configuration, Option, Platform, Procedure } from "./collection.ts";

/** A controlled document. */
export type Issuable = Procedure | Configuration | Option;

/** A platform's procedures, configurations and options, in this order; empty where it has none. */
export function documentsOf(platform: Pick<Platform, "procedures" | "configurations" | "options">): Issuable[] {
  return [...platform.procedures, ...platform.configurations, ...platform.options];
}

/** The document that a file holds (its path in the collection); `undefined` if it holds another thing, or none. */
export function documentIn({ platforms }: Pick<Collection, "platforms">, file: string): Issuable | undefined {
  return platforms.flatMap(documentsOf).find((each) => each.file === file);
}

/** The temporary amendment that a file holds; `undefined` if it holds another thing, or none. */
export function amendmentIn({ platforms }: Pick<Collection, "platforms">, file: string): Amendment | undefined {
  return platforms.flatMap(({ amendments = [] }) => amendments).find((each) => each.file === file);
}
