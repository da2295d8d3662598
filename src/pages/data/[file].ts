/** Writes each file of `data/`. */
import { plainJson } from "../../domain/numbers/plain-json.ts";
import type { APIRoute } from "astro";
import { dataFiles } from "../../build/data.ts";
import { pathsOf } from "../../site/under-way.ts";

/** One route for each file. */
export const getStaticPaths = pathsOf((site) =>
  [...dataFiles(site)].map(([file, content]) => ({ params: { file }, props: { content } })),
);

/** The file as JSON. */
export const GET: APIRoute = ({ props }) => new Response(plainJson((props["content"] as () => unknown)(), 1));
