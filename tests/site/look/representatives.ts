/**
 * Which pages of a built site are looked at in a browser: those that between them show all that there is. Hundreds of
 * pages differ in their words alone; what a style sheet can spoil is an element with its classes and states within
 * another one, how wide a table is, how long a word, how long the page. Of classes and states each two that stand
 * together count, and of more those that a style sheet names together: a step that is critical, revised and the second
 * member's is met as critical and revised, critical and the second's, revised and the second's. As tests of
 * combinations have it (NIST SP 800-142, 2.1): what goes wrong rests nearly always on one value or on two together.
 */
import { readFile, readdir } from "node:fs/promises";
import { join } from "node:path";
import { pagesByKind } from "./page-kinds.ts";

/** All pages instead of the chosen ones: before a release (DEVELOPERS.md), and to compare the two. */
export const isEveryPageAsked = process.env["RERIG_EVERY"] === "1";

/** A page as it is chosen: by what it shows, each a text, and how many elements it has. */
export interface Shown {
  readonly address: string;
  readonly signatures: ReadonlySet<string>;
  /** Of each sort of element whether it holds none, one, or more: what a collection with less of everything shows. */
  readonly fullness: ReadonlySet<string>;
  readonly elements: number;
}

/** Elements that take as long to look at as opening a page does; measured. */
const OPENING = 200;

/** Elements that have no end (HTML, 13.1.2). */
const VOID = new Set(["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"]);
/** Attributes that style sheets of states and roles ask for. */
const STATES = /^(?:hidden|disabled|open|checked|required|readonly|type|role|aria-\w+|dir)$/;
/** Those of which each value may look different; of others it counts that they are there. */
const VALUED = /^(?:type|role|dir|aria-(?:hidden|current|pressed|expanded|selected|checked|disabled|live|sort))$/;

/** Marks of an element: its classes (those with a number in them are places on a rail or in a grid) and states. */
function marksOf(attributes: string): string[] {
  const marks: string[] = [];
  for (const [, name, , value = ""] of attributes.matchAll(/([^\s=/"']+)(\s*=\s*(?:"([^"]*)"|'[^']*'|[^\s"']+))?/g))
    if (name === "class")
      marks.push(
        ...value
          .split(/\s+/)
          .filter((each) => each && !/\d/.test(each))
          .map((each) => `.${each}`),
      );
    else if (STATES.test(name!)) marks.push(VALUED.test(name!) ? `[${name}=${value}]` : `[${name}]`);
  return marks.sort();
}

/** What an element is seen as: its tag, with each mark, with each two, and with those that a style sheet names. */
function sightsOf(tag: string, marks: readonly string[], named: readonly (readonly string[])[]): string[] {
  const pairs = marks.flatMap((one, at) => marks.slice(at + 1).map((other) => `${tag}${one}${other}`));
  const more = named.filter((each) => each.every((mark) => marks.includes(mark))).map((each) => tag + each.join(""));
  return [tag, ...marks.map((mark) => tag + mark), ...pairs, ...more];
}

/** Three and more classes that a style sheet of the site asks for on one element. */
export async function namedTogether(site: string): Promise<readonly (readonly string[])[]> {
  const folder = join(site, "assets"),
    sheets = (await readdir(folder).catch(() => [])).filter((name) => name.endsWith(".css")),
    named = new Map<string, readonly string[]>();
  for (const sheet of sheets)
    for (const [found] of (await readFile(join(folder, sheet), "utf8")).matchAll(/(?:\.[a-z][\w-]*){3,}/gi))
      named.set(found, found.split(/(?=\.)/).sort());
  return [...named.values()];
}

/**
 * What a page shows: each element by its marks, and within the marks of what it stands in; the columns of its tables;
 * whether there is a word as long as only some pages have. Scripts and what a browser does not show without them are
 * left out.
 */
