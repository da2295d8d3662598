/** The search index over the built pages, and the list of titles, codes and words that ranks and corrects queries. */
import { close, createIndex } from "pagefind";
import { isBehind } from "../../domain/find/behind.ts";
import type { FindEntry, FindPart } from "../../domain/find/entry.ts";
import { searchWords } from "../../domain/find/query-words.ts";
import type { AskedWords } from "../../domain/find/intent.ts";
import type { Service } from "../../schema/collection.ts";
import { forEachOf } from "../for-each-of.ts";
import type { Site } from "../site.ts";
import type { SiteFolder } from "../site-folder.ts";
import { wordsFor } from "../../words/words.ts";

/** Files of the index that the pages use; the library's own interfaces are left out. */
const USED =
  /^(pagefind\.js|pagefind-worker\.js|pagefind-entry\.json|wasm\.[\w-]+\.pagefind|pagefind\.[\w-]+\.pf_meta|(fragment|filter|index)\/.*)$/;

/** An index that grows by a page at a time. */
interface Search {
  /**
   * Takes a page of the site into the index, one after the other in the order of the calls; pages that search does not
   * find are let pass. Throws what an earlier page met.
   */
  readonly add: (address: string, html: string) => Promise<void>;
  /**
   * Writes `pagefind/`, `assets/find-list.js` and `assets/find-asks.js` into the site; answers with the number of pages
   * indexed. Throws if a page is missing.
   */
  readonly write: (folder: SiteFolder) => Promise<number>;
  /** Ends the other process; to be called at last, also after a failure. */
  readonly end: () => Promise<unknown>;
}

/** Pages on their way into the index at most, so that it works while pages are rendered and does not hold them all. */
const ON_THE_WAY = 16;

/**
 * Begins the index of a build; it is made in another process, while this one goes on. The same pages in the same order
 * give the same files.
 */
export async function beginSearch(site: Site): Promise<Search> {
  const { index, errors } = await createIndex({
    forceLanguage: site.collection.service.language.split("-")[0]!.toLowerCase(),
  });
  if (!index) throw new Error(`The search index could not be begun: ${errors.join("; ")}`);
  const known = new Map<string, number>(),
    added = new Set<string>(),
    waiting = new Set<Promise<void>>(),
    refused: string[] = [];
  const send = async (address: string, html: string) => {
    // Only what is searched is sent. Blanks between elements: the index reads `<b>Card</b><i>Code</i>` as one word.
    const { errors } = await index.addHTMLFile({
      url: address,
      content: `${html.slice(0, html.indexOf("<head>"))}${mainOf(html)}</html>`.replaceAll("><", "> <"),
    });
    if (errors.length) refused.push(`${address}: ${errors.join("; ")}`);
  };
  const add = async (address: string, html: string) => {
    if (!site.pages.has(address) || added.has(address)) return;
    added.add(address);
    const entry = site.pages.get(address)!;
    countWords(textOf(mainOf(html)), known, !isBehind(entry));
    // What is asked is in force, whatever else stands on the page.
    countWords((entry.asks ?? []).flatMap(([, question, , ...others]) => [question, ...others]).join(" "), known, true);
    // What an author has written as a whole page has no steps: its sections answer in their place.
    if (entry.kind === "Reading") site.pages.set(address, { ...entry, parts: sectionsOf(html) });
    const sent: Promise<void> = send(address, html)
      .catch((error: unknown) => {
        refused.push(`${address}: ${String(error)}`);
      })
      .finally(() => waiting.delete(sent));
    waiting.add(sent);
    if (waiting.size >= ON_THE_WAY) await Promise.race(waiting);
  };
  const write = async (folder: SiteFolder) => {
    await Promise.all(waiting);
    if (refused.length) throw new Error(`The search index refused ${refused[0]}`);
    const missing = [...site.pages.keys()].filter((address) => !added.has(address));
    if (missing.length)
      throw new Error(`Search is to find pages that were not built: ${missing.slice(0, 3).join(", ")}`);
    const files = (await index.getFiles()).files.filter(({ path }) => USED.test(path));
    await forEachOf(files, async ({ path, content }) => folder.write(`pagefind/${path}`, content));
    await folder.write("assets/find-list.js", listScript(site, known));
    await folder.write("assets/find-asks.js", asksScript(site));
    return site.pages.size;
  };
  return { add, write, end: close };
}

/** The page's own text, without what stands on every page: the only part that is marked to be found. */
function mainOf(html: string): string {
  const end = "</main>";
  return html.slice(html.indexOf("<main"), html.indexOf(end) + end.length);
}

/** The sections of a page: where each begins, its heading, and what is said in it. */
function sectionsOf(html: string): FindPart[] {
  const article = /<article\b[\s\S]*?<\/article>/.exec(html)?.[0] ?? "";
  return article.split(/(?=<h2\b)/).flatMap((section) => {
    const [head, id, title] = /^<h2\b[^>]*?\bid="([^"]+)"[^>]*>([\s\S]*?)<\/h2>/.exec(section) ?? [];
    return head === undefined ? [] : [[id!, textOf(title!), textOf(section.slice(head.length))] as const];
  });
}

/** What elements say: their text on one line. */
function textOf(html: string): string {
  return html
    .replace(/<(script|style)\b[\s\S]*?<\/\1>/g, " ")
    .replace(/<[^>]+>/g, " ")
    .replace(/&[#\w]+;/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

/** Counts the words of a text; those of pages that stand `front` of others alone add to a word's count. */
function countWords(text: string, known: Map<string, number>, front: boolean): void {
  for (const word of searchWords(text))
    if (word.length > 2 && !/\d/.test(word)) known.set(word, (known.get(word) ?? 0) + (front ? 1 : 0));
}

/** A classic script, so that a site opened from a folder can be searched by title, code and name too. */
function listScript(site: Site, known: ReadonlyMap<string, number>): string {
  const data = {
    pages: inOrder(site).map(({ asks: _, ...entry }) => entry),
    words: Object.fromEntries([...known].sort(([a], [b]) => (a < b ? -1 : 1))),
    otherNames: namesTyped(site.collection.service),
    asked: askedOf(site.collection.service),
  };
  return `globalThis.rerigFind=${asScript(data)};\n`;
}

/** What people ask of pages, by their addresses: a script of its own, which is read when the page is there. */
function asksScript(site: Site): string {
  const asks = inOrder(site).flatMap(({ address, asks }) => (asks ? [[address, asks] as const] : []));
  return `globalThis.rerigAsks=${asScript(Object.fromEntries(asks))};\n`;
}

const asScript = (data: object): string => JSON.stringify(data).replaceAll("<", "\\u003c");

const inOrder = (site: Site): FindEntry[] => [...site.pages.values()].sort((a, b) => (a.address < b.address ? -1 : 1));

/** What queries say of the things that they name; words for people only where those who are carried are patients. */
function askedOf(service: Service): AskedWords {
  const { intents } = wordsFor(service);
  return service.words?.patient ? { ...intents, people: "" } : intents;
}

/** What is typed for the service's own words: their other names, and what is only searched by. */
function namesTyped({ otherNames, searched = {} }: Service): Service["otherNames"] {
  const both = { ...otherNames };
  for (const [own, typed] of Object.entries(searched)) both[own] = [...(otherNames[own] ?? []), ...typed];
  return both;
}
