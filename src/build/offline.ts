/**
 * Writes what a device needs to keep the whole site: the list of its files with their content's hashes, and the service
 * worker that holds it.
 */
import { createHash } from "node:crypto";
import { readdir, writeFile } from "node:fs/promises";
import { join, relative, resolve, sep } from "node:path";
import { build } from "esbuild";
import { currentCards } from "../domain/cards/cards-issued.ts";
import { printedCodes } from "../paper/printed-card.ts";
import { forEachOf } from "../site/for-each-of.ts";
import type { SiteFolder } from "../site/site-folder.ts";
import type { Collection } from "../schema/collection.ts";
import type { SavedDocument, SavedFile, SavedSet, SavedSetHead } from "../schema/offline.ts";
import { heard } from "../words/heard.ts";
import { usableProcedures } from "../domain/parts/lookup.ts";

/** Files that no device needs: pictures for paper, maps, and what this module writes. */
const LEFT_OUT = /(-print\.jpg|\.map|^service-worker\.js|^offline\.json|\/\.[^/]*|^\.[^/]*)$/;

/**
 * Writes `offline.json` and `service-worker.js` into a finished site. To be called last. `today`: the day of the build.
 */
export async function writeOfflineFiles(
  site: SiteFolder,
  collection: Collection,
  today: string,
): Promise<SavedSetHead> {
  const folder = site.path;
  const names = (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .filter((name) => !LEFT_OUT.test(name))
    .sort();
  const found = new Map<string, SavedFile>();
  await forEachOf(names, async (name) => {
    // A page is kept under the address by which links name it.
    found.set(name, { address: name.replace(/(^|\/)index\.html$/, "$1"), ...(await site.digest(name)) });
  });
  const files = names.map((name) => found.get(name)!);
  const version = createHash("sha256")
    .update(JSON.stringify(files.map(({ address, hash }) => [address, hash])))
    .digest("hex")
    .slice(0, 16);
  const head = {
    version,
    built: today,
    bytes: files.reduce((sum, { bytes }) => sum + bytes, 0),
    documents: documentsOf(collection),
  };
  const set: SavedSet = { ...head, files };
  const short: SavedSetHead = { ...head, count: files.length };
  const worker = await build({
    entryPoints: [resolve(import.meta.dirname, "../browser/device/service-worker.ts")],
    bundle: true,
    minify: true,
    write: false,
    format: "iife",
    legalComments: "none",
    logLevel: "silent",
    target: ["es2022", "chrome111", "firefox114", "safari16.4"],
    define: {
      RERIG_IN_BROWSER: "true",
      RERIG_SET: JSON.stringify(set),
      RERIG_SAYS: JSON.stringify(heard("heldSet").notInIt),
    },
  });
  await writeFile(join(folder, "service-worker.js"), worker.outputFiles[0]!.contents);
  await writeFile(join(folder, "offline.json"), JSON.stringify(short));
  return short;
}

function documentsOf(collection: Collection): SavedDocument[] {
  return collection.platforms.flatMap((platform) => [
    ...currentCards(platform, printedCodes(collection)).map(({ configuration, content, code, edition, from }) => ({
      code: content.code,
      title: content.title,
      revision: content.revision,
      address: `${platform.id}/configurations/${configuration}/`,
      card: { code, ...(edition === undefined ? {} : { edition }), ...(from ? { from } : {}) },
    })),
    ...usableProcedures(platform).map(({ id, code, title, revision }) => ({
      code,
      title,
      revision,
      address: `${platform.id}/procedures/${id}/`,
    })),
  ]);
}
