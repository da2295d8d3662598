/**
 * The one way in which pages are made: the program's pages are bundled by Astro once for a process, and each address is
 * then rendered when it is asked for, from the collection as it is then.
 */
import { createHash } from "node:crypto";
import { cp, mkdir, readFile, rename, rm } from "node:fs/promises";
import { join, resolve, sep } from "node:path";
import { type AstroIntegration, type AstroPrerenderer, build as bundlePages } from "astro";
import { pageFaultOf } from "../site/author-fault.ts";
import type { Site } from "../site/site.ts";
import { renderFrom } from "../site/under-way.ts";
import type { Reads } from "../domain/words/reads.ts";
import { ReadsOfSites } from "./what-is-read.ts";

/** A page or another file that a site has. */
interface SitePath {
  /** As links name it, from the site's root: `tern/procedures/seat/`, `issues.atom`; the home page is `""`. */
  readonly address: string;
  /** Name of its file in the built site. */
  readonly file: string;
}

/** Where the asked-for address can be rendered. */
interface Route extends SitePath {
  /** By which address Astro is asked for it. */
  readonly asked: string;
  readonly routeData: Parameters<AstroPrerenderer["render"]>[1]["routeData"];
}

type RouteData = Route["routeData"];

/** What pages of a site leave behind for the build. */
type Left = Pick<Site, "placed" | "pageStyles" | "photos" | "pages">;

/** A page as it was rendered, and what it rests on. */
interface KeptPage {
  readonly bytes: Uint8Array;
  /** As the site was told of it (`Site.meet`); not there for files that are no pages. */
  readonly met?: readonly [address: string, html: string];
  readonly left: Left;
  readonly reads: Reads;
}

/** The addresses of a route, and what they rest on. */
interface KeptList {
  readonly paths: readonly SitePath[];
  readonly reads: Reads;
}

/** What of Astro's own renderer is used beside its interface: whose paths it lists is what its `app` says. */
interface OwnPrerenderer extends AstroPrerenderer {
  app: {
    readonly manifest: { readonly routes: readonly { readonly routeData: RouteData }[] };
    readonly routeCache: { clearAll(): void };
    getComponentByRoute(route: RouteData): unknown;
  };
}

/** What Astro has bundled, and the files of the collection that went into it. */
interface Bundle {
  readonly prerenderer: OwnPrerenderer;
  /** Holds what of a site is no page: the content of `public/`. */
  readonly folder: string;
  /** The list of background pages, and the files that they are made of by the hash of their bytes. */
  readonly readings: string;
  readonly files: ReadonlyMap<string, string>;
}

const PAGES = ".prerender";
/** Where the bundle is kept while Astro removes its own. */
const asideOf = (folder: string) => `${folder}.aside`;

/**
 * Renders pages of one site after another. Background pages are code: where one has changed, or came or went, the pages
 * are bundled anew; everything else is read from the site that is asked for. What is rendered is what a build writes,
 * byte for byte, but for what only the whole site knows: the names of its stylesheets (`PageKeeper`). The current
 * folder of the process is another while pages are bundled.
 *
 * A maker that keeps pages gives a page again without rendering it while nothing has changed of all that was read for
 * it (`what-is-read.ts`). Bundling the pages anew forgets them all.
 */
export class PageMaker {
  readonly #folder: string;
  #bundle: Bundle | undefined;
  #bundles = 0;
  #site: Site | undefined;
  /** Of each of Astro's routes that was asked for, what it has in this site, by address. */
  #routes = new Map<RouteData, ReadonlyMap<string, Route>>();
  #last: Promise<unknown> = Promise.resolve();
  readonly #reads: ReadsOfSites | undefined;
  #pages = new Map<string, KeptPage>();
  #lists = new Map<RouteData, KeptList>();
  /** Addresses that were rendered for the site at hand, in that order; those that were kept are not among them. */
  rendered: string[] = [];
  /** What the page that is being rendered leaves behind, if pages are kept. */
  #left: Left = nothingLeft();
  #met: KeptPage["met"];

