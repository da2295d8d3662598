/**
 * The page that finds: titles, codes, names and steps from the list, at once; then what only the text of pages has,
 * from the index; misspelt words corrected.
 */
import {
  answerFrom,
  type FindAsksGiven,
  type FindList,
  type FindListGiven,
  listFrom,
  MOST,
  type QueryAnswer,
} from "../../domain/find/answer.ts";
import type { FindFilters, FindKind } from "../../domain/find/entry.ts";
import { rankEntries } from "../../domain/find/find.ts";
import { withOtherNames } from "../../domain/find/other-names.ts";
import { queryWords } from "../../domain/find/query-words.ts";
import { wordsHere } from "../../words/heard.ts";
import { element } from "../element.ts";
import { withIndex } from "./folder-links.ts";
import { showPatient, readPatient } from "../chooser/weight.ts";
import { sayList } from "../../schema/wording.ts";

/** The part of the index's interface that this page uses. */
interface Index {
  options(options: Readonly<Record<string, unknown>>): Promise<void>;
  search(
    query: string,
    options?: { filters?: Readonly<Record<string, unknown>> },
  ): Promise<{
    results: readonly { id: string; data(): Promise<{ url: string; raw_url?: string; excerpt: string }> }[];
  }>;
}

const MOST_FROM_INDEX = 12;
const MOST_READINGS = 3;
/** How long nobody types until the query is kept in the address: browsers slow down who writes there at each key. */
const KEEP_MS = 400;

const form = document.querySelector<HTMLFormElement>("form.finder");
const list = (globalThis as { rerigFind?: FindListGiven }).rerigFind;
if (form && list) start(form, list);

function start(form: HTMLFormElement, given: FindListGiven): void {
  const home = new URL(form.dataset["home"]!, location.href);
  const box = form.querySelector<HTMLInputElement>("[name=q]")!;
  const choice = (name: string) => form.querySelector<HTMLSelectElement>(`[name=${name}]`)?.value || undefined;
  const index = openIndex(home);
  const whole = withAsks(home, given);
  let latest = 0,
    kept: ReturnType<typeof setTimeout> | undefined;

  const search = async (how: { readonly asTyped?: boolean; readonly theRest?: boolean } = {}) => {
    const turn = ++latest,
      query = box.value.trim();
    if (queryWords(query).length === 0) return show(undefined);
    const filters: FindFilters = {
      ...(choice("kind") ? { kind: choice("kind") as FindKind } : {}),
      ...(choice("who") ? { who: choice("who")! } : {}),
      ...(choice("platform") ? { platform: choice("platform")! } : {}),
      ...(form.querySelector<HTMLInputElement>("[name=critical]")!.checked ? { critical: true } : {}),
    };
    const list = await whole;
    if (turn !== latest) return;
    const answered = answerFrom(list, query, filters, how),
      { used, asked, found: ranked, isNothing, weight } = answered;
    const shown: Shown = {
      ...answered,
      query,
      texts: new Map(),
      rest: isNothing ? asked : [],
      asTyped: () => void search({ asTyped: true }),
      theRest: () => void search({ ...how, theRest: true }),
    };
    if (ranked.length > 0 || isNothing) show(shown, home);
    if (isNothing) return;
    // The index answers a word that it does not have with another one: it is asked without such words.
    // What the list found keeps its place; the text adds what stands nowhere but there, and says where it stands.
    const queries = asked.length ? withOtherNames(asked.join(" "), list.otherNames) : [];
    const texts = await fullText(await index, queries, filters, home);
    if (turn !== latest || (texts.size === 0 && ranked.length > 0)) return;
    const already = new Set(ranked.map(({ entry }) => entry.address));
    const more = rankEntries(
      list.pages.filter(({ address }) => texts.has(address) && !already.has(address)),
      used,
      filters,
      list.otherNames,
      [...texts.keys()],
      weight === undefined ? undefined : Number(weight),
    );
    show({ ...shown, found: [...ranked, ...more].slice(0, MOST), texts }, home);
  };

  const keep = () => keepInAddress(box.value.trim());
  const answer = () => {
    void search();
    clearTimeout(kept);
    kept = setTimeout(keep, KEEP_MS);
  };
  form.addEventListener("input", answer);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    answer();
  });
  box.value = new URLSearchParams(location.search).get("q") ?? "";
  form.hidden = false;
  if (box.value) void search();
  else if (matchMedia(["(pointer:", "fine)"].join(" ")).matches) box.focus();
}

/** The list with what people ask of its pages, read beside the page; without that where it can't be read. */
async function withAsks(home: URL, given: FindListGiven): Promise<FindList> {
  const script = element("script", { src: new URL("assets/find-asks.js", home).href });
  await new Promise<void>((done) => {
    for (const end of ["load", "error"]) script.addEventListener(end, () => done());
    document.head.append(script);
  });
  return listFrom(given, (globalThis as { rerigAsks?: FindAsksGiven }).rerigAsks ?? {});
}

/** The full-text index; `undefined` where browsers refuse it (a site opened from a folder). */
async function openIndex(home: URL): Promise<Index | undefined> {
  if (location.protocol === "file:") return undefined;
  try {
    const index = (await import(new URL("pagefind/pagefind.js", home).href)) as Index;
    await index.options({
      baseUrl: home.pathname,
      excerptLength: 24,
      ranking: { termFrequency: 0.6, pageLength: 0.4, termSimilarity: 4 },
    });
    return index;
  } catch {
    return undefined;
  }
}

/**
 * Address -> excerpt, in the order of the index; the query with the service's own words for other names is asked too.
 */
