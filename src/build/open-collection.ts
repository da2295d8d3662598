/** Reads a collection with all that a process knows of it: compiled files that are kept, and the state it read before. */
import { resolve } from "node:path";
import { loadCollection, type LoadOptions } from "../compile/load.ts";
import { readAgain } from "../domain/force/force.ts";
import { Findings } from "../findings/finding.ts";
import type { Collection } from "../schema/collection.ts";
import { compiledIn } from "./shelf.ts";

/** By folder, the last state of the collections that this process has read last. */
const last = new Map<string, Collection>();
/** Collections whose last state is held at most. */
const MOST = 4;

/**
 * The collection of a folder. What it says as before is made of the same objects as when this process read it last, and
 * the collection is the same object where nothing is another. What is wrong with it goes to `findings`; for a build
 * that is the business of `check`, which runs first. Throws `NoCollection` if there is none.
 */
export async function openCollection(
  folder: string,
  findings = new Findings(),
  how: LoadOptions = { hashPhotos: true },
): Promise<Collection> {
  const place = resolve(folder),
    read = await loadCollection(place, findings, { compiled: compiledIn(place), ...how }),
    before = last.get(place);
  const files = before ? readAgain(before, read) : read;
  last.delete(place);
  last.set(place, files);
  for (const oldest of [...last.keys()].slice(0, -MOST)) last.delete(oldest);
  return files;
}
