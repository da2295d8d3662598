/**
 * A thread that renders pages of a site beside the process that builds it: from the same bundle, and from a copy of the
 * same collection, so that a page has the same bytes wherever it is rendered.
 */
import { isMainThread, parentPort, workerData } from "node:worker_threads";
import { keepOn } from "../../domain/words/keep.ts";
import type { Finding } from "../../findings/finding.ts";
import type { Collection } from "../../schema/collection.ts";
import { type Assets, knowAssets } from "../../site/assets.ts";
import { AuthorFault } from "../../site/author-fault.ts";
import { makeSite, type Site } from "../../site/site.ts";
import { renderFrom } from "../../site/under-way.ts";
import { speakFor } from "../../words/words.ts";
import { tellingWords } from "../kept/pages-by-words.ts";
import { loadApp, PageRenderer } from "./page-renderer.ts";
import type { RenderedBatch, WantedPage } from "./rendered.ts";
import { shelfIn } from "../shelf.ts";

/** What a thread is given when it begins. Plain data. */
export interface ThreadStart {
  readonly folder: string;
  readonly files: Collection;
  readonly today: string;
  readonly findings?: readonly Finding[];
}

/** What it is handed as its first message. */
export interface ThreadPages {
  /** Address of the module that Astro has bundled the pages into. */
  readonly bundle: string;
  readonly assets: Assets;
  /** `Site.atHand`. */
  readonly atHand?: ReadonlySet<string>;
}

/** What it answers when it is then sent a list of pages: these, or why not. */
export type ThreadAnswer = { readonly batch: RenderedBatch } | { readonly fault: Finding } | { readonly error: string };

if (!isMainThread && parentPort) {
  const port = parentPort,
    site = begin(workerData as ThreadStart);
  let renderer: Promise<PageRenderer>,
    last: Promise<unknown> = Promise.resolve();
  port.once("message", (given: ThreadPages) => {
    renderer = load(site, given);
    // What fails here is told with the first pages that are asked for.
    last = renderer.catch(() => undefined);
    port.on("message", (pages: readonly WantedPage[]) => {
      last = last.then(async () => port.postMessage(await answer(renderer, pages)));
    });
  });
}

function begin({ folder, files, today, findings }: ThreadStart): Site {
  keepOn(shelfIn());
  speakFor(files.service);
  return renderFrom(makeSite(folder, tellingWords(files), today, findings));
}

async function load(site: Site, { bundle, assets, atHand }: ThreadPages): Promise<PageRenderer> {
  if (atHand) site.atHand = atHand;
  knowAssets(site, assets);
  return new PageRenderer(site, await loadApp(bundle));
}

async function answer(renderer: Promise<PageRenderer>, pages: readonly WantedPage[]): Promise<ThreadAnswer> {
  try {
    return { batch: await (await renderer).renderBatch(pages) };
  } catch (error) {
    if (error instanceof AuthorFault) return { fault: error.finding };
    return { error: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}
