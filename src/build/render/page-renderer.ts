/** Renders addresses of one site from what Astro has bundled, in the process that builds and in threads beside it. */
import type { AstroPrerenderer } from "astro";
import { pageFaultOf } from "../../site/author-fault.ts";
import { ofPlatform } from "../../site/of-platform.ts";
import { type Site, sortReads } from "../../site/site.ts";
import { noteReadsWaiting } from "../../domain/words/reads.ts";
import { type RenderedBatch, type RenderedPage, type WantedPage, watchAsked } from "./rendered.ts";

/** A route of the program as Astro knows it. */
export type RouteData = Parameters<AstroPrerenderer["render"]>[1]["routeData"];

/** What of the program that Astro bundles is used beside its interface. */
export interface BundledApp {
  readonly manifest: { readonly routes: readonly { readonly routeData: RouteData }[] };
  readonly routeCache: { clearAll(): void };
  getComponentByRoute(route: RouteData): unknown;
  render(request: Request, options: { readonly routeData: RouteData }): Promise<Response>;
  getSettings(): { readonly scripts: readonly unknown[] };
  setInternals(internals: object): void;
  setOptions(options: object): void;
}

/** Pages are told no other origin. */
const ORIGIN = "http://localhost:4321";

/** Loads the bundled pages, with what Astro's build says of those that have no scripts and styles of its own. */
export async function loadApp(bundle: string): Promise<BundledApp> {
  const { app } = (await import(bundle)) as { readonly app: BundledApp };
  app.setInternals({ pagesByKeys: new Map(), entrySpecifierToBundleMap: new Map() });
  app.setOptions({ settings: { scripts: [] }, logger: { options: { destination: { write: () => true } } } });
  return app;
}

/** The routes of the bundle that have pages. */
export const routesIn = ({ manifest }: BundledApp): readonly RouteData[] =>
  manifest.routes.map(({ routeData }) => routeData).filter(({ prerender }) => prerender);

/** Renders pages of one site, one at a time. Whoever makes one says first that this site is under way. */
export class PageRenderer {
  readonly #site: Site;
  readonly #app: BundledApp;
  readonly #routes: ReadonlyMap<string, RouteData>;

  constructor(site: Site, app: BundledApp) {
    this.#site = site;
    this.#app = app;
    this.#routes = new Map(routesIn(app).map((route) => [route.component, route]));
  }

  /** The bytes of a page or file. Throws `AuthorFault` where the code of a background page fails. */
  async render({ file, asked, component }: WantedPage): Promise<Uint8Array> {
    const routeData = this.#routes.get(component);
    if (!routeData) throw new Error(`Nothing in the bundle is called ${component}`);
    const response = await guarded(this.#site, async () =>
      this.#app.render(new Request(new URL(encodeURI(asked), ORIGIN)), { routeData }),
    );
    if (response.status >= 300 && response.status < 400) throw new Error(`${file} leads elsewhere: that is no page`);
    return new Uint8Array(await response.arrayBuffer());
  }

  /** Pages in this order, all of one platform or none of any, with all that they ask for. Throws as `render` does. */
  async renderBatch(wanted: readonly WantedPage[]): Promise<RenderedBatch> {
    const asked = watchAsked(siteOf(this.#site, wanted[0]?.of)),
      pages: RenderedPage[] = [];
    let met: { address: string; html: string } | undefined;
    this.#site.meet = (address, html) => {
      met = { address, html };
      return Promise.resolve();
    };
    try {
      for (const each of wanted) {
        met = undefined;
        const { result, reads } = await noteReadsWaiting(async () => this.render(each));
        const all = each.listedBy ? new Set([...reads, ...each.listedBy]) : reads;
        pages.push({ file: each.file, content: met ?? result, ...sortReads(siteOf(this.#site, each.of), all) });
      }
    } finally {
      delete this.#site.meet;
    }
    return { pages, asked: asked() };
  }
}

/** The site that the pages of a platform are given; of none: the whole. */
export const siteOf = (whole: Site, of: string | undefined): Site => (of === undefined ? whole : ofPlatform(whole, of));

/** Code in a background page that fails is the author's, and thrown as `AuthorFault`. */
export async function guarded<T>(site: Site, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw pageFaultOf(error, site) ?? error;
  }
}
