/**
 * The one way in which pages are made: the program's pages are bundled by Astro once for a process, and each address is
 * then rendered when it is asked for, from the collection as it is then.
 */
import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { cp, mkdir, readdir, readFile, rename, rm, stat } from "node:fs/promises";
import { join, relative, resolve, sep } from "node:path";
import { pathToFileURL } from "node:url";
import type { AstroIntegration, AstroPrerenderer } from "astro";
import { StaticPaths } from "astro/runtime/prerender/static-paths.js";
import { noteReadsWaiting } from "../../domain/words/reads.ts";
import { isOfPlatform } from "../../site/of-platform.ts";
import type { Site } from "../../site/site.ts";
import { renderFrom } from "../../site/under-way.ts";
import { ownModules } from "./own-modules.ts";
import { type BundleFacts, keepBundle, keyOfBundle, takeBundle } from "../kept/kept-bundle.ts";
import { bundleIn, type BundleShelf, versionOfPages } from "../shelf.ts";
import { type BundledApp, guarded, loadApp, PageRenderer, type RouteData, routesIn } from "./page-renderer.ts";
import type { RenderedBatch, WantedPage } from "./rendered.ts";

/** A page or another file that a site has, and how it is rendered. */
interface SitePath extends WantedPage {
  /** As links name it, from the site's root: `tern/procedures/seat/`, `issues.atom`; the home page is `""`. */
  readonly address: string;
}

/** What of Astro's own renderer is used beside its interface. */
interface OwnPrerenderer extends AstroPrerenderer {
  app: BundledApp;
}

/** What Astro has bundled, and the files of the collection that went into it. */
interface Bundle extends BundleFacts {
  readonly app: BundledApp;
  /** Holds what of a site is no page: the content of `public/`. */
  readonly folder: string;
  /** The version of the code that was bundled. */
  readonly version: string;
}

const PAGES = ".prerender";
/** Where the bundle is kept while Astro removes its own. */
const asideOf = (folder: string) => `${folder}.aside`;

/**
 * Renders pages of one site after another. Background pages are code: where one has changed, or came or went, the pages
 * are bundled anew; everything else is read from the site that is asked for. What is rendered is what a build writes,
 * byte for byte, but for what only the whole site knows: the names of its stylesheets (`PageKeeper`). The current
 * folder of the process is another while pages are bundled.
 */
export class PageMaker {
  readonly #folder: string;
  readonly #shelfOf: (readings: string) => BundleShelf;
  #bundle: Bundle | undefined;
  #bundles = 0;
  #site: Site | undefined;
  #renderer: PageRenderer | undefined;
  /** Of each of Astro's routes that was asked for, what it has in this site, by address. */
  #routes = new Map<RouteData, ReadonlyMap<string, SitePath>>();
  #last: Promise<unknown> = Promise.resolve();

  /**
   * `folder`: of its own and below the program's root, where bundled modules find the packages; `close` removes it.
   * `shelfOf`: where what was bundled with these background pages is kept for the next process.
   */
  constructor(folder: string, shelfOf: (readings: string) => BundleShelf = bundleIn) {
    this.#folder = folder;
    this.#shelfOf = shelfOf;
  }

  /**
   * Every page and file of a site, in the order in which a build renders them. Throws `AuthorFault` where the code of a
   * background page fails.
   */
  async paths(site: Site): Promise<readonly SitePath[]> {
    return this.#alone(async () => {
      await this.#turnTo(site);
      const all = new Map<string, SitePath>();
      for (const route of this.#routeList())
        for (const path of (await this.#routesOf(site, route)).values())
          // Of two pages at one address the first is shown, as Astro has it.
          if (!all.has(path.address)) all.set(path.address, path);
      return [...all.values()];
    });
  }

  /**
   * Renders the page or file at this address (as `SitePath` says it) from this site; `undefined` if there is none.
   * `site.meet` hears of pages. Throws `AuthorFault` where the code of a background page fails. Calls at the same time
   * wait for each other.
   */
  async render(site: Site, address: string): Promise<Uint8Array | undefined> {
    return this.#alone(async () => {
      await this.#turnTo(site);
      for (const routeData of this.#routeList().filter((each) => mayHave(each, address))) {
        const path = (await this.#routesOf(site, routeData)).get(address);
        if (path) return this.#renderer!.render(path);
      }
      return undefined;
    });
  }

