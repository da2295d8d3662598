/**
 * The pages of platforms of which nothing has changed since an earlier build: taken from the project's cache instead of
 * being rendered again. A page of a platform is given the site of that platform alone (`site/of-platform.ts`), so it
 * rests on what `keyOf` names, and on the pictures' files, which are compared by their bytes.
 */
import { createHash } from "node:crypto";
import { resolve } from "node:path";
import { deserialize, serialize } from "node:v8";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import type { Finding } from "../../findings/finding.ts";
import { readingOf } from "../../schema/platform-facts.ts";
import { type Assets, assetsOf } from "../../site/assets.ts";
import { besideIn, ofPlatform } from "../../site/of-platform.ts";
import { openFindings } from "../../site/records/reviews.ts";
import type { Site } from "../../site/site.ts";
import { askedSoFar, NOTHING_ASKED, type RenderedBatch, type RenderedPage } from "../render/rendered.ts";
import { type PageShelf, versionRunning } from "../shelf.ts";
import { areAsTheyWere, sayAssets, type Sources, sourcesOf } from "./rests-on.ts";

/** Raised when what is kept of pages is written otherwise. */
const FORM = 2;

/** What is kept of a platform. */
interface Kept {
  /** What its pictures are made from. */
  readonly sources: Sources;
  /** A `RenderedBatch`, pressed. */
  readonly packed: Uint8Array;
}

/** The pages that are at hand for one build, and those that it leaves to the next. */
export class KeptPages {
  readonly #site: Site;
  readonly #shelf: PageShelf;
  readonly #keys: ReadonlyMap<string, string>;
  readonly #found: ReadonlyMap<string, Uint8Array>;

  private constructor(
    site: Site,
    shelf: PageShelf,
    keys: ReadonlyMap<string, string>,
    found: ReadonlyMap<string, Uint8Array>,
  ) {
    this.#site = site;
    this.#shelf = shelf;
    this.#keys = keys;
    this.#found = found;
  }

  /**
   * Looks for the pages of each platform. `version`: of the code that pages are bundled from. Of a service with one
   * platform nothing is kept here, what changes there changes the platform: `pages-by-words.ts` keeps its pages.
   */
  static async open(site: Site, shelf: PageShelf, version: string): Promise<KeptPages> {
    const assets = await assetsOf(site),
      keys = new Map<string, string>(),
      found = new Map<string, Uint8Array>();
    for (const { id } of site.heads.length > 1 ? site.heads : []) {
      const key = keyOf(site, id, { version, assets });
      if (key === undefined) continue;
      keys.set(id, key);
      const packed = await findWhole(site, shelf.find(id, key));
      if (packed) found.set(id, packed);
    }
    return new KeptPages(site, shelf, keys, found);
  }

  /** The platforms whose pages are at hand. */
  get ids(): ReadonlySet<string> {
    return new Set(this.#found.keys());
  }

  /** All pages of a platform that is at hand, with what they ask for. */
  batchOf(id: string): RenderedBatch {
    return deserialize(inflateRawSync(this.#found.get(id)!)) as RenderedBatch;
  }

  /** Keeps all pages of a platform, in the order in which they were rendered, for the next build. */
  async keep(id: string, pages: readonly RenderedPage[]): Promise<void> {
    const key = this.#keys.get(id);
    if (key === undefined || this.#found.has(id)) return;
    const asked = askedSoFar(ofPlatform(this.#site, id)),
      sources = await sourcesOf(this.#site, new Set(asked.photos.map(([, { photo }]) => photo)));
    // What is kept of a whole platform is not asked page by page.
    const bare = pages.map(({ file, content }) => ({ file, content, reads: new Set<string>(), asked: NOTHING_ASKED })),
      batch: RenderedBatch = { pages: bare, asked },
      packed = deflateRawSync(serialize(batch), { level: 1 });
    this.#shelf.put(id, key, serialize({ sources, packed } satisfies Kept));
  }
}

/** The pages in a file of the shelf, if the pictures that they show are as they were. */
async function findWhole(site: Site, bytes: Uint8Array | undefined): Promise<Uint8Array | undefined> {
  if (!bytes) return undefined;
  const { sources, packed } = deserialize(bytes) as Kept;
  return (await areAsTheyWere(site, sources)) ? packed : undefined;
}

/** The parts of the key of a platform's pages: all that they can rest on beside the files of pictures. */
interface KeyParts {
  readonly form: number;
  /** The code that runs, and the code that the pages were bundled from. */
  readonly code: readonly string[];
  readonly folder: string;
  readonly platform: string;
  /** What the platform was read from. */
  readonly reading: string;
  /** All that stands beside the platforms. */
  readonly beside: string;
  readonly today: string;
  /** The other platforms, as far as a page may know them. */
  readonly heads: Site["heads"];
  /** What `check` finds in the platform's files. */
  readonly findings: readonly Finding[];
  /** Scripts, styles and fonts, under their names. */
  readonly assets: string;
}

/** `undefined` for a platform of which it is not known what it was read from: its pages are rendered each time. */
function keyOf(
  site: Site,
  id: string,
  { version, assets }: { readonly version: string; readonly assets: Assets },
): string | undefined {
  const reading = readingOf(site.force.files.platforms.find((platform) => platform.id === id)!);
  if (reading === undefined) return undefined;
  const parts: KeyParts = {
    form: FORM,
    code: [versionRunning(), version],
    folder: resolve(site.folder),
    platform: id,
    reading,
    beside: besideIn(site),
    today: site.today,
    heads: site.heads,
    findings: openFindings(ofPlatform(site, id)),
    assets: sayAssets(assets),
  };
  return createHash("sha256").update(JSON.stringify(parts)).digest("hex");
}