async function fullText(
  index: Index | undefined,
  queries: readonly string[],
  filters: FindFilters,
  home: URL,
): Promise<Map<string, string>> {
  const texts = new Map<string, string>();
  if (!index) return texts;
  const { critical, ...named } = filters;
  for (const query of queries.slice(0, MOST_READINGS)) {
    const { results } = await index.search(queryWords(query).join(" "), {
      filters: { ...named, ...(critical ? { critical: "yes" } : {}) },
    });
    for (const { url, excerpt } of await Promise.all(
      results.slice(0, MOST_FROM_INDEX).map((result) => result.data()),
    )) {
      const address = new URL(url, home).pathname.slice(home.pathname.length);
      if (!texts.has(address)) texts.set(address, excerpt);
    }
  }
  return texts;
}

/** What the page calls a kind of page: the choice that narrows to it says it. */
function nameOf(kind: FindKind): string {
  return document.querySelector(`[name=kind] option[value="${kind}"]`)?.textContent ?? kind;
}

interface Shown extends Omit<QueryAnswer, "isNothing" | "asked"> {
  readonly query: string;
  readonly texts: ReadonlyMap<string, string>;
  /** The words that do stand on the site, where they alone are no answer. */
  readonly rest: readonly string[];
  readonly asTyped: () => void;
  readonly theRest: () => void;
}

function show(found: Shown | undefined, home?: URL): void {
  const { found: words } = wordsHere("found");
  const count = document.querySelector<HTMLElement>(".found-count")!,
    results = document.querySelector<HTMLElement>(".found")!;
  document.querySelector<HTMLElement>(".everything")!.hidden = found !== undefined;
  if (!found || !home) {
    count.replaceChildren();
    return results.replaceChildren();
  }
  const { query, used, missing, found: entries, aside, texts, rest, weight } = found;
  const number =
    entries.length === 0
      ? words.nothing
      : entries.length === 1
        ? words.pages({ pages: 1 })
        : entries.length >= MOST
          ? words.best({ most: MOST })
          : words.pages({ pages: entries.length });
  count.replaceChildren(`${number}. `);
  if (used.toLowerCase() !== query.toLowerCase()) {
    const button = element("button", { type: "button", class: "link" }, words.asTyped({ query }));
    button.addEventListener("click", found.asTyped);
    count.prepend(element("span", {}, `${words.resultsFor} `, element("b", {}, used), ". "));
    count.append(button);
  }
  if (missing.length > 0)
    count.prepend(
      element(
        "b",
        {},
        `${words.nowhere({ words: sayList(missing.map((word) => words.quoted({ word }))), count: missing.length })} `,
      ),
    );
  if (entries.length === 0) count.append(`${words.tryFewer} `);
  if (rest.length > 0) {
    const button = element(
      "button",
      { type: "button", class: "link" },
      words.showWhatHas({ words: sayList(rest.map((word) => words.quoted({ word }))) }),
    );
    button.addEventListener("click", found.theRest);
    count.append(button);
  }
  // What chooses by the weight or age that was typed is no answer to the rest: it is said beside, not as a result.
  const choosers = aside.map(({ entry }) =>
    element("a", { href: withIndex(new URL(entry.address, home).href) }, entry.title),
  );
  if (choosers.length > 0) count.append(` ${words.toChoose} `, ...choosers.flatMap((link) => [link, " "]));
  results.replaceChildren(
    ...entries.map(({ entry, part }) => {
      const address = new URL(entry.address + (part ? `#${part[0]}` : ""), home);
      const link = element("a", { href: withIndex(address.href) }, entry.title);
      const about = [
        nameOf(entry.kind),
        entry.code,
        entry.platform,
        entry.critical ? words.safetyCritical : undefined,
        entry.standing && words.notInForce({ standing: entry.standing }),
      ]
        .filter(Boolean)
        .join(" · ");
      // What the index gives is markup; what the list has is text, as somebody wrote it.
      const excerpt = part ? undefined : texts.get(entry.address),
        number = part && /^step-(\d+)/.exec(part[0])?.[1],
        said = number === undefined ? part?.[1] || entry.about : words.step({ number, text: part![1] });
      return element(
        "li",
        {},
        element("h2", {}, link),
        element("p", { class: "about" }, about),
        ...(excerpt ? [excerptOf(excerpt)] : said ? [element("p", { class: "excerpt" }, said)] : []),
      );
    }),
  );
  showPatient(readPatient());
  // The weight that was typed is the one that is meant, whichever the address carries.
  if (weight !== undefined)
    entries.forEach(({ entry }, at) => {
      const link = results.children[at]?.querySelector("a");
      if (entry.chooses && link) link.hash = `kg=${weight}`;
    });
  if (weight !== undefined) for (const link of choosers) link.hash = `kg=${weight}`;
}

/** An excerpt of the index, in which what the page says is escaped, with its marks; all else in it becomes text. */
function excerptOf(html: string): HTMLElement {
  const plain = (text: string) =>
    (new DOMParser().parseFromString(`.${text}`, "text/html").body.textContent ?? ".").slice(1);
  return element(
    "p",
    { class: "excerpt" },
    ...html
      .split(/(<mark>.*?<\/mark>)/)
      .map((part) => (part.startsWith("<mark>") ? element("mark", {}, plain(part)) : plain(part))),
  );
}

function keepInAddress(query: string): void {
  const address = new URL(location.href);
  if (query) address.searchParams.set("q", query);
  else address.searchParams.delete("q");
  history.replaceState(history.state, "", address);
}
