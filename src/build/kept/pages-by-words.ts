/**
 * The pages of a service with one platform that an edit leaves as they are. What is in force and shown (parts, numbers,
 * dates, code) is in one key, which all pages share. What tells when it is read is not: the words of documents and the
 * bodies of those that stand in a file (`domain/parts/watched-words.ts`), proposals and findings
 * (`site/telling-force.ts`). Of these each page names what it has read (`domain/words/reads.ts`), and is rendered again
 * where one of them says something else.
 */
import { createHash } from "node:crypto";
import { resolve } from "node:path";
import { deserialize, serialize } from "node:v8";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import { watchedBodies, watchedWords, watchWords } from "../../domain/parts/watched-words.ts";
import type { Collection } from "../../schema/collection.ts";
import { assetsOf } from "../../site/assets.ts";
import { laterDays } from "../../site/records/ahead.ts";
import { openFindings } from "../../site/records/reviews.ts";
import type { Site } from "../../site/site.ts";
import { platformsOn } from "../../site/plans/changeovers.ts";
import { saidByName, TOLD } from "../../site/telling-force.ts";
import type { HeldSite } from "../held-site.ts";
import { type RenderedPage, type TakenPage, takenFrom } from "../render/rendered.ts";
import { type PageShelf, versionRunning } from "../shelf.ts";
import { digestOfAllButWords } from "./all-but-words.ts";
import { areAsTheyWere, sayAssets, type Sources, sourcesOf } from "./rests-on.ts";

/** Raised when what is kept is written otherwise. */
const FORM = 3;
/** The name on the shelf: no platform has it. */
const NAME = "";

/** A page as it is kept. */
interface KeptPage {
  /** The page's address; absent for another file. */
  readonly address?: string;
  /** What it has read of all that tells, by its names. */
  readonly reads: readonly string[];
  /** What it asks for, pressed. */
  readonly asked: Uint8Array;
  /** `RenderedPage.content`, pressed. */
  readonly packed: Uint8Array;
}

const pack = (value: unknown): Uint8Array => deflateRawSync(serialize(value), { level: 1 });
const unpack = (packed: Uint8Array): unknown => deserialize(inflateRawSync(packed));

/** What kept pages ask for, where this process has unpacked it before. */
const askedBy = new WeakMap<KeptPage, RenderedPage["asked"]>();

/** What is kept of a site. */
export interface KeptSite {
  /** What pictures are made from. */
  readonly sources: Sources;
  /** A hash of all that tells, by its names, when the pages were rendered. */
  readonly words: ReadonlyMap<string, string>;
  /** By the name of their file. */
  readonly pages: ReadonlyMap<string, KeptPage>;
}

/** Whether words serve: of several platforms each is kept as a whole, and its texts may not even be unpacked. */
const canTell = ({ platforms }: Collection): boolean => platforms.length === 1;

/**
 * The files as they were read, their words made to tell where that serves: to be called before anything is asked of
 * them.
 */
export function tellingWords(files: Collection): Collection {
  return canTell(files) ? watchWords(files) : files;
}

/** The pages that are at hand for one build, and those that it leaves to the next. */
export class PagesByWords {
  readonly #site: Site;
  readonly #shelf: PageShelf;
  readonly #key: string;
  readonly #words: KeptSite["words"];
  readonly #found: KeptSite["pages"];
  /** The part of the last build's pages that is at hand, from 0 to 1. */
  readonly share: number;
  readonly #held: HeldSite | undefined;
  readonly #keeping = new Map<string, KeptPage>();
  readonly #sources = new Set<string>();

  private constructor(
    site: Site,
    shelf: PageShelf,
    {
      key,
      words,
      kept,
      held,
    }: {
      readonly key: string;
      readonly words: KeptSite["words"];
      readonly kept: KeptSite | undefined;
      readonly held: HeldSite | undefined;
    },
  ) {
    this.#site = site;
    this.#shelf = shelf;
    this.#key = key;
    this.#words = words;
    this.#held = held;
    this.#found = kept ? findSame(kept, words) : new Map<string, never>();
    this.share = kept ? this.#found.size / Math.max(1, kept.pages.size) : 0;
  }

  /**
   * Looks for the pages of a site. `version`: of the code that pages are bundled from; `background`: of the background
   * pages that are bundled with it. `undefined` where the words of the files do not tell.
   */
  static async open(
    site: Site,
    shelf: PageShelf,
    {
      version,
      background,
      held,
    }: { readonly version: string; readonly background: string; readonly held?: HeldSite | undefined },
  ): Promise<PagesByWords | undefined> {
    const { files } = site.force,
      words = canTell(files) ? watchedWords(files) : new Map<string, never>();
    if (words.size === 0) return undefined;
    const parts: KeyParts = {
      form: FORM,
      code: [versionRunning(), version],
      background,
      folder: resolve(site.folder),
      today: site.today,
      structure: structureOf(site),
      assets: sayAssets(await assetsOf(site)),
    };
    const key = hashOf(JSON.stringify(parts)),
      kept = held?.pagesBy(key) ?? findIn(shelf, key);
    return new PagesByWords(site, shelf, {
      key,
      words: new Map([...[...words].map(([document, text]) => [document, hashOf(text)] as const), ...toldBy(site)]),
      kept: kept && (await areAsTheyWere(site, kept.sources)) ? kept : undefined,
      held,
    });
  }

