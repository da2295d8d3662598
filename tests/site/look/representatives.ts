/**
 * Which pages of a built site are looked at in a browser: those that between them show all that there is. Hundreds of
 * pages differ in their words alone; what a style sheet can spoil is an element with its classes and states within
 * another one, how wide a table is, how long a word, how long the page.
 */
import { readFile } from "node:fs/promises";
import { join } from "node:path";

/** All pages instead of the chosen ones: before a release (DEVELOPERS.md), and to compare the two. */
export const isEveryPageAsked = process.env["RERIG_EVERY"] === "1";

/** A page as it is chosen: by what it shows, each a text, and how many letters it has. */
export interface Shown {
  readonly address: string;
  readonly signatures: ReadonlySet<string>;
  readonly letters: number;
}

/** Elements that have no end (HTML, 13.1.2). */
const VOID = new Set(["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"]);
/** Attributes that style sheets of states and roles ask for. */
const STATES = /^(?:hidden|disabled|open|checked|required|readonly|type|role|aria-\w+|dir)$/;
/** Those of which each value may look different; of others it counts that they are there. */
const VALUED = /^(?:type|role|dir|aria-(?:hidden|current|pressed|expanded|selected|checked|disabled|live|sort))$/;

/** Name of an element: tag, classes (those with a number in them are places on a rail or in a grid), states. */
function nameOf(tag: string, attributes: string): string {
  let classes = "";
  const states: string[] = [];
  for (const [, name, , value = ""] of attributes.matchAll(/([^\s=/"']+)(\s*=\s*(?:"([^"]*)"|'[^']*'|[^\s"']+))?/g))
    if (name === "class")
      classes = value
        .split(/\s+/)
        .filter((each) => each && !/\d/.test(each))
        .sort()
        .map((each) => `.${each}`)
        .join("");
    else if (STATES.test(name!)) states.push(VALUED.test(name!) ? `${name}=${value}` : name!);
  return `${tag}${classes}${states.length ? `[${states.sort().join(",")}]` : ""}`;
}

/**
 * What a page shows: each element by its name, within the name of what it stands in; the columns of its tables; whether
 * there is a word as long as only some pages have. Scripts and what a browser does not show without them are left out.
 */
export function shownBy(address: string, html: string): Shown {
  const signatures = new Set<string>(),
    open: { readonly tag: string; readonly name: string; cells: number }[] = [],
    body = html.slice(html.indexOf("<body")).replace(/<(script|style)\b[^>]*>.*?<\/\1>/gs, "");
  for (const [, end, tag, attributes] of body.matchAll(/<(\/?)([a-z][\w-]*)((?:[^>"']|"[^"]*"|'[^']*')*)>/g)) {
    if (end) {
      const at = open.findLastIndex((each) => each.tag === tag);
      if (at < 0) continue;
      for (const { tag, cells } of open.splice(at)) if (tag === "tr") signatures.add(`a row of ${cells}`);
      continue;
    }
    const around = open.at(-1),
      name = nameOf(tag!, attributes!);
    if (around && /^t[dh]$/.test(tag!)) around.cells += 1;
    signatures.add(name).add(`${around?.name ?? ""} > ${name}`);
    if (!VOID.has(tag!) && !attributes!.endsWith("/")) open.push({ tag: tag!, name, cells: 0 });
  }
  const text = body.replace(/<[^>]*>/g, " "),
    longest = Math.max(0, ...[...text.matchAll(/[^\s\-–/]+/g)].map(([word]) => word.length));
  // By steps of four letters: where one of 14 fits, one of 15 does.
  signatures.add(`a word of ${Math.floor(longest / 4)}`);
  return { address, signatures, letters: text.replace(/\s+/g, " ").length };
}

/** Pages of a site, by their addresses, as they are chosen. */
export function readShown(site: string, addresses: readonly string[]): Promise<Shown[]> {
  return Promise.all(
    addresses.map(async (address) => {
      const file = address === "" || address.endsWith("/") ? join(address, "index.html") : address;
      return shownBy(address, await readFile(join(site, file), "utf8"));
    }),
  );
}

/**
 * Pages among which every signature is, each next one the page that shows most of what none before shows (the shorter
 * one where two show as much). What `known` has needs no page.
 */
export function coverOf(pages: readonly Shown[], known: Iterable<string> = []): Shown[] {
  const seen = new Set(known),
    chosen: Shown[] = [],
    // What a page would add only falls, so a page is counted anew when it comes to the top.
    waiting = pages.map((page) => ({ page, adds: page.signatures.size }));
  const order = (a: (typeof waiting)[number], b: (typeof waiting)[number]) =>
    b.adds - a.adds || a.page.letters - b.page.letters || (a.page.address < b.page.address ? -1 : 1);
  while (waiting.length > 0) {
    waiting.sort(order);
    const next = waiting[0]!;
    const adds = [...next.page.signatures].filter((each) => !seen.has(each)).length;
    if (adds === next.adds || waiting.length === 1) {
      if (adds === 0) break;
      chosen.push(next.page);
      for (const each of next.page.signatures) seen.add(each);
      waiting.shift();
    } else next.adds = adds;
  }
  return chosen;
}

/** The pages of a site that are looked at. */
export interface Chosen {
  /** Of each kind the page that shows most, and all pages where all are asked for. */
  readonly ofKinds: readonly (readonly [kind: string, address: string])[];
  /** Pages that show what none of those does. */
  readonly others: readonly string[];
  /** How many signatures there are, and how many of them are on the pages of each kind. */
  readonly signatures: number;
  readonly onKinds: number;
}

/** Chooses among the pages of a site, by kind (`pagesByKind`). */
export async function choosePages(site: string, kinds: ReadonlyMap<string, readonly string[]>): Promise<Chosen> {
  const shown = await Promise.all(
    [...kinds].map(async ([kind, addresses]) => [kind, await readShown(site, addresses)] as const),
  );
  const all = shown.flatMap(([, pages]) => pages),
    signatures = new Set(all.flatMap((page) => [...page.signatures])).size;
  if (isEveryPageAsked) {
    const ofKinds = shown.flatMap(([kind, pages]) => pages.map(({ address }) => [kind, address] as const));
    return { ofKinds, others: [], signatures, onKinds: signatures };
  }
  const richest = shown.map(
    ([kind, pages]) =>
      [kind, pages.toSorted((a, b) => b.signatures.size - a.signatures.size || a.letters - b.letters)[0]!] as const,
  );
  const known = new Set(richest.flatMap(([, page]) => [...page.signatures]));
  return {
    ofKinds: richest.map(([kind, { address }]) => [kind, address]),
    others: coverOf(all, known).map(({ address }) => address),
    signatures,
    onKinds: known.size,
  };
}
