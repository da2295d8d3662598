/**
 * All pages of a site, in the same order each time, rendered by this process and by threads beside it: each takes the
 * next few pages when it has time.
 */
import { Worker } from "node:worker_threads";
import { factsOf } from "../../schema/platform-facts.ts";
import { assetsOf } from "../../site/assets.ts";
import { AuthorFault } from "../../site/author-fault.ts";
import type { Site } from "../../site/site.ts";
import type { HeldSite } from "../held-site.ts";
import { KeptPages } from "../kept/kept-pages.ts";
import { PagesByWords } from "../kept/pages-by-words.ts";
import type { PageMaker } from "./page-maker.ts";
import type { PageShelf } from "../shelf.ts";
import { siteOf } from "./page-renderer.ts";
import type { ThreadAnswer, ThreadPages, ThreadStart } from "./page-thread.ts";
import { workersAtMost } from "../workers.ts";
import {
  giveAsked,
  NOTHING_ASKED,
  type RenderedBatch,
  type RenderedPage,
  type TakenPage,
  takenFrom,
  type WantedPage,
} from "./rendered.ts";

/** Threads cost memory: each has a copy of the collection. */
const MOST_WORKERS = 4;
/** Batches that wait for an earlier one at most. */
const MOST_AHEAD = 24;
/** Pages of fewer procedures than this for each are rendered sooner than another thread has begun. */
const WORTH_A_THREAD = 20;
/** Pages that are taken at a time: so few that all end at about the same time, so many that little is said. */
const AT_A_TIME = 24;

/** How many render at the same time, this process among them. `share`: of the other pages that are at hand. */
function workersFor({ collection, atHand }: Site, share: number): number {
  const procedures = collection.platforms
    .filter(({ id }) => !atHand?.has(id))
    .reduce((sum, platform) => sum + factsOf(platform).counts.procedures * (1 - share), 0);
  return workersAtMost(Math.min(MOST_WORKERS, Math.floor(procedures / WORTH_A_THREAD)));
}

/**
 * Renders every page and file of a site; `take` gets each in the order of `inOrder`, one after the other, and what
 * pages ask for is then in the site. The bytes are the same whatever the number of workers. `held`: what this process
 * has of the site that it made before. Throws what the first page met that could not be rendered.
 */
export async function renderPages(
  site: Site,
  {
    maker,
    kept: shelf,
    held,
  }: { readonly maker: PageMaker; readonly kept: PageShelf; readonly held?: HeldSite | undefined },
  take: (page: TakenPage) => Promise<void>,
) {
  const version = await maker.version(site),
    kept = await KeptPages.open(site, shelf, version),
    single = await PagesByWords.open(site, shelf, { version, background: await maker.background(site), held });
  site.atHand = kept.ids;
  const threads = beginThreads(site, workersFor(site, single?.share ?? 0) - 1);
  try {
    const batches = inOrder(site, await maker.paths(site), single);
    const bundle = threads.length > 0 ? await maker.shared(site) : undefined;
    if (bundle !== undefined) {
      const assets = await assetsOf(site);
      for (const thread of threads) thread.take({ bundle, assets, atHand: kept.ids });
    }
    await renderBatches(site, { batches, kept, single }, take, [
      async (wanted) => maker.renderBatch(site, wanted),
      // The next pages of a thread are there when it has ended the last.
      ...(bundle === undefined ? [] : [...threads, ...threads].map(({ render }) => render)),
    ]);
  } finally {
    await Promise.all(threads.map(async (thread) => thread.end()));
  }
}

/** What is at hand of earlier builds: by platform, and page by page. */
interface Kept {
  readonly kept: KeptPages;
  readonly single: PagesByWords | undefined;
}

type Render = (wanted: readonly WantedPage[]) => Promise<RenderedBatch>;

/** Pages that are taken in one go, and the platform that they are of. */
interface Batch {
  readonly of: string | undefined;
  /** Their files; `undefined` where the platform is at hand as a whole. */
  readonly files: readonly string[] | undefined;
  /** Those among them that are to be rendered. */
  readonly wanted: readonly WantedPage[];
}

async function renderBatches(
  site: Site,
  { batches, kept, single }: Kept & { readonly batches: readonly Batch[] },
  take: (page: TakenPage) => Promise<void>,
  renders: readonly Render[],
): Promise<void> {
  const turns = new Turns(batches.length);
  const works = renders.map(async (render) => {
    for (let at = await turns.next(); at !== undefined; at = await turns.next())
      if (batches[at]!.wanted.length > 0) await turns.begin(at, render(batches[at]!.wanted));
      // What is at hand is unpacked when it is its turn.
      else await turns.begin(at, Promise.resolve({ pages: [], asked: NOTHING_ASKED }));
  });
  try {
    let ofPlatform: RenderedPage[] = [];
    for (const [at, { of, files }] of batches.entries()) {
      const rendered = await turns.take(at),
        { pages, asked } = files ? rendered : kept.batchOf(of!);
      giveAsked(siteOf(site, of), asked);
      const made = new Map(pages.map((page) => [page.file, page]));
      for (const file of files ?? made.keys()) {
        const page = made.get(file);
        if (page) await take(single?.keep(page) ?? takenFrom(page));
        else {
          const { page, asked } = single!.pageOf(file);
          giveAsked(siteOf(site, of), asked);
          await take(page);
        }
      }
      if (of === undefined || single) continue;
      ofPlatform.push(...pages);
      if (batches[at + 1]?.of === of) continue;
      await kept.keep(of, ofPlatform);
      ofPlatform = [];
    }
    await single?.done();
  } finally {
    turns.stop();
    // A thread that is in the middle of pages is not waited for.
    await works[0];
  }
}

