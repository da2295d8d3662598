/** The values that one build gives its pages: the collection, the day, and what the pages leave behind for it. */
import { resolve } from "node:path";
import { tellingForce } from "./telling-force.ts";
import { type FirstQuestion, firstQuestionsOn } from "../domain/bands/doubts.ts";
import { type Force, forceOn } from "../domain/force/force.ts";
import type { Finding } from "../findings/finding.ts";
import { type Reads, tellRead } from "../domain/words/reads.ts";
import { lookup } from "../domain/parts/lookup.ts";
import type { Collection, Configuration, Platform } from "../schema/collection.ts";
import type { FindEntry } from "../domain/find/entry.ts";
import type { PhotoFile } from "./images.ts";

/**
 * One build of a site. A page finds it in `Astro.locals.site`, a list of paths is given it by `pathsOf`; functions of
 * this folder take it as their first argument. Components know nothing of it: they are given what they show.
 */
export interface Site {
  /** The project's own folder, where `src/` and `components/` are. */
  readonly root: string;
  /** Absolute path of the collection. */
  readonly folder: string;
  /** What is in force, and beside it the documents of which nothing is, each with its status. */
  readonly collection: Collection;
  /** The same from all sides: the files, what is in force and nothing else, the proposals. */
  readonly force: Force;
  /** The day of which the site says what is in force, `YYYY-MM-DD`: the day on which it is built, or one asked for. */
  readonly today: string;
  /** All platforms of the service, as far as the pages of another one may know them. */
  readonly heads: readonly PlatformHead[];
  /** The site as the pages of one platform are given it, by the platform's id (`ofPlatform`). */
  readonly ofPlatforms: Map<string, Site>;
  /** Platforms whose pages are at hand from an earlier build: they are not among the pages to be rendered. */
  atHand?: ReadonlySet<string>;
  /** What `check` found in it, if it was asked; the pages ask the rules themselves otherwise. */
  readonly findings?: readonly Finding[];
  /** Of the site of one platform: what is found in the platform's files. */
  readonly findingsOf?: () => readonly Finding[];
  /** Takes each page as soon as it is rendered: its address and what it says. Not there when Astro runs by itself. */
  meet?: (address: string, html: string) => Promise<void>;
  /** Class name -> declaration, for positions that no stylesheet can know beforehand. */
  readonly placed: Map<string, string>;
  /** File name -> content of stylesheets that belong to single pages. */
  readonly pageStyles: Map<string, string>;
  /** Address -> picture to be made. */
  readonly photos: Map<string, PhotoFile>;
  /** What search knows of every page beside its text, by address. */
  readonly pages: Map<string, FindEntry>;
  /** File of the background page that is being rendered: when its code fails, the author must know where. */
  rendering?: string | undefined;
}

/** What pages ask the build to make beside them, by name and address. */
type AskedMaps = Pick<Site, "placed" | "pageStyles" | "photos" | "pages">;

/** Asks the build for something, and tells that this page rests on it, also when it is handed out again from memory. */
export function askFor<Name extends keyof AskedMaps>(
  site: Site,
  name: Name,
  address: string,
  what: Parameters<AskedMaps[Name]["set"]>[1],
): void {
  (site[name] as Map<string, typeof what>).set(address, what);
  tellRead(ASKED + JSON.stringify([name, address]));
}

const ASKED = "asked ";

/** What was read for a page: the documents whose words it has read, and what it has asked of its site. */
export function sortReads(site: Site, reads: Reads): { readonly reads: Reads; readonly asked: AskedOfSite } {
  const asked: Record<keyof AskedMaps, [string, unknown][]> = { placed: [], pageStyles: [], photos: [], pages: [] },
    documents = new Set<string>();
  for (const read of reads)
    if (read.startsWith(ASKED)) {
      const [name, address] = JSON.parse(read.slice(ASKED.length)) as [keyof AskedMaps, string];
      asked[name].push([address, needed<unknown>(site[name].get(address), `${name} ${address}`)]);
    } else documents.add(read);
  return { reads: documents, asked: asked as unknown as AskedOfSite };
}

/** What pages ask to be made beside them. Plain data, which goes from thread to thread. */
export interface AskedOfSite {
  readonly placed: readonly (readonly [string, string])[];
  readonly pageStyles: readonly (readonly [string, string])[];
  readonly photos: readonly (readonly [string, PhotoFile])[];
  readonly pages: readonly (readonly [string, FindEntry])[];
}

/** A platform as the pages of another one know it. */
interface PlatformHead {
  readonly id: string;
  readonly name: string;
  readonly configurations: readonly { readonly id: string }[];
}

/** A site that nothing has been rendered of yet, over the files in `folder`, on the day `today` (`YYYY-MM-DD`). */
export function makeSite(folder: string, files: Collection, today: string, findings?: readonly Finding[]): Site {
  const force = tellingForce(forceOn(files, today));
  return {
    root: resolve(import.meta.dirname, "../.."),
    folder,
    collection: force.shown,
    force,
    today,
    heads: force.shown.platforms.map(({ id, name, configurations }) => ({
      id,
      name,
      configurations: configurations.map((configuration) => ({ id: configuration.id })),
    })),
    ofPlatforms: new Map(),
    ...(findings ? { findings } : {}),
    placed: new Map(),
    pageStyles: new Map(),
    photos: new Map(),
    pages: new Map(),
  };
}

/** The value, or an error that names what is missing (a programmer's mistake, not an author's). */
export function needed<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`The collection has no ${what}`);
  return value;
}

/** The platform of that id; throws if a page asks for one that isn't there. */
export function platformOf({ collection }: Site, id: string): Platform {
  return needed(
    collection.platforms.find((platform) => platform.id === id),
    `platform ${id}`,
  );
}

/** The configuration of that id; throws if a page asks for one that isn't there. */
export function configurationOn(platform: Platform, id: string): Configuration {
  return needed(lookup(platform).configurations.get(id), `configuration ${id}`);
}

/** A page for each platform. */
export function platformPages({ collection }: Site) {
  return collection.platforms.map(({ id }) => ({ params: { platform: id } }));
}

/** A page for each configuration, in force or not: `params` of addresses that name it `configuration` or `id`. */
export function configurationPages<Name extends string>(name: Name) {
  return ({ collection }: Site) =>
    collection.platforms.flatMap(({ id: platform, configurations }) =>
      configurations.map(({ id }) => ({ params: { platform, [name]: id } as Record<Name | "platform", string> })),
    );
}

/** Address of the page on which a weight is chosen: the home page, or the platform's own where there are several. */
export function chooserAddress({ heads }: Site, platform: Platform | undefined): string {
  return platform && heads.length > 1 ? `${platform.id}/` : "";
}

/** The questions of the service that come first on a platform (`firstQuestionsOn`). */
export function questionsFirst({ collection, heads }: Site, platform: Platform): readonly FirstQuestion[] {
  return firstQuestionsOn({ service: collection.service, platforms: heads }, platform);
}
