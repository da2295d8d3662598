/**
 * The build that is under way, where Astro leaves no other way to hand it over: it calls `getStaticPaths` and plugins
 * without any value of ours. Only the middleware, `pathsOf` and the plugin of background pages ask here; pages get the
 * site as a value.
 */
import { resultOf, noteReads, withoutTelling } from "../domain/words/reads.ts";
import { onceInProcess } from "../schema/once-in-process.ts";
import { ofPlatform } from "./of-platform.ts";
import type { Site } from "./site.ts";

const now = onceInProcess<{ site?: Site }>("site", () => ({}));

/** Makes this the site whose pages are rendered from now on; an earlier one is forgotten. */
export function renderFrom(site: Site): Site {
  now.site = site;
  return site;
}

/** Whether a build is under way. */
export function isUnderWay(): boolean {
  return now.site !== undefined;
}

/** The site whose pages are rendered; throws if no build is under way. */
export function siteUnderWay(): Site {
  const { site } = now;
  if (!site)
    throw new Error(
      "No build is under way: pages are rendered through `buildSite` or `astro` with this project's astro.config.mjs",
    );
  return site;
}

/**
 * `getStaticPaths` of a page: the list that `work` makes of the site. Astro calls it without a request, so that there
 * are no `Astro.locals` yet.
 *
 * Example: `export const getStaticPaths = pathsOf(({ collection }) => collection.platforms.map(({ id }) => …))`.
 */
export function pathsOf<Path>(work: (site: Site) => Path[]): () => Path[] {
  return () => listed(() => work(siteUnderWay()));
}

/**
 * `getStaticPaths` of a page of one platform: the lists that `work` makes of the site of each platform alone
 * (`ofPlatform`), so that what it hands to the page rests on nothing else.
 */
export function pathsOfEach<Path>(work: (site: Site) => Path[]): () => Path[] {
  return () => {
    const whole = siteUnderWay();
    return listed(() =>
      whole.heads.filter(({ id }) => !whole.atHand?.has(id)).flatMap(({ id }) => work(ofPlatform(whole, id))),
    );
  };
}

/**
 * A page rests on the list that it stands in where the list hands it something; else on its address alone, and then
 * nobody is told what was read for the list.
 */
function listed<Path>(work: () => Path[]): Path[] {
  const told = withoutTelling(() => noteReads(work));
  return told.result.some((path) => typeof path === "object" && path !== null && "props" in path)
    ? resultOf(told)
    : told.result;
}
