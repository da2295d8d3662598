/**
 * The platform's questions as a classic script, so that practice also runs on pages opened from a folder, where nothing
 * can be fetched.
 */
import type { APIRoute } from "astro";
import { sentBank } from "../../../site/study/questions.ts";
import { collection, platformOf } from "../../../site/site.ts";

export function getStaticPaths() {
  return collection.platforms.map(({ id }) => ({ params: { platform: id } }));
}

export const GET: APIRoute = ({ params }) =>
  new Response(`globalThis.rerigBank=${JSON.stringify(sentBank(platformOf(params["platform"]!)))};\n`, {
    headers: { "content-type": "text/javascript; charset=utf-8" },
  });
