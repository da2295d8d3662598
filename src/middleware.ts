/**
 * Gives every page the site that it belongs to, and hands the page to the build as soon as it is rendered, so that it
 * is indexed and looked through while Astro goes on.
 */
import type { MiddlewareHandler } from "astro";
import { isOfPlatform, ofPlatform } from "./site/of-platform.ts";
import { outOf } from "./site/out.ts";
import { siteUnderWay } from "./site/under-way.ts";
import { changeTexts, directionOf, isolateMeasures } from "./words/isolate.ts";
import { breakLongWords } from "./words/long-words.ts";
import { speakFor, wordsFor } from "./words/words.ts";

/** Astro's own name for what stands between a request and its page. */
export const onRequest: MiddlewareHandler = async ({ url, locals, routePattern, params }, next) => {
  const whole = siteUnderWay(),
    site = isOfPlatform(routePattern) ? ofPlatform(whole, params["platform"]!) : whole;
  whole.rendering = undefined;
  locals.site = site;
  locals.out = outOf(site);
  speakFor(site.collection.service);
  locals.words = wordsFor(site.collection.service);
  const response = await next();
  if (!response.headers.get("content-type")?.startsWith("text/html")) return response;
  const isFromRight = directionOf(site.collection.service.language) === "rtl";
  const html = changeTexts(await response.text(), (text) => breakLongWords(isFromRight ? isolateMeasures(text) : text));
  await whole.meet?.(url.pathname.slice(1), html);
  return new Response(html, response);
};