  /** `folder`: of its own and below the program's root, where bundled modules find the packages; `close` removes it. */
  constructor(folder: string, { keeps = false }: { readonly keeps?: boolean } = {}) {
    this.#folder = folder;
    this.#reads = keeps ? new ReadsOfSites() : undefined;
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
        for (const { address, file } of this.#lists.get(route)?.paths ?? (await this.#routesOf(site, route)).values())
          // Of two pages at one address the first is shown, as Astro has it.
          if (!all.has(address)) all.set(address, { address, file });
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
      const known = this.#pages.get(address);
      if (known) return this.#again(site, known);
      for (const routeData of this.#routeList().filter((each) => mayHave(each, address))) {
        const route = (await this.#routesOf(site, routeData)).get(address);
        if (route) return this.#reads ? this.#keep(site, route, this.#reads) : this.#renderRoute(site, route);
      }
      return undefined;
    });
  }

  /** Gives a page that was rendered before, with what it left behind. */
  async #again(site: Site, { bytes, met, left }: KeptPage): Promise<Uint8Array> {
    leave(left, site);
    if (met) await site.meet?.(...met);
    return bytes;
  }

  async #keep(site: Site, route: Route, watcher: ReadsOfSites): Promise<Uint8Array> {
    this.#left = nothingLeft();
    this.#met = undefined;
    const { result: bytes, reads } = await watcher.watch(
      async () => this.#renderRoute(site, route),
      this.#lists.get(route.routeData)?.reads,
    );
    const page = { bytes, left: this.#left, reads, ...(this.#met ? { met: this.#met } : {}) };
    this.#pages.set(route.address, page);
    return this.#again(site, page);
  }

  /** The site as pages are handed it whose reading is watched, and what they leave taken up. */
  #handOn(site: Site, watcher: ReadsOfSites): Site {
    const { root, folder, collection, force, today, findings } = site;
    const values = watcher.begin({ root, folder, collection, force, today, ...(findings ? { findings } : {}) });
    // The site is told when it has what the page left.
    const meet = (address: string, html: string) => {
      this.#met = [address, html];
      return Promise.resolve();
    };
    return new Proxy(site, {
      get: (_, key) => {
        if (key === "meet") return meet;
        if (key === "rendering") return site.rendering;
        return key in this.#left ? this.#left[key as keyof Left] : values[key as keyof typeof values];
      },
    });
  }

  /** What was read for a page that is kept. */
  readsOf(address: string): Reads | undefined {
    return this.#pages.get(address)?.reads;
  }

  /** Keeps none of the pages that it has rendered. */
  forget(): void {
    this.#pages.clear();
    this.#lists.clear();
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
    renderFrom(this.#reads ? this.#handOn(site, this.#reads) : site);
    if (this.#reads) {
      // At once: the next comparison knows nothing of this one.
      const same = this.#reads.unchanged([...this.#pages.values(), ...this.#lists.values()].map(({ reads }) => reads));
      for (const kept of [this.#pages, this.#lists])
        for (const [key, { reads }] of kept) if (!same.has(reads)) (kept as Map<unknown, unknown>).delete(key);
    }
    if (!this.#bundle || !(await isOf(this.#bundle, site))) {
      this.#pages.clear();
      this.#lists.clear();
      await this.#bundleFor(site);
    }
    this.#bundle!.prerenderer.app.routeCache.clearAll();
    this.#routes = new Map();
    this.rendered = [];
    this.#site = site;
  }

  #routeList(): readonly RouteData[] {
    const { routes } = this.#bundle!.prerenderer.app.manifest;
    return routes.map(({ routeData }) => routeData).filter(({ prerender }) => prerender);
  }

  /** What one route has in the site, by address; worked out once for a site, and no other route for it. */
  async #routesOf(site: Site, of: RouteData): Promise<ReadonlyMap<string, Route>> {
    const known = this.#routes.get(of);
    if (known) return known;
    const routes = new Map<string, Route>();
    const list = async () => guarded(site, async () => pathsOfRoute(this.#bundle!.prerenderer, of)),
      watched = await this.#reads?.watch(list);
    for (const { pathname, route } of watched?.result ?? (await list())) {
      const path = pathOf(pathname, route.type);
      if (!routes.has(path.address)) routes.set(path.address, { ...path, routeData: route });
    }
    this.#routes.set(of, routes);
    if (watched)
      this.#lists.set(of, {
        paths: [...routes.values()].map(({ address, file }) => ({ address, file })),
        reads: watched.reads,
      });
    return routes;
  }

  async #renderRoute(site: Site, { address, file, asked, routeData }: Route): Promise<Uint8Array> {
    this.rendered.push(address);
    const response = await guarded(site, async () => {
      const answer = await this.#bundle!.prerenderer.render(new Request(new URL(encodeURI(asked), ORIGIN)), {
        routeData,
      });
      return answer instanceof Response ? answer : answer.response;
    });
    if (response.status >= 300 && response.status < 400) throw new Error(`${file} leads elsewhere: that is no page`);
    return new Uint8Array(await response.arrayBuffer());
  }

  async #bundleFor(site: Site): Promise<void> {
    const old = this.#bundle;
    this.#bundle = undefined;
    const folder = join(this.#folder, String((this.#bundles += 1)));
    for (const old of [folder, asideOf(folder)]) await rm(old, { recursive: true, force: true });
    await mkdir(folder, { recursive: true });
    this.#bundle = await guarded(site, async () => bundle(site, folder));
    if (old) await rm(old.folder, { recursive: true, force: true });
  }
}

