/** What the page that finds answers from, read from a built site as the page reads it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { runInNewContext } from "node:vm";
import { type FindAsksGiven, type FindList, type FindListGiven, listFrom } from "../../src/domain/find/answer.ts";

/** What the two scripts of the site leave for the page. */
interface Left {
  readonly rerigFind: FindListGiven;
  readonly rerigAsks: FindAsksGiven;
}

/** The list of a built site with what people ask of its pages; throws where the site has none. */
export function readSiteList(site: string): FindList {
  const scripts = ["find-list.js", "find-asks.js"].map((name) => readFileSync(join(site, "assets", name), "utf8"));
  // As text: lists of another context are no lists of this one.
  const text = runInNewContext(`${scripts.join(";\n")};\nJSON.stringify({ rerigFind, rerigAsks })`) as string,
    { rerigFind, rerigAsks } = JSON.parse(text) as Left;
  return listFrom(rerigFind, rerigAsks);
}
