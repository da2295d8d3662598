/** Loads a collection for a build that was not handed one. */
import { resolve } from "node:path";
import { Findings } from "../findings/finding.ts";
import type { Collection } from "../schema/collection.ts";
import { compiledIn } from "./shelf.ts";
import { speakFor } from "../words/words.ts";

/**
 * The collection of a folder; findings are the business of `check`, which a build runs first. Throws if there is no
 * collection.
 */
export async function openCollection(folder: string): Promise<Collection> {
  const { loadCollection } = await import("../compile/load.ts");
  const collection = await loadCollection(resolve(folder), new Findings(), {
    hashPhotos: true,
    compiled: compiledIn(folder),
  });
  speakFor(collection.service);
  return collection;
}
