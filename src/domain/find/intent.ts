/**
 * Reads a query that composes things: two arrangements and the way between them, an arrangement's card, a document's
 * record, a time away, a file to be written. Pages come only where every word of the query has its part in that.
 */
import { remember } from "../words/remember.ts";
import { passes, type FindEntry, type FindFilters, type FindPart } from "./entry.ts";
import { rankEntries } from "./find.ts";
import { inOwnWords } from "./other-names.ts";
import { agesApart, hasAge, isFiller, searchWords } from "./query-words.ts";
import { isGeneral, stemOf } from "./word-forms.ts";

/**
 * Words by which a query in some language says what it wants of the things that it names; each entry sets them apart by
 * commas.
 */
export type AskedWords = Readonly<Record<Sign | "people", string>>;

/** What a word of a query may be a sign of. */
const SIGNS = [
  /** Before the arrangement that is left: `from`. */
  "from",
  /** After it, or before it as a deed: `off`, `remove`. */
  "off",
  /** Between the one that is left and the one that comes: `to`. */
  "to",
  /** After the one that comes: `back on`. */
  "on",
  /** Between two of which one is to be chosen: `or`. */
  "either",
  "rebuild",
  "howLong",
  "card",
  "signOff",
  "record",
  "back",
  "while",
  "news",
  /** What is asked of a document's last change. */
  "changed",
  "write",
  /** A number in words. */
  "count",
] as const;
type Sign = (typeof SIGNS)[number];

/** A page that is meant, and the place in it. */
interface Meant {
  readonly entry: FindEntry;
  readonly part?: FindPart;
}

/** What one or more neighbouring words of a query are. */
interface Span {
  /** As they are typed. */
  readonly text: string;
  readonly signs: ReadonlySet<Sign>;
  /** The arrangement or option that they name. */
  readonly names?: FindEntry;
  /** Whether it is named only by whom it is for. */
  readonly byPerson: boolean;
}

/** A phrase that has a meaning, as stems. */
interface Phrase extends Omit<Span, "text"> {
  readonly stems: readonly string[];
}

const UNNAMED = { signs: new Set<Sign>(), byPerson: false };
const listOf = (entry: string): string[] => entry.split(/[,،、]\s*/u).filter(Boolean);
const stemsOf = (text: string): string[] => searchWords(text).map(stemOf);
const plainStems = (text: string): string => stemsOf(text).join(" ");

const isArrangement = ({ kind }: FindEntry): boolean => kind === "Configuration";

/** The pages of a list by what intents ask of them; once for a list. */
interface Composed {
  readonly platforms: readonly {
    readonly name: string | undefined;
    readonly phrases: readonly Phrase[];
  }[];
  readonly made: readonly FindEntry[];
}

const composedOf = remember((pages: readonly FindEntry[], asked: AskedWords): Composed => {
  const arrangements = pages.filter((entry) => isArrangement(entry) && !entry.gone);
  const signs = new Map<string, Set<Sign>>();
  for (const sign of SIGNS)
    for (const text of listOf(asked[sign])) {
      const stems = plainStems(text);
      signs.set(stems, (signs.get(stems) ?? new Set()).add(sign));
    }
  const said = [...signs].map(([stems, of]): Phrase => ({ ...UNNAMED, stems: stems.split(" "), signs: of }));
  const platforms = [...new Set(arrangements.map(({ platform }) => platform))].map((name) => {
    const own = arrangements.filter(({ platform }) => platform === name),
      options = pages.filter(({ kind, gone, platform }) => kind === "Option" && !gone && platform === name);
    return {
      name,
      phrases: [...namesOf([...own, ...options], pages), ...peopleOf(own, asked.people), ...said].sort(
        (a, b) => b.stems.length - a.stems.length,
      ),
    };
  });
  return { platforms, made: pages.filter(({ of }) => of) };
});

/** What names each of these: its whole title, and every word of it that no other has and that is no thing by itself. */
function namesOf(named: readonly FindEntry[], pages: readonly FindEntry[]): Phrase[] {
  const alone = new Set(
    pages.filter(({ kind }) => kind === "Item" || kind === "Place").map(({ title }) => plainStems(title)),
  );
  return named.flatMap((entry) => {
    const whole = stemsOf(entry.title),
      others = new Set(named.filter((other) => other !== entry).flatMap(({ title }) => stemsOf(title)));
    const single = whole.filter((stem) => !others.has(stem) && !alone.has(stem));
    return [whole, ...single.map((stem) => [stem])].map((stems) => ({ ...UNNAMED, stems, names: entry }));
  });
}

