/** The search index over the built pages, and the list of titles, codes and words that ranks and corrects queries. */
import { isBehind } from "../../domain/find/behind.ts";
import type { FindEntry, FindPart } from "../../domain/find/entry.ts";
import { searchWords } from "../../domain/find/query-words.ts";
import type { AskedWords } from "../../domain/find/intent.ts";
import type { Service } from "../../schema/collection.ts";
import { forEachOf } from "../for-each-of.ts";
import type { Site } from "../site.ts";
import type { SiteFolder } from "../site-folder.ts";
import type { HeldIndex } from "./held-index.ts";
import { wordsFor } from "../../words/words.ts";

/** Files of the index that the pages use; the library's own interfaces are left out. */
const USED =
  /^(pagefind\.js|pagefind-worker\.js|pagefind-entry\.json|wasm\.[\w-]+\.pagefind|pagefind\.[\w-]+\.pf_meta|(fragment|filter|index)\/.*)$/;

/** A page as search is given it. */
interface FoundPage {
  readonly address: string;
  readonly html: () => string;
  /** As `TakenPage.same`: what is worked out of the page is known by it. */
  readonly same?: object | undefined;
}

/** The search of a site, which grows by a page at a time. */
interface Search {
  /**
   * Takes a page of the site into the index, one after the other in the order of the calls; pages that search does not
   * find are let pass. Throws what an earlier page met.
   */
  readonly add: (page: FoundPage) => Promise<void>;
  /**
   * Writes `pagefind/`, `assets/find-list.js` and `assets/find-asks.js` into the site; answers with the number of pages
   * indexed. Throws if a page is missing.
   */
  readonly write: (folder: SiteFolder) => Promise<number>;
}

/** What search has worked out of a page. */
interface OfPage {
  /** How often which word stands on it. */
  readonly words: ReadonlyMap<string, number>;
  readonly sections: readonly FindPart[];
}

const ofPages = new WeakMap<object, OfPage>();

/**
 * Begins the search of a build; its index is made in another process, while this one goes on, from what `held` has of
 * the site before, if anything. The same pages in the same order give the same files.
 */
export async function beginSearch(site: Site, held: HeldIndex): Promise<Search> {
  const index = await held.begin(site.collection.service.language.split("-")[0]!.toLowerCase()),
    known = new Map<string, number>(),
    added = new Set<string>();
  const add = async ({ address, html, same }: FoundPage) => {
    const entry = site.pages.get(address);
    if (!entry || added.has(address)) return;
    added.add(address);
    const { words, sections } = (same && ofPages.get(same)) ?? readPage(html(), entry);
    if (same) ofPages.set(same, { words, sections });
    for (const [word, count] of words) addWord(known, word, isBehind(entry) ? 0 : count);
    // What is asked is in force, whatever else stands on the page.
    const asked = (entry.asks ?? []).flatMap(([, question, , ...others]) => [question, ...others]);
    for (const [word, count] of countWords(asked.join(" "))) addWord(known, word, count);
    // What an author has written as a whole page has no steps: its sections answer in their place.
    if (entry.kind === "Reading") site.pages.set(address, { ...entry, parts: sections });
    await index.add({ address, content: () => searchedIn(html()), same });
  };
  const write = async (folder: SiteFolder) => {
    const all = await index.files();
    const missing = [...site.pages.keys()].filter((address) => !added.has(address));
    if (missing.length)
      throw new Error(`Search is to find pages that were not built: ${missing.slice(0, 3).join(", ")}`);
    await forEachOf(
      all.filter(({ path }) => USED.test(path)),
      async (file) => folder.writeAs(`pagefind/${file.path}`, [file], () => file.content),
    );
    await folder.write("assets/find-list.js", listScript(site, known));
    await folder.write("assets/find-asks.js", asksScript(site));
    return site.pages.size;
  };
  return { add, write };
}

const readPage = (html: string, { kind }: FindEntry): OfPage => ({
  words: countWords(textOf(mainOf(html))),
  sections: kind === "Reading" ? sectionsOf(html) : [],
});

/** What of a page is searched. Blanks between elements: the index reads `<b>Card</b><i>Code</i>` as one word. */
const searchedIn = (html: string): string =>
  `${html.slice(0, html.indexOf("<head>"))}${mainOf(html)}</html>`.replaceAll("><", "> <");

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

/** How often each word stands in a text. */
function countWords(text: string): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const word of searchWords(text)) if (word.length > 2 && !/\d/.test(word)) addWord(counts, word, 1);
  return counts;
}

/** Adds to the count of a word; those of pages that stand `front` of others alone add to it, others make it known. */
function addWord(counts: Map<string, number>, word: string, count: number): void {
  counts.set(word, (counts.get(word) ?? 0) + count);
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