  /** Whether a page is at hand, by the name of its file. */
  has(file: string): boolean {
    return this.#found.has(file);
  }

  /** A page that is at hand, and what it asks for; it is kept for the next build again. */
  pageOf(file: string): { readonly page: TakenPage; readonly asked: RenderedPage["asked"] } {
    const kept = this.#found.get(file)!,
      asked = askedBy.get(kept) ?? (unpack(kept.asked) as RenderedPage["asked"]);
    askedBy.set(kept, asked);
    this.#take(file, kept, asked);
    const content = () => {
      const content = unpack(kept.packed) as RenderedPage["content"];
      return content instanceof Uint8Array ? content : content.html;
    };
    const { address } = kept;
    return { page: { file, ...(address === undefined ? {} : { address }), content, same: kept }, asked };
  }

  /** Takes a page that was rendered for the next build. */
  keep(page: RenderedPage): TakenPage {
    const { file, content, reads, asked } = page,
      address = content instanceof Uint8Array ? {} : { address: content.address },
      kept: KeptPage = { ...address, reads: [...reads], asked: pack(asked), packed: pack(content) };
    askedBy.set(kept, asked);
    this.#take(file, kept, asked);
    return takenFrom(page, kept);
  }

  #take(file: string, kept: KeptPage, { photos }: RenderedPage["asked"]): void {
    for (const [, { photo }] of photos) this.#sources.add(photo);
    this.#keeping.set(file, kept);
  }

  /** Leaves what was taken to the next build, when it is the whole site. */
  async done(): Promise<void> {
    const sources = await sourcesOf(this.#site, this.#sources),
      kept: KeptSite = { sources, words: this.#words, pages: this.#keeping },
      put = () => this.#shelf.put(NAME, this.#key, serialize(kept));
    if (this.#held) this.#held.holdPages(this.#key, kept, put);
    else put();
  }
}

function findIn(shelf: PageShelf, key: string): KeptSite | undefined {
  const bytes = shelf.find(NAME, key);
  return bytes && (deserialize(bytes) as KeptSite);
}

/** The kept pages whose words are as they were. */
function findSame({ words: before, pages }: KeptSite, words: KeptSite["words"]): KeptSite["pages"] {
  // What is not said of a build is not known to be the same.
  const isSame = (name: string) => before.has(name) && before.get(name) === words.get(name);
  return new Map([...pages].filter(([, { reads }]) => reads.every(isSame)));
}

/** The parts of the key of a site's pages: all that they can rest on beside words, and the files of pictures. */
interface KeyParts {
  readonly form: number;
  /** The code that runs, and the code that the pages were bundled from. */
  readonly code: readonly string[];
  readonly background: string;
  readonly folder: string;
  readonly today: string;
  /** What is in force and shown, but for what tells. */
  readonly structure: string;
  /** Scripts, styles and fonts, under their names. */
  readonly assets: string;
}

/**
 * Which text of a document is in force, today and on later days, may be decided by its words: so it is said here, and
 * nobody is told that they were read for it.
 */
function structureOf(site: Site): string {
  return digestOfAllButWords(
    sitesOf(site).map((each) => {
      const { day, collection, shown, notIssued, filled } = each.force,
        platforms = new Set([collection, shown].flatMap((view) => view.platforms));
      return { day, collection, shown, notIssued, filled, ahead: [...platforms].map((one) => platformsOn(each, one)) };
    }),
  );
}

/** A digest of all that tells when it is asked for, by the name under which it tells. */
function toldBy(site: Site): readonly (readonly [string, string])[] {
  const said = saidByName(sitesOf(site).map(({ force }) => force));
  return [
    ...[...said].map(([name, value]) => [name, digestOfAllButWords(value)] as const),
    ...[...watchedBodies(site.force.files)].map(([name, body]) => [name, digestOfAllButWords(body)] as const),
    [TOLD.findings, hashOf(JSON.stringify(openFindings(site)))],
  ];
}

/** A site as it is now, and as it will be from each later day on which something else comes into force. */
const sitesOf = (site: Site): readonly Site[] => [site, ...laterDays(site).map(({ view }) => view)];

const hashOf = (text: string): string => createHash("sha256").update(text).digest("hex");
