/** What kept pages rest on beside what a collection says: the files of their pictures, and the assets they name. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import type { Assets } from "../../site/assets.ts";
import type { Site } from "../../site/site.ts";

/** A hash of the bytes of a file, by its path from the collection's folder; `undefined` where it can't be read. */
export function hashOfFile({ folder }: Pick<Site, "folder">, file: string): string | undefined {
  try {
    return createHash("sha256")
      .update(readFileSync(resolve(folder, file)))
      .digest("hex");
  } catch {
    return undefined;
  }
}

/** Scripts, styles and fonts, as a part of a key: names carry a hash of what they name. */
export const sayAssets = ({ names, said }: Assets): string => JSON.stringify([[...names], [...said]]);