/** Words for people (`toddler 12`: about 12 kg), each for the only arrangement that takes such a weight. */
function peopleOf(arrangements: readonly FindEntry[], people: string): Phrase[] {
  return listOf(people).flatMap((person) => {
    const [, who, kilograms] = /^(.*\S)\s+([\d.]+)$/u.exec(person.trim()) ?? [];
    const forThem = arrangements.filter(
      ({ weights: [from, under = Infinity] = [Infinity] }) => Number(kilograms) >= from && Number(kilograms) < under,
    );
    return who && forThem.length === 1 ? [{ ...UNNAMED, stems: stemsOf(who), names: forThem[0]!, byPerson: true }] : [];
  });
}

/** The query as spans, the longest phrase first at each place; words that mean nothing here are spans of their own. */
function spansOf(query: string, phrases: readonly Phrase[]): Span[] {
  const words = searchWords(query),
    stems = words.map(stemOf),
    spans: Span[] = [];
  for (let at = 0; at < words.length;) {
    const here = phrases.filter(({ stems: phrase }) => phrase.every((stem, index) => stems[at + index] === stem));
    const longest = here.filter(({ stems: phrase }) => phrase.length === here[0]!.stems.length),
      length = here[0]?.stems.length ?? 1;
    // Named by its own name before named by a person; a word may be a name and a sign.
    const name = longest.find(({ names, byPerson }) => names && !byPerson) ?? longest.find(({ names }) => names);
    spans.push({
      text: words.slice(at, at + length).join(" "),
      signs: new Set(longest.flatMap(({ signs }) => [...signs])),
      byPerson: name?.byPerson ?? false,
      ...(name?.names ? { names: name.names } : {}),
    });
    at += length;
  }
  return oneNameOnce(spans);
}

/** A person just before an arrangement's name belongs to it, as in `child harness`; so does the name said twice. */
function oneNameOnce(spans: readonly Span[]): Span[] {
  return spans.filter(({ names, byPerson }, at) => {
    const next = spans[at + 1];
    if (!names || !next?.names || !isArrangement(names) || !isArrangement(next.names)) return true;
    return next.names !== names && (!byPerson || next.byPerson);
  });
}

const has = (spans: readonly Span[], ...signs: readonly Sign[]): boolean =>
  spans.some((span) => signs.some((sign) => span.signs.has(sign)));

/** Whether a span has a part in what is asked, or says nothing of its own: a filler, a quality, a number. */
function isAccounted({ text, signs, names }: Span, parts: readonly Sign[]): boolean {
  if (names || [...parts, "count" as const].some((sign) => signs.has(sign))) return true;
  return text.split(" ").every((word) => isFiller(word) || isGeneral(word) || /^\d+$/.test(word));
}

const areAccounted = (spans: readonly Span[], ...parts: readonly Sign[]): boolean =>
  spans.every((span) => isAccounted(span, parts));

/** The first and last of two arrangements as the query goes from one to the other; `undefined` if it does not. */
function wayAsked(spans: readonly Span[]): readonly [from: FindEntry, to: FindEntry] | undefined {
  const places = spans.flatMap(({ names }, at) => (names && isArrangement(names) ? [at] : []));
  const named = [...new Set(places.map((at) => spans[at]!.names!))];
  const [one, other] = named;
  if (!one || !other || named.length > 2 || spans.some(({ names }) => names && !isArrangement(names))) return undefined;
  if (!areAccounted(spans, "from", "off", "to", "on", "either", "rebuild", "howLong")) return undefined;
  const at = places.find((place) => spans[place]!.names === one)!,
    then = places.find((place) => spans[place]!.names === other)!;
  const before = spans.slice(0, at),
    between = spans.slice(at + 1, then),
    after = spans.slice(then + 1);
  // The one that is just before or after the other's name says which of them is left.
  const [first] = between,
    last = between.at(-1);
  const leavesOther =
    (last !== undefined && has([last], "from")) ||
    (has(after, "off") && !has(after, "on")) ||
    (last !== undefined && has([last], "off") && first !== last);
  if (leavesOther && !has(before, "from")) return has(between, "either") ? undefined : [other, one];
  const isWay = has(spans, "rebuild", "howLong") || has(before, "from");
  const goes =
    isWay || has(between, "to") || (has([...before, ...between], "off") && (has(after, "on") || has(between, "on")));
  // Whom it is for may be somebody who is carried: `child to capsule` is asked of the child, until it is dropped off.
  const isOfPeople = places.some((place) => spans[place]!.byPerson);
  const isUnsure = isOfPeople && !has(between, "off");
  return !goes || ((has(between, "either") || isUnsure) && !isWay) ? undefined : [one, other];
}

