/** What kept pages rest on beside what a collection says: the files of their pictures, and the assets they name. */
import { resolve } from "node:path";
import { hashFile } from "../../read/image.ts";
import type { Assets } from "../../site/assets.ts";
import type { Site } from "../../site/site.ts";

/**
 * The files that pictures are made from, by their paths from the collection's folder, and a hash of the bytes of each;
 * `undefined` where it can't be read.
 */
export type Sources = readonly (readonly [file: string, hash: string | undefined])[];

/** These files as they are now. */
export async function sourcesOf({ folder }: Pick<Site, "folder">, files: Iterable<string>): Promise<Sources> {
  return Promise.all([...files].map(async (file) => [file, await hashFile(resolve(folder, file))] as const));
}

/** Whether all of these files are as they were. */
export async function areAsTheyWere({ folder }: Pick<Site, "folder">, sources: Sources): Promise<boolean> {
  const same = await Promise.all(sources.map(async ([file, hash]) => (await hashFile(resolve(folder, file))) === hash));
  return same.every(Boolean);
}

/** Scripts, styles and fonts, as a part of a key: names carry a hash of what they name. */
export const sayAssets = ({ names, said }: Assets): string => JSON.stringify([[...names], [...said]]);