const nothingLeft = (): Left => ({ placed: new Map(), pageStyles: new Map(), photos: new Map(), pages: new Map() });

/** Gives to the site what a page left behind. */
function leave(left: Left, site: Site): void {
  for (const what of Object.keys(left) as (keyof Left)[])
    for (const [key, value] of left[what]) (site[what] as Map<string, unknown>).set(key, value);
}

/** Pages are told no other origin. */
const ORIGIN = "http://localhost:4321";

/** The paths of a single route: Astro lists those of all routes of its app, so it is shown an app that has no other. */
async function pathsOfRoute(own: OwnPrerenderer, routeData: RouteData) {
  const { app } = own,
    { routeCache, manifest } = app;
  own.app = {
    manifest: { ...manifest, routes: [{ routeData }] },
    routeCache,
    getComponentByRoute: (route) => app.getComponentByRoute(route),
  };
  try {
    return await own.getStaticPaths();
  } finally {
    own.app = app;
  }
}

/** Whether a route may have that address, by its form alone. */
function mayHave({ pathname, pattern, type }: RouteData, address: string): boolean {
  if (pathname !== undefined) return pathOf(pathname, type).address === address;
  const bare = `/${address.replace(/\/$/, "")}`;
  return pattern.test(bare) || pattern.test(`${bare}/`);
}

function pathOf(pathname: string, type: string): Omit<Route, "routeData"> {
  const name = pathname.replace(/^\/+|\/+$/g, "");
  if (type === "endpoint")
    return { address: name, file: name, asked: /\.[^/]+$/.test(pathname) ? `/${name}` : `/${name}/` };
  if (name === "404") return { address: "404.html", file: "404.html", asked: "/404/" };
  return name === ""
    ? { address: "", file: "index.html", asked: "/" }
    : { address: `${name}/`, file: `${name}/index.html`, asked: `/${name}/` };
}

/** Code in a background page that fails is the author's, and thrown as `AuthorFault`. */
async function guarded<T>(site: Site, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw pageFaultOf(error, site) ?? error;
  }
}

/** Lets Astro bundle the pages into a folder, and takes its renderer before it has rendered any. */
async function bundle(site: Site, folder: string): Promise<Bundle> {
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
  for (const file of new Set(read))
    if (file.startsWith(resolve(site.folder) + sep)) files.set(file, (await hashOf(file)) ?? "");
  return { prerenderer: prerenderer as Bundle["prerenderer"], folder, readings: readingsOf(site), files };
}

const readingsOf = ({ collection, folder }: Site): string =>
  JSON.stringify([
    resolve(folder),
    collection.platforms.flatMap(({ readings }) => readings.map(({ platform, id, file }) => [platform, id, file])),
  ]);

/** Whether the bundle is the one of that site. */
async function isOf(bundle: Bundle, site: Site): Promise<boolean> {
  if (bundle.readings !== readingsOf(site)) return false;
  const hashes = await Promise.all([...bundle.files].map(async ([file, hash]) => (await hashOf(file)) === hash));
  return hashes.every(Boolean);
}

async function hashOf(file: string): Promise<string | undefined> {
  return readFile(file).then(
    (bytes) => createHash("sha256").update(bytes).digest("hex"),
    () => undefined,
  );
}