/** Batches that are rendered in any order, and taken in theirs. */
class Turns {
  readonly #count: number;
  #next = 0;
  #taken = 0;
  readonly #begun = new Map<number, Promise<RenderedBatch>>();
  #tell: (() => void)[] = [];

  constructor(count: number) {
    this.#count = count;
  }

  /** Which batch is to be rendered next; `undefined` when there is none. */
  async next(): Promise<number | undefined> {
    while (this.#next - this.#taken >= MOST_AHEAD && this.#next < this.#count) await this.#somethingElse();
    return this.#next < this.#count ? (this.#next += 1) - 1 : undefined;
  }

  /** Says that a batch is being rendered; waits for it. After one that fails no other is begun. */
  async begin(at: number, rendering: Promise<RenderedBatch>): Promise<void> {
    this.#begun.set(at, rendering);
    this.#isElse();
    await rendering.catch(() => {
      this.stop();
    });
  }

  /** A batch, when it is rendered. Throws what it met. */
  async take(at: number): Promise<RenderedBatch> {
    while (!this.#begun.has(at)) await this.#somethingElse();
    const batch = await this.#begun.get(at)!;
    this.#begun.delete(at);
    this.#taken += 1;
    this.#isElse();
    return batch;
  }

  stop(): void {
    this.#next = this.#count;
    this.#isElse();
  }

  async #somethingElse(): Promise<void> {
    await new Promise<void>((resolve) => this.#tell.push(resolve));
  }

  #isElse(): void {
    const told = this.#tell;
    this.#tell = [];
    for (const each of told) each();
  }
}

/** What rests on more than one platform first, then platform by platform: who renders one knows the rest of it. */
function inOrder(
  { heads, atHand }: Site,
  paths: readonly WantedPage[],
  single: PagesByWords | undefined,
): readonly Batch[] {
  const groups = Map.groupBy(paths, ({ of }) => of);
  return [undefined, ...heads.map(({ id }) => id)].flatMap((of): Batch[] => {
    if (of !== undefined && atHand?.has(of)) return [{ of, files: undefined, wanted: [] }];
    const all = groups.get(of) ?? [];
    return Array.from({ length: Math.ceil(all.length / AT_A_TIME) }, (_, at) => {
      const some = all.slice(at * AT_A_TIME, (at + 1) * AT_A_TIME);
      return { of, files: some.map(({ file }) => file), wanted: some.filter(({ file }) => !single?.has(file)) };
    });
  });
}

interface PageThread {
  /** Hands it the bundled pages, before any is asked for. */
  readonly take: (given: ThreadPages) => void;
  readonly render: Render;
  readonly end: () => Promise<unknown>;
}

/** Threads that read what they need of the collection while the pages are bundled here. */
function beginThreads(site: Site, count: number): readonly PageThread[] {
  if (count <= 0) return [];
  const { folder, force, today, findings } = site,
    start: ThreadStart = { folder, files: force.files, today, ...(findings ? { findings } : {}) };
  return Array.from({ length: count }, () => beginThread(start));
}

function beginThread(start: ThreadStart): PageThread {
  const worker = new Worker(new URL("./page-thread.ts", import.meta.url), { workerData: start }),
    asked: ((answer: ThreadAnswer) => void)[] = [];
  let ended: Error | undefined;
  const end = (error: Error) => {
    ended ??= error;
    for (const tell of asked.splice(0)) tell({ error: ended.stack ?? ended.message });
  };
  // A thread answers in the order in which it is asked.
  worker.on("message", (answer: ThreadAnswer) => asked.shift()!(answer));
  worker.on("error", (error) => {
    end(error instanceof Error ? error : new Error(String(error)));
  });
  worker.on("exit", (code) => {
    end(new Error(`A thread that renders pages ended with ${code}`));
  });
  return {
    take: (given) => {
      worker.postMessage(given);
    },
    render: async (wanted) => {
      if (ended) throw ended;
      const said = await new Promise<ThreadAnswer>((resolve) => {
        asked.push(resolve);
        worker.postMessage(wanted);
      });
      if ("batch" in said) return said.batch;
      if ("fault" in said) throw new AuthorFault(said.fault);
      throw new Error(said.error);
    },
    end: async () => worker.terminate(),
  };
}
