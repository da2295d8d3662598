/** A site's pages as a build renders them, to be compared with those that are kept. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { buildSite } from "../../src/build/build.ts";
import type { PageMaker } from "../../src/build/render/page-maker.ts";
import { renderPages } from "../../src/build/render/render-pages.ts";
import type { PageShelf } from "../../src/build/shelf.ts";
import { NoCollection } from "../../src/compile/load.ts";
import type { Site } from "../../src/site/site.ts";
import { filesIn } from "../arbitraries/edit.ts";

/** Where nothing was kept, and nothing is. */
export const NOTHING_KEPT: PageShelf = { find: () => undefined, put: () => {} };

/** Every page in the order in which it comes, as a hash, and all that pages ask for. */
export async function renderAll(site: Site, maker: PageMaker, kept: PageShelf): Promise<unknown> {
  const pages: (readonly [string, string])[] = [];
  await renderPages(site, { maker, kept }, ({ file, address, content }) => {
    const said = content();
    pages.push([file, createHash("sha256").update(`${address}\0`).update(said).digest("hex")]);
    return Promise.resolve();
  });
  const asked = [site.placed, site.pageStyles, site.photos, site.pages].map((map) =>
    [...map].sort(([a], [b]) => (a < b ? -1 : 1)),
  );
  return { pages, asked };
}

/** The same of a site that is yet to be read; what is said where that, or the rendering, fails. */
export async function renderOrSay(read: Promise<Site>, maker: PageMaker, kept: PageShelf): Promise<unknown> {
  try {
    return await renderAll(await read, maker, kept);
  } catch (error) {
    return error instanceof NoCollection ? error.message : String(error);
  }
}

/** Builds a whole site; gives each of its files with a hash, its search index and what a device keeps included. */
export async function buildWhole(
  { folder, today, force, findings }: Site,
  maker: PageMaker,
  outFolder: string,
  pages: PageShelf,
): Promise<(readonly [file: string, hash: string])[]> {
  const build = { collectionFolder: folder, collection: force.files, on: today, log: () => {}, maker };
  await buildSite({ ...build, ...(findings ? { findings } : {}), outFolder, pages });
  return filesIn(outFolder, /\.\w+$/).map((file) => [
    file.slice(outFolder.length),
    createHash("sha256").update(readFileSync(file)).digest("hex"),
  ]);
}
