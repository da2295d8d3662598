/** Builds the site into a fresh folder and swaps it in only when everything succeeded. */
import { cp, mkdir, readdir, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import type { Finding } from "../findings/finding.ts";
import type { Collection } from "../schema/collection.ts";
import { assetsOf } from "../site/assets.ts";
import { forEachOf } from "../site/for-each-of.ts";
import { PageKeeper } from "./finish-pages.ts";
import { writePhotos } from "../site/images.ts";
import { writeDecimal } from "../schema/spoken.ts";
import { makeSite, type Site } from "../site/site.ts";
import { SiteFolder } from "../site/site-folder.ts";
import { today } from "../site/today.ts";
import { beginSearch } from "../site/find/search.ts";
import { HeldIndex } from "../site/find/held-index.ts";
import { writeOfflineFiles } from "./offline.ts";
import { tellingWords } from "./kept/pages-by-words.ts";
import type { HeldSite } from "./held-site.ts";
import { isRunning } from "./is-running.ts";
import { CACHE, type PageShelf, pagesIn, WORKSHOP } from "./shelf.ts";
import { openCollection } from "./open-collection.ts";
import { PageMaker } from "./render/page-maker.ts";
import { renderPages } from "./render/render-pages.ts";
import type { TakenPage } from "./render/rendered.ts";
import { MARKER, MARKER_TEXT, outFolderFor, removeSite } from "./out-folder.ts";
import { withoutBreaks } from "../words/without-breaks.ts";
import { heard } from "../words/heard.ts";
import { speakFor } from "../words/words.ts";

interface BuildOptions {
  /** The collection's folder. */
  readonly collectionFolder: string;
  /** Where the site goes; its parent must be writable. What is there stays until the new site is complete. */
  readonly outFolder: string;
  /** Says one line of progress. */
  readonly log: (line: string) => void;
  /** The files, if they have been read already. */
  readonly collection?: Collection;
  /** The day of which the site says what is in force, `YYYY-MM-DD`; today if left out. */
  readonly on?: string | undefined;
  /** What `check` found in it, if it has been checked already. */
  readonly findings?: readonly Finding[];
  /** Where the pages of earlier builds are; those of the project's cache if left out. */
  readonly pages?: PageShelf;
  /** Renders the pages where builds follow each other (`openPageMaker`); else one is made for this build alone. */
  readonly maker?: PageMaker;
  /** What is held of the site that was made before, where builds follow each other (`new HeldSite`). */
  readonly held?: HeldSite;
}

/** Counts folders of this process: Node keeps modules by their path, and a build must not meet those of another. */
let folders = 0;

/** A folder of this process alone. */
const ownFolder = () => join(WORKSHOP, `render-${process.pid}-${(folders += 1)}`);

/** A maker of pages for builds that follow each other, or for who serves pages on demand; to be closed at last. */
export function openPageMaker(): PageMaker {
  return new PageMaker(ownFolder());
}

/**
 * Builds the whole site. Throws when a part fails, `CannotRun` where the folder is not a build's to replace
 * (`outFolderFor`); what was there is then untouched.
 */
export async function buildSite({
  collectionFolder,
  outFolder,
  log,
  collection,
  on,
  findings,
  maker,
  held,
  pages: kept = pagesIn(collectionFolder),
}: BuildOptions): Promise<void> {
  held?.catchUp();
  const source = resolve(collectionFolder),
    program = resolve(import.meta.dirname, "../.."),
    files = collection ?? tellingWords(await openCollection(source));
  held?.readAgain(files);
  const site = makeSite(source, files, on ?? today(), findings);
  speakFor(site.collection.service);
  const target = outFolderFor(outFolder, source, program),
    rendered = ownFolder(),
    pagesOf = maker ?? openPageMaker();
  await mkdir(dirname(target), { recursive: true });
  // An earlier process of the same number may have been stopped.
  await rm(rendered, { recursive: true, force: true });
  await mkdir(rendered, { recursive: true });
  await removeRenders(WORKSHOP);
  try {
    const folder = new SiteFolder(rendered, target, held?.written);
    await renderAndIndex(site, { maker: pagesOf, kept, held }, folder, log);
    log(heard("buildProgress").listing);
    const saved = await writeOfflineFiles(folder, site.collection, site.today);
    log(
      heard("buildProgress").keeps({
        files: saved.count,
        megabytes: writeDecimal((saved.bytes / 1e6).toFixed(1)),
      }),
    );
    await writeFile(join(rendered, MARKER), MARKER_TEXT);
    // What came into the folder while the site was made is nobody's to remove.
    outFolderFor(target, source, program);
    if (held) held.written = folder.written;
    await swapIn(rendered, target, held);
  } finally {
    await rm(rendered, { recursive: true, force: true });
    if (!maker) await pagesOf.close();
  }
}

/** Renders the pages; each goes into the search index in another process while the next is rendered. */
async function renderAndIndex(
  site: Site,
  { maker, kept, held }: { readonly maker: PageMaker; readonly kept: PageShelf; readonly held: HeldSite | undefined },
  folder: SiteFolder,
  log: (line: string) => void,
): Promise<void> {
  const index = held?.index ?? new HeldIndex(),
    search = await beginSearch(site, index),
    say = heard("buildProgress"),
    keeper = new PageKeeper();
  /** Pages are written when the names of their stylesheets are known, other files at once. */
  const take = async ({ file, address, content, same }: TakenPage) => {
    if (address === undefined) return folder.writeAs(file, same && [same], content);
    const html = () => content() as string;
    keeper.meet({ file, html, same });
    await search.add({ address, html: () => withoutBreaks(html()), same });
  };
  try {
    log(say.rendering);
    // The assets are bundled in another process while Astro begins.
    await Promise.all([
      maker.copyRest(site, folder.path).then(async () => renderPages(site, { maker, kept, held }, take)),
      assetsOf(site),
    ]);
    // The index is made in the other process meanwhile. All come to their end even if one fails: the folder must not be
    // cleared away while another still writes into it.
    const finished = async () => {
      log(say.styles);
      await writeAssets(site, folder);
      await keeper.finish(site, folder);
      log(say.pictures({ count: site.photos.size }));
      await writePhotos(site, folder, CACHE, log);
    };
    const [found, rest] = await Promise.allSettled([search.write(folder), finished()]);
    for (const each of [rest, found]) if (each.status === "rejected") throw each.reason;
    if (found.status === "fulfilled") log(say.canBeFound({ pages: found.value }));
  } finally {
    if (!held) index.end();
  }
}

async function writeAssets(site: Site, folder: SiteFolder): Promise<void> {
  const { names, files } = await assetsOf(site);
  const screen = names.get("screen.css");
  const all = [...[...files].filter(([address]) => address !== screen), ...site.pageStyles];
  await forEachOf(all, async ([address, content]) => folder.write(address, content));
}

/** How often a site is put in place anew, if another build does the same at the same moment. */
const MOST_TRIES = 20;

/**
 * Sets the old site aside, puts the new one in its place, then removes the old one; on failure the old one comes back.
 * Of two builds at the same moment the later one stays. Stopped between the two renames: `bringBack`. `held`: who
 * removes the old one later, when nobody waits.
 */
async function swapIn(rendered: string, target: string, held?: HeldSite): Promise<void> {
  const fresh = join(dirname(target), `.${basename(target)}.new-${process.pid}`),
    aside = join(dirname(target), `.${basename(target)}.old-${process.pid}`);
  try {
    await moveFolder(rendered, fresh);
    for (let tries = 1; ; tries += 1) {
      removeSite(aside);
      const replaces = await rename(target, aside).then(
        () => true,
        (error: NodeJS.ErrnoException) => {
          if (error.code !== "ENOENT") throw error;
          return false;
        },
      );
      try {
        await rename(fresh, target);
        break;
      } catch (error) {
        const isTaken = ["ENOTEMPTY", "EEXIST"].includes((error as NodeJS.ErrnoException).code ?? "");
        if (isTaken && tries < MOST_TRIES) continue;
        if (replaces && !isTaken) await rename(aside, target);
        throw error;
      }
    }
  } finally {
    removeSite(fresh);
  }
  if (held) held.later(() => removeSite(aside));
  else removeSite(aside);
}

/** Moves a folder, by copying where the target is on another disk. */
async function moveFolder(from: string, to: string): Promise<void> {
  try {
    await rename(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EXDEV") throw error;
    await cp(from, to, { recursive: true });
  }
}

/** Removes what interrupted builds have rendered. */
async function removeRenders(cache: string): Promise<void> {
  for (const name of await readdir(cache)) {
    const found = /^render-(\d+)-\d+$/.exec(name);
    if (found && !isRunning(Number(found[1]))) await rm(join(cache, name), { recursive: true, force: true });
  }
}