/** The card of the one arrangement that is named, with the option that is named if it has such a card. */
function cardAsked(spans: readonly Span[], pages: readonly FindEntry[], made: readonly FindEntry[]): FindEntry[] {
  if (!has(spans, "card") || !areAccounted(spans, "card", "on", "to")) return [];
  const named = [...new Set(spans.flatMap(({ names }) => names ?? []))],
    [arrangement, another] = named.filter(isArrangement),
    options = named.filter((entry) => !isArrangement(entry));
  if (!arrangement && options.length === 0) return allCards(spans, pages, made);
  if (!arrangement || another) return [];
  const card = made.find(({ kind, of }) => kind === "Card" && of?.[0] === arrangement.address);
  if (!card) return [];
  const copy = options.length === 1 ? card.fitted?.[options[0]!.address] : undefined;
  return copy ? [{ ...card, address: copy[0], title: copy[1] }, card] : [card];
}

/** The page with all cards, where a card is asked for in two ways (`print checklist`) and no arrangement is named. */
function allCards(spans: readonly Span[], pages: readonly FindEntry[], made: readonly FindEntry[]): FindEntry[] {
  if (spans.filter((span) => has([span], "card")).length < 2) return [];
  const folders = new Set(
    made.filter(({ kind }) => kind === "Card").map(({ address }) => address.replace(/[^/]+\/$/, "")),
  );
  return pages.filter(({ address }) => folders.has(address));
}

/** The record of the procedure or arrangement that all the other words name together. */
function recordAsked(spans: readonly Span[], pages: readonly FindEntry[], made: readonly FindEntry[]): FindEntry[] {
  if (!has(spans, "signOff")) return [];
  const named = documentNamed(spans, pages, "signOff", "record");
  return named ? made.filter(({ kind, of }) => kind === "Form" && of?.[0] === named.address) : [];
}

/** The procedure or arrangement that the words beside those of the signs name together. */
function documentNamed(
  spans: readonly Span[],
  pages: readonly FindEntry[],
  ...signs: readonly Sign[]
): FindEntry | undefined {
  const rest = spans.filter((span) => !has([span], ...signs)).map(({ text }) => text);
  if (rest.every((text) => text.split(" ").every(isFiller))) return undefined;
  const best = rankEntries(documentsOf(pages), rest.join(" "), {}, {})[0];
  return best?.whole ? best.entry : undefined;
}

/** Words that may stand about a term in a question for its meaning. */
const MEANING =
  /^(?:whats|what(?: is| are| does|(?= an? ))|define|definition of|meaning of|explain) (?:an? |the )?([\p{L}\p{N}]+(?: [\p{L}\p{N}]+){0,3}?)(?: means?| stands? for)?$/u;

/** Whether a page is of a thing: what it is stands there. */
const isOfThing = ({ kind }: FindEntry): boolean =>
  kind === "Item" || kind === "Place" || kind === "Fastening" || kind === "Option" || kind === "Procedure";

/** The pages that define the term of which the query asks what it is, with its place, if nothing has that name. */
function meaningAsked(query: string, pages: readonly FindEntry[]): Meant[] {
  const [, asked] = MEANING.exec(searchWords(query).join(" ")) ?? [];
  if (asked === undefined) return [];
  const stems = stemsOf(asked);
  if (pages.some((entry) => isOfThing(entry) && plainStems(entry.title) === stems.join(" "))) return [];
  // `a hold point` is a hold: one word more than the term has.
  const isTerm = (term: readonly string[]) =>
    term.length > 0 && stems.length <= term.length + 1 && term.every((stem, at) => stems[at] === stem);
  return pages
    .filter(({ defines }) => defines)
    .flatMap((entry) => {
      const part = entry.parts?.find(([, term]) => isTerm(stemsOf(term)));
      return part ? [{ entry, part }] : [];
    });
}

