/**
 * The platform's questions as a classic script, so that practice also runs on pages opened from a folder, where nothing
 * can be fetched.
 */
import type { APIRoute } from "astro";
import { sentBank } from "../../../site/study/questions.ts";
import { platformOf, platformPages } from "../../../site/site.ts";
import { pathsOfEach } from "../../../site/under-way.ts";

export const getStaticPaths = pathsOfEach(platformPages);

export const GET: APIRoute = ({ params, locals: { site } }) =>
  new Response(`globalThis.rerigBank=${JSON.stringify(sentBank(site, platformOf(site, params["platform"]!)))};\n`, {
    headers: { "content-type": "text/javascript; charset=utf-8" },
  });