export function shownBy(address: string, html: string, named: readonly (readonly string[])[] = []): Shown {
  const signatures = new Set<string>(),
    fullness = new Set<string>(),
    open: { readonly tag: string; readonly names: readonly string[]; cells: number; holds: number }[] = [],
    known = new Set<string>(),
    body = html.slice(html.indexOf("<body")).replace(/<(script|style)\b[^>]*>.*?<\/\1>/gs, "");
  let elements = 0;
  for (const [, end, tag, attributes] of body.matchAll(/<(\/?)([a-z][\w-]*)((?:[^>"']|"[^"]*"|'[^']*')*)>/g)) {
    if (end) {
      const at = open.findLastIndex((each) => each.tag === tag);
      if (at < 0) continue;
      for (const { tag, cells, names, holds } of open.splice(at)) {
        if (tag === "tr") signatures.add(`a row of ${cells}`);
        fullness.add(`${names.join()} holds ${Math.min(holds, 2)}`);
      }
      continue;
    }
    elements += 1;
    const around = open.at(-1),
      marks = marksOf(attributes!),
      names = marks.length > 0 ? marks.map((mark) => tag + mark) : [tag!];
    if (around) around.holds += 1;
    if (around && /^t[dh]$/.test(tag!)) around.cells += 1;
    const whole = `${around?.names.join() ?? ""} > ${names.join()}`;
    if (!known.has(whole)) {
      known.add(whole);
      for (const each of sightsOf(tag!, marks, named)) signatures.add(each);
      for (const outer of around?.names ?? [""]) for (const inner of names) signatures.add(`${outer} > ${inner}`);
    }
    if (!VOID.has(tag!) && !attributes!.endsWith("/")) open.push({ tag: tag!, names, cells: 0, holds: 0 });
  }
  const text = body.replace(/<[^>]*>/g, " "),
    longest = Math.max(0, ...[...text.matchAll(/[^\s\-–/]+/g)].map(([word]) => word.length));
  // By steps of four letters: where one of 14 fits, one of 15 does.
  signatures.add(`a word of ${Math.floor(longest / 4)}`);
  return { address, signatures, fullness, elements };
}

/** The elements of a page with their classes and styles (lengths that are worked out left open), and no words. */
export function markupOf(html: string): string {
  const tags = html
    .replace(/<(script|style)\b[^>]*>.*?<\/\1>/gs, "")
    .match(/<[a-z][\w-]*(?:[^>"']|"[^"]*"|'[^']*')*>/g);
  return (tags ?? [])
    .map((tag) => {
      const [name] = /^<[\w-]+/.exec(tag)!,
        looks = tag.match(/ (?:class|style|colspan|rowspan|hidden)(?:="[^"]*")?(?=[ >/])/g) ?? [];
      return name + looks.join("").replaceAll(/\d+\.\d+/g, "0");
    })
    .join("");
}

/** The file of a page, by its address. */
export const fileOf = (address: string): string => (/(?:^|\/)$/.test(address) ? `${address}index.html` : address);

/** Pages of a site, by their addresses, as they are chosen. */
export async function readShown(site: string, addresses: readonly string[]): Promise<Shown[]> {
  const named = await namedTogether(site);
  return Promise.all(
    addresses.map(async (address) => {
      return shownBy(address, await readFile(join(site, fileOf(address)), "utf8"), named);
    }),
  );
}

/**
 * Pages among which every signature is: each next one shows most of what none before shows for the time that it takes,
 * by its elements; in the end those are left out of which the others show all. What `known` has needs no page.
 */
export function coverOf<Page extends Pick<Shown, "signatures" | "elements">>(
  pages: readonly Page[],
  known: Iterable<string> = [],
): Page[] {
  const seen = new Set(known),
    first = new Set(seen),
    chosen: Page[] = [],
    worth = (adds: number, { elements }: Page) => adds / (elements + OPENING),
    // What a page would add only falls, so a page is counted anew when it comes to the top.
    waiting = pages.map((page) => ({ page, adds: page.signatures.size }));
  const order = (a: (typeof waiting)[number], b: (typeof waiting)[number]) =>
    worth(b.adds, b.page) - worth(a.adds, a.page);
  while (waiting.length > 0) {
    waiting.sort(order);
    const next = waiting[0]!,
      adds = [...next.page.signatures].filter((each) => !seen.has(each)).length;
    if (adds === next.adds || waiting.length === 1) {
      if (adds === 0) break;
      chosen.push(next.page);
      for (const each of next.page.signatures) seen.add(each);
      waiting.shift();
    } else next.adds = adds;
  }
  const times = new Map<string, number>();
  for (const { signatures } of chosen) for (const each of signatures) times.set(each, (times.get(each) ?? 0) + 1);
  const needed = new Set(chosen);
  for (const page of chosen.toSorted((a, b) => b.elements - a.elements)) {
    if ([...page.signatures].some((each) => !first.has(each) && times.get(each) === 1)) continue;
    needed.delete(page);
    for (const each of page.signatures) times.set(each, times.get(each)! - 1);
  }
  return [...needed];
}

/**
 * Pages of a site, one of each kind that `isAsked`, without those that show nothing which the others don't: for what
 * goes wrong by how a page is made, whatever it is about. All kinds where all are asked for.
 *
 * `seen`: what pages of sites before this one showed, each element and how full it was: where they show it all, a page
 * is left out. What is chosen here is added.
 */
export async function oneOfEach(
  site: string,
  isAsked: (kind: string) => boolean,
  seen?: Set<string>,
): Promise<readonly string[]> {
  const first = [...(await pagesByKind(site))].filter(([kind]) => isAsked(kind)).map(([, [address]]) => address!);
  if (isEveryPageAsked) return first;
  const shown = (await readShown(site, first)).map((page) =>
      seen ? { ...page, signatures: new Set([...page.signatures, ...page.fullness]) } : page,
    ),
    chosen = coverOf(shown, seen);
  for (const { signatures } of chosen) for (const each of signatures) seen?.add(each);
  return chosen.map(({ address }) => address);
}

/** The pages of a site that are looked at. */
export interface Chosen {
  /** Pages that are looked at in every way: of each kind the one that shows most; all where all are asked for. */
  readonly ofKinds: readonly (readonly [kind: string, address: string])[];
  /**
   * Pages looked at quickly: of each kind that shows nothing that no other kind does (`isOfKind`), and those that show
   * what none of the pages of kinds does.
   */
  readonly others: readonly (readonly [address: string, isOfKind: boolean])[];
  /** How many signatures there are, and how many of them are on the pages looked at in every way. */
  readonly signatures: number;
  readonly onKinds: number;
}

/** Chooses among the pages of a site, by kind (`pagesByKind`). */
export async function choosePages(site: string, kinds: ReadonlyMap<string, readonly string[]>): Promise<Chosen> {
  const shown = await Promise.all(
    [...kinds].map(async ([kind, addresses]) => {
      const pages = await readShown(site, addresses);
      return { kind, pages, signatures: new Set(pages.flatMap((page) => [...page.signatures])) };
    }),
  );
  const all = shown.flatMap(({ kind, pages }) => pages.map((page) => ({ ...page, kind }))),
    signatures = new Set(all.flatMap((page) => [...page.signatures])).size;
  if (isEveryPageAsked)
    return { ofKinds: all.map(({ kind, address }) => [kind, address]), others: [], signatures, onKinds: signatures };
  // From the kind that shows most: one that adds nothing to those before it is a mixture of them.
  const seen = new Set<string>(),
    own = shown
      .toSorted((a, b) => b.signatures.size - a.signatures.size)
      .filter((kind) => {
        const before = seen.size;
        for (const each of kind.signatures) seen.add(each);
        return seen.size > before;
      });
  const richest = own.map(
    ({ kind, pages }) =>
      [kind, pages.toSorted((a, b) => b.signatures.size - a.signatures.size || a.elements - b.elements)[0]!] as const,
  );
  const known = new Set([
    ...richest.flatMap(([, page]) => [...page.signatures]),
    ...richest.map(([kind]) => `a page of ${kind}`),
  ]);
  const others = coverOf(
    all.map((page) => ({ ...page, signatures: new Set([...page.signatures, `a page of ${page.kind}`]) })),
    known,
  );
  return {
    ofKinds: richest.map(([kind, { address }]) => [kind, address]),
    others: others.map(({ address, kind }) => [address, !known.has(`a page of ${kind}`)]),
    signatures,
    onKinds: known.size - richest.length,
  };
}
