/** Writes each file of `data/`. */
import type { APIRoute } from "astro";
import { dataFiles } from "../../build/data.ts";
import { once } from "../../site/job.ts";

/** One route for each file. */
export function getStaticPaths() {
  return [...once("data", dataFiles)].map(([file, content]) => ({ params: { file }, props: { content } }));
}

/** The file as JSON. */
export const GET: APIRoute = ({ props }) => new Response(JSON.stringify(props["content"], null, 1));
