/**
 * Gives every page the site that it belongs to, and hands the page to the build as soon as it is rendered, so that it
 * is indexed and looked through while Astro goes on.
 */
import type { MiddlewareHandler } from "astro";
import { outOf } from "./site/out.ts";
import { siteUnderWay } from "./site/under-way.ts";
import { directionOf, isolateInPage } from "./words/isolate.ts";
import { speakFor, wordsFor } from "./words/words.ts";

/** Astro's own name for what stands between a request and its page. */
export const onRequest: MiddlewareHandler = async ({ url, locals }, next) => {
  const site = siteUnderWay();
  locals.site = site;
  locals.out = outOf(site);
  speakFor(site.collection.service);
  locals.words = wordsFor(site.collection.service);
  const response = await next();
  const isFromRight = directionOf(site.collection.service.language) === "rtl";
  if (!response.headers.get("content-type")?.startsWith("text/html") || (!site.meet && !isFromRight)) return response;
  const said = await response.text(),
    html = isFromRight ? isolateInPage(said) : said;
  await site.meet?.(url.pathname.slice(1), html);
  return new Response(html, response);
};