  /** The version of the code that the pages of this site are bundled from. */
  async version(site: Site): Promise<string> {
    return this.#alone(async () => {
      await this.#turnTo(site);
      return this.#bundle!.version;
    });
  }

  /** The background pages that are bundled with the pages of this site: equal texts, equal pages. */
  async background(site: Site): Promise<string> {
    return this.#alone(async () => {
      await this.#turnTo(site);
      const { readings, files } = this.#bundle!;
      return JSON.stringify([readings, [...files]]);
    });
  }

  /** Renders some of the `paths` of a site, in this order. Throws as `render` does. */
  async renderBatch(site: Site, pages: readonly WantedPage[]): Promise<RenderedBatch> {
    return this.#alone(async () => {
      await this.#turnTo(site);
      return this.#renderer!.renderBatch(pages);
    });
  }

  /**
   * Address of the module that the pages of this site are bundled into, for a thread that renders some of them;
   * `undefined` if Astro has put scripts or styles of its own into pages, which only its own renderer knows of.
   */
  async shared(site: Site): Promise<string | undefined> {
    return this.#alone(async () => {
      await this.#turnTo(site);
      return addressOf(this.#bundle!);
    });
  }

  /** Copies what of every site is no page into a folder. */
  async copyRest(site: Site, folder: string): Promise<void> {
    await this.#alone(async () => {
      await this.#turnTo(site);
      const from = this.#bundle!.folder;
      await cp(from, folder, { recursive: true, filter: (name) => name !== join(from, PAGES) });
    });
  }

  /** Removes what was bundled; nothing can be rendered afterwards. */
  async close(): Promise<void> {
    await this.#last.catch(() => undefined);
    await rm(this.#folder, { recursive: true, force: true });
  }

  /** One after the other: Astro's modules know of one site at a time. */
  async #alone<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#last.catch(() => undefined).then(work);
    this.#last = mine;
    return mine;
  }

  async #turnTo(site: Site): Promise<void> {
    if (this.#site === site) return;
    this.#site = undefined;
    renderFrom(site);
    if (!this.#bundle || !(await isOf(this.#bundle, site))) await this.#bundleFor(site);
    this.#bundle!.app.routeCache.clearAll();
    this.#routes = new Map();
    this.#renderer = new PageRenderer(site, this.#bundle!.app);
    this.#site = site;
  }

  #routeList(): readonly RouteData[] {
    return routesIn(this.#bundle!.app);
  }

  /** What one route has in the site, by address; worked out once for a site, and no other route for it. */
  async #routesOf(site: Site, of: RouteData): Promise<ReadonlyMap<string, SitePath>> {
    const known = this.#routes.get(of);
    if (known) return known;
    const routes = new Map<string, SitePath>();
    const { result: listed, reads } = await noteReadsWaiting(async () =>
        guarded(site, async () => pathsOfRoute(this.#bundle!.app, of)),
      ),
      by = reads.size > 0 ? { listedBy: reads } : {};
    for (const { pathname, route } of listed) {
      const path = pathOf(pathname, route.type);
      const of = isOfPlatform(route.component) ? { of: path.address.slice(0, path.address.indexOf("/")) } : {};
      if (!routes.has(path.address)) routes.set(path.address, { ...path, component: route.component, ...of, ...by });
    }
    this.#routes.set(of, routes);
    return routes;
  }

  async #bundleFor(site: Site): Promise<void> {
    const old = this.#bundle;
    this.#bundle = undefined;
    const folder = join(this.#folder, String((this.#bundles += 1)));
    for (const old of [folder, asideOf(folder)]) await rm(old, { recursive: true, force: true });
    await mkdir(folder, { recursive: true });
    // Asked before bundling, which goes by them and may change the last.
    const began = Date.now(),
      version = versionOfPages(site.root),
      key = keyOfBundle(site.root, version),
      shelf = this.#shelfOf(readingsOf(site));
    const facts = await takeBundle(shelf, key, folder, async (each) => isOf(each, site)),
      entry = facts && (await entryIn(folder));
    if (facts && entry !== undefined) this.#bundle = { ...facts, app: await loadApp(entry), folder, version };
    else {
      this.#bundle = await guarded(site, async () => bundle(site, folder, version));
      if ((await addressOf(this.#bundle)) !== undefined && (await isAsItWas(this.#bundle, site, began)))
        keepBundle(shelf, key, folder, this.#bundle);
    }
    if (old) await rm(old.folder, { recursive: true, force: true });
  }
}

/**
 * Address of the module that the pages are bundled into; `undefined` if Astro has put scripts or styles of its own into
 * pages, which only its own renderer knows of.
 */
async function addressOf({ app, folder }: Pick<Bundle, "app" | "folder">): Promise<string | undefined> {
  if (app.getSettings().scripts.length > 0 || existsSync(join(folder, "_astro"))) return undefined;
  return entryIn(folder);
}

async function entryIn(folder: string): Promise<string | undefined> {
  const entry = (await readdir(join(folder, PAGES))).find((name) => /^prerender-entry\b.*\.mjs$/.test(name));
  return entry && pathToFileURL(join(folder, PAGES, entry)).href;
}

/** The paths of a single route: Astro lists those of all routes of its app, so it is shown an app that has no other. */
async function pathsOfRoute(app: BundledApp, routeData: RouteData) {
  const { routeCache, manifest } = app;
  const shown = {
    manifest: { ...manifest, routes: [{ routeData }] },
    routeCache,
    getComponentByRoute: (route: RouteData) => app.getComponentByRoute(route),
  } as unknown as ConstructorParameters<typeof StaticPaths>[0];
  return new StaticPaths(shown).getAll();
}

/** Whether a route may have that address, by its form alone. */
function mayHave({ pathname, pattern, type }: RouteData, address: string): boolean {
  if (pathname !== undefined) return pathOf(pathname, type).address === address;
  const bare = `/${address.replace(/\/$/, "")}`;
  return pattern.test(bare) || pattern.test(`${bare}/`);
}

function pathOf(pathname: string, type: string): Omit<SitePath, "component"> {
  const name = pathname.replace(/^\/+|\/+$/g, "");
  if (type === "endpoint")
    return { address: name, file: name, asked: /\.[^/]+$/.test(pathname) ? `/${name}` : `/${name}/` };
  if (name === "404") return { address: "404.html", file: "404.html", asked: "/404/" };
  return name === ""
    ? { address: "", file: "index.html", asked: "/" }
    : { address: `${name}/`, file: `${name}/index.html`, asked: `/${name}/` };
}

/** Lets Astro bundle the pages into a folder, and takes its renderer before it has rendered any. */
async function bundle(site: Site, folder: string, version: string): Promise<Bundle> {
  const files = new Map<string, string>(),
    aside = asideOf(folder),
    read: string[] = [];
  let prerenderer: AstroPrerenderer | undefined;
  const taker: AstroIntegration = {
    name: "rerig-pages",
    hooks: {
      "astro:config:setup": ({ updateConfig }) => {
        updateConfig({
          vite: {
            plugins: [
              {
                name: "rerig-files",
                buildEnd() {
                  for (const id of this.getModuleIds()) read.push(id.split("?")[0]!);
                },
              },
              ownModules(site.root),
            ],
          },
        });
      },
      "astro:build:start": ({ setPrerenderer }) => {
        setPrerenderer((own) => {
          prerenderer = own;
          return {
            name: "rerig",
            setup: async () => {
              // Astro removes the bundle when it has rendered the pages; modules are loaded from it till the end.
              await cp(join(folder, PAGES), aside, { recursive: true });
              await own.setup?.();
            },
            getStaticPaths: () => Promise.resolve([]),
            render: own.render.bind(own),
          };
        });
      },
    },
  };
  // Loaded where nothing is kept alone: the bundler is large.
  const { build: bundlePages } = await import("astro");
  // Astro puts its modules below the current folder, from where they must find the packages of this project.
  const cwd = process.cwd();
  process.chdir(site.root);
  try {
    await bundlePages({
      root: site.root,
      outDir: folder,
      logLevel: process.env["RERIG_DEBUG"] ? "error" : "silent",
      integrations: [taker],
    });
  } finally {
    process.chdir(cwd);
  }
  await rename(aside, join(folder, PAGES));
  const place = resolve(site.folder);
  for (const file of new Set(read))
    if (file.startsWith(place + sep)) files.set(relative(place, file), (await hashOf(file)) ?? "");
  const { app } = prerenderer as unknown as OwnPrerenderer,
    bound = (await isBoundToPlace(site, files)) ? { place } : {};
  return { app, folder, version, readings: readingsOf(site), files, ...bound };
}

/** The background pages by their names; empty where there is none: then what is bundled is the program alone. */
function readingsOf({ collection }: Site): string {
  const listed = collection.platforms.flatMap(({ readings }) =>
    readings.map(({ platform, id, file }) => [platform, id, file]),
  );
  return listed.length > 0 ? JSON.stringify(listed) : "";
}

/**
 * Whether a background page takes anything from another file: what that is depends on where the collection lies.
 * Nothing else that is bundled does; the name of a page's own file is in it, and nobody reads it.
 */
async function isBoundToPlace({ collection, folder }: Site, files: ReadonlyMap<string, string>): Promise<boolean> {
  const own = new Set(collection.platforms.flatMap(({ readings }) => readings.map(({ file }) => join(file))));
  if ([...files.keys()].some((file) => !own.has(file))) return true;
  const texts = await Promise.all([...own].map((file) => readFile(join(folder, file), "utf8")));
  // Where the word alone stands in a sentence, too: such a page is then bundled once more, and nothing is wrong.
  return texts.some((text) => /\bimport\b|^export\s*[{*]/m.test(text));
}

/** Whether the bundle is the one of that site. */
async function isOf(bundle: BundleFacts, site: Site): Promise<boolean> {
  const place = resolve(site.folder);
  if (bundle.readings !== readingsOf(site) || (bundle.place ?? place) !== place) return false;
  const hashes = await Promise.all(
    [...bundle.files].map(async ([file, hash]) => (await hashOf(join(place, file))) === hash),
  );
  return hashes.every(Boolean);
}

/**
 * Whether nothing that was bundled was written meanwhile: what is kept must not be found by bytes that came after it.
 */
async function isAsItWas({ version, files }: Bundle, { root, folder }: Site, began: number): Promise<boolean> {
  const changed = await Promise.all(
    [...files.keys()].map(async (file) => (await stat(join(folder, file))).ctimeMs),
  ).catch(() => [began]);
  return changed.every((at) => at < began) && versionOfPages(root) === version;
}

async function hashOf(file: string): Promise<string | undefined> {
  return readFile(file).then(
    (bytes) => createHash("sha256").update(bytes).digest("hex"),
    () => undefined,
  );
}
