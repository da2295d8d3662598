/**
 * Hands every page to the build as soon as it is rendered, so that it is indexed and looked through while Astro goes
 * on.
 */
import type { MiddlewareHandler } from "astro";
import { currentJob } from "./site/job.ts";

/** Astro's own name for what stands between a request and its page. */
export const onRequest: MiddlewareHandler = async ({ url }, next) => {
  const response = await next(),
    { meet } = currentJob();
  if (!meet || !response.headers.get("content-type")?.startsWith("text/html")) return response;
  const html = await response.text();
  await meet(url.pathname.slice(1), html);
  return new Response(html, response);
};