/** What was changed last in the document that the query names beside its words for news. */
function newsAsked(spans: readonly Span[], pages: readonly FindEntry[]): FindEntry[] {
  if (!has(spans, "changed")) return [];
  const named = documentNamed(spans, pages, "changed");
  if (!named) return [];
  const number = ({ address }: FindEntry) => Number(/notices\/(\d+)\/$/.exec(address)?.[1] ?? 0);
  return pages
    .filter((entry) => entry.kind === "History" && entry.address.startsWith(named.address) && number(entry) > 0)
    .sort((a, b) => number(b) - number(a))
    .slice(0, 1);
}

const documentsOf = remember((pages: readonly FindEntry[]): readonly FindEntry[] =>
  pages.filter((entry) => (entry.kind === "Procedure" || isArrangement(entry)) && !entry.gone),
);

/** Whether the query is of somebody who was away for a time. */
function isOfAbsence(query: string, spans: readonly Span[]): boolean {
  const lasted = hasAge(query) || has(spans, "while");
  if (spans.some(({ names }) => names)) return false;
  return (
    has(spans, "back", "off") && lasted && areAccounted(spans, "back", "off", "from", "while", "news", "changed", "on")
  );
}

/** The guide's pages for what is to be written, that which is named first before the others. */
function guideAsked(spans: readonly Span[], pages: readonly FindEntry[]): FindEntry[] {
  if (!has(spans, "write")) return [];
  const rest = spans.filter((span) => !isAccounted(span, ["write"]) || span.names).flatMap(({ text }) => stemsOf(text));
  const guides = pages.filter(({ writes }) => writes);
  const said = guides.map(({ writes }) => new Set(writes!.flatMap(stemsOf)));
  if (rest.length === 0 || !rest.every((stem) => said.some((stems) => stems.has(stem)))) return [];
  const first = (at: number) => rest.findIndex((stem) => said[at]!.has(stem));
  return guides
    .map((entry, at) => ({ entry, place: first(at) }))
    .filter(({ place }) => place >= 0)
    .sort((a, b) => a.place - b.place)
    .map(({ entry }) => entry);
}

/**
 * The pages that a query means for sure, because it names what they are made of; none for most queries. `used` is the
 * query as it is searched for, misspelt words put right.
 */
export function meantPages(
  pages: readonly FindEntry[],
  used: string,
  filters: FindFilters,
  otherNames: Readonly<Record<string, readonly string[]>>,
  asked: AskedWords,
): Meant[] {
  const { platforms, made } = composedOf(pages, asked);
  const query = inOwnWords(used, otherNames);
  const found = platforms.flatMap(({ name, phrases }) => {
    const spans = spansOf(query, phrases),
      own = (entry: FindEntry) => entry.platform === name;
    const way = wayAsked(spans);
    const ways = way
      ? made.filter(({ kind, of }) => kind === "Changeover" && of![0] === way[0].address && of![1] === way[1].address)
      : [];
    const away = isOfAbsence(query, spansOf(agesApart(query), phrases)) ? pages.filter((entry) => entry.catchesUp) : [];
    return [
      ...ways,
      ...cardAsked(spans, pages, made),
      ...recordAsked(spans, pages, made),
      ...away.filter(own),
      ...guideAsked(spans, pages),
      ...newsAsked(spans, pages),
    ].map((entry): Meant => ({ entry }));
  });
  const all = [...found, ...meaningAsked(query, pages)];
  return [...new Map(all.map((meant) => [meant.entry.address, meant])).values()].filter(({ entry }) =>
    passes(entry, filters),
  );
}

/** Results with the pages that are meant before them. */
export function withMeant<T extends { readonly entry: FindEntry }>(
  found: readonly T[],
  meant: readonly T[],
): readonly T[] {
  const first = new Set(meant.map(({ entry }) => entry.address));
  return [...meant, ...found.filter(({ entry }) => !first.has(entry.address))];
}
