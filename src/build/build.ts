/** Builds the site into a fresh folder and swaps it in only when everything succeeded. */
import { existsSync } from "node:fs";
import { mkdir, readdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { build as renderPages } from "astro";
import type { Collection } from "../schema/collection.ts";
import { assetsOf } from "./assets.ts";
import { writePhotos } from "./images.ts";
import { beginJob, type Job } from "./job.ts";
import { writeSearch } from "./search.ts";
import { openCollection } from "./open-collection.ts";
import { placedStyles } from "./placed.ts";

export interface BuildOptions {
  /** The collection's folder. */
  readonly collectionFolder: string;
  /** Where the site goes; its parent must be writable. What is there stays until the new site is complete. */
  readonly outFolder: string;
  /** Says one line of progress. */
  readonly log: (line: string) => void;
  /** The collection, if it has been loaded already. */
  readonly collection?: Collection;
}

/** Builds the whole site. Throws when a part fails; the site that was there is then untouched. */
export async function buildSite({ collectionFolder, outFolder, log, collection }: BuildOptions): Promise<void> {
  const target = resolve(outFolder);
  const fresh = join(dirname(target), `.${basename(target)}.new-${process.pid}`);
  await mkdir(dirname(target), { recursive: true });
  await removeLeftOvers(target);
  const job = beginJob(resolve(collectionFolder), collection ?? (await openCollection(collectionFolder)));
  try {
    log("Rendering pages");
    await renderPages({ root: job.root, outDir: fresh, logLevel: "error" });
    log("Writing styles and scripts");
    await writeAssets(job, fresh);
    log(`Making ${job.photos.size} pictures`);
    await writePhotos(job, fresh, join(job.root, "node_modules/.cache/rerig"), log);
    log("Indexing for search");
    log(`${await writeSearch(job, fresh)} pages can be found`);
    await swapIn(fresh, target);
  } finally {
    await rm(fresh, { recursive: true, force: true });
  }
}

async function writeAssets(job: Job, folder: string): Promise<void> {
  const { files } = await assetsOf(job);
  const all = [...files, ...job.pageStyles, ["assets/placed.css", placedStyles(job.placed)] as const];
  for (const [address, content] of all) {
    await mkdir(dirname(join(folder, address)), { recursive: true });
    await writeFile(join(folder, address), content);
  }
}

/** Sets the old site aside, puts the new one in its place, then removes the old one; on failure the old one comes back. */
async function swapIn(fresh: string, target: string): Promise<void> {
  if (!existsSync(target)) return rename(fresh, target);
  const aside = join(dirname(target), `.${basename(target)}.old-${process.pid}`);
  await rename(target, aside);
  try {
    await rename(fresh, target);
  } catch (error) {
    await rename(aside, target);
    throw error;
  }
  await rm(aside, { recursive: true, force: true });
}

/** Clears away what an interrupted build has left; brings the old site back if it was interrupted between the two renames. */
async function removeLeftOvers(target: string): Promise<void> {
  const parent = dirname(target), stem = `.${basename(target)}.`;
  for (const name of await readdir(parent)) {
    if (!name.startsWith(stem)) continue;
    const found = /^(new|old)-(\d+)$/.exec(name.slice(stem.length));
    if (!found || isRunning(Number(found[2]))) continue;
    if (found[1] === "old" && !existsSync(target)) await rename(join(parent, name), target);
    else await rm(join(parent, name), { recursive: true, force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return pid !== process.pid;
  } catch {
    return false;
  }
}
