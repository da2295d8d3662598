/** What a query is answered with: the page that finds shows this, and the tests ask it. */
import { formatDecimal } from "../bands/bands.ts";
import { readWeight } from "../bands/entry.ts";
import { normalizeCode } from "../cards/check-code.ts";
import { MASS_PER_KG } from "../../schema/units.ts";
import { correctQuery, pairsIn } from "./correct.ts";
import type { FindEntry, FindFilters } from "./entry.ts";
import { rankEntries } from "./find.ts";
import { isOfAgeAlone, isOfWeightAlone, pointsBeforeChooser, unknownThings, withChooser } from "./of-weight.ts";
import { queryWords, weightIn } from "./query-words.ts";
import { isTooLittle } from "./too-little.ts";
import { isMostlyUnknown, unknownWords } from "./unknown.ts";
import { type AskedWords, meantPages, withMeant } from "./intent.ts";

/** What is known of a site: its pages, how often each word stands in it, and what is typed for its own words. */
export interface FindList {
  readonly pages: readonly FindEntry[];
  readonly known: ReadonlyMap<string, number>;
  readonly otherNames: Readonly<Record<string, readonly string[]>>;
  readonly asked: AskedWords;
}

/** A site's list as its script gives it: every word with how often it stands there. */
export type FindListGiven = Omit<FindList, "known"> & { readonly words: Readonly<Record<string, number>> };

/** What people ask of pages, by their addresses, as another script of the site gives it. */
export type FindAsksGiven = Readonly<Record<string, NonNullable<FindEntry["asks"]>>>;

/** What both scripts of a site give, as one. */
export function listFrom({ words, pages, ...others }: FindListGiven, asks: FindAsksGiven): FindList {
  return {
    ...others,
    known: new Map(Object.entries(words)),
    pages: pages.map((page) => (asks[page.address] ? { ...page, asks: asks[page.address]! } : page)),
  };
}

type Result = ReturnType<typeof rankEntries>[number];

/** What a query comes to. */
export interface QueryAnswer {
  /** The query as it was searched for, misspelt words put right. */
  readonly used: string;
  /** Words of the query that stand nowhere in the site. */
  readonly missing: readonly string[];
  /** The words that do stand on the site. */
  readonly asked: readonly string[];
  /**
   * Best first, the page that chooses for a weight, or for an age alone, among them; nothing where what has some of the
   * words is no answer.
   */
  readonly found: readonly Result[];
  /** Whether pages have some of the words and are no answer. */
  readonly isNothing: boolean;
  /** The page that chooses for a patient, where what is asked beside a weight or an age is nowhere. */
  readonly aside: readonly Result[];
  /** The weight in the query in kilograms, as the address carries it, if it is beyond doubt. */
  readonly weight?: string;
}

/**
 * What a query is answered with. `theRest`: what has some of the words is wanted all the same; `asTyped`: no word is
 * put right.
 */
export function answerFrom(
  { pages, known, otherNames, asked: signs }: FindList,
  given: string,
  filters: FindFilters = {},
  how: { readonly asTyped?: boolean; readonly theRest?: boolean } = {},
): QueryAnswer {
  const query = (how.asTyped ? undefined : codeTyped(pages, given)) ?? given;
  const corrected = how.asTyped ? undefined : correctQuery(query, known, pairsIn(pages), otherNames),
    used = corrected ?? query;
  const left = unknownWords(used, known, otherNames),
    isUnknown = (word: string) => left.includes(word);
  const typed = weightIn(query),
    weight = typed === undefined ? undefined : kilogramsOf(typed),
    kilograms = weight === undefined ? undefined : Number(weight),
    choosers = typed !== undefined || isOfAgeAlone(used, isUnknown) ? choosersOf(pages, filters) : [];
  const meant = meantPages(pages, used, filters, otherNames, signs),
    isOfWeight = typed !== undefined && choosers.length > 0 && isOfWeightAlone(used, isUnknown);
  const all = rankEntries(pages, isOfWeight ? typed : used, filters, otherNames, [], kilograms);
  const isNowhere =
    choosers.length > 0
      ? unknownThings(used, left).length > 0
      : isMostlyUnknown(used, known, otherNames) || isTooLittle(used, left, all);
  const isNothing = !how.theRest && meant.length === 0 && !isOfWeight && isNowhere;
  const chosen =
    choosers.length > 0
      ? withChooser(all.slice(0, MOST), choosers, pointsBeforeChooser(used, isUnknown), kilograms)
      : all.slice(0, MOST);
  return {
    used,
    missing: unknownWords(query, known, otherNames),
    asked: queryWords(used).filter((word) => !isUnknown(word)),
    found: isNothing
      ? []
      : withMeant(
          chosen,
          meant.map(({ entry, part }) => ({ ...asResult(entry), ...(part ? { part } : {}) })),
        ),
    isNothing,
    aside: isNothing ? choosers : [],
    ...(weight === undefined ? {} : { weight }),
  };
}

/** Results at most. */
export const MOST = 30;

/** The pages that choose by weight, as results: whatever else is narrowed, a weight is not answered without them. */
function choosersOf(pages: readonly FindEntry[], { platform }: FindFilters): Result[] {
  return pages.filter((entry) => entry.chooses && (!platform || entry.platform === platform)).map(asResult);
}

/** The check code that a query is, read as the box for codes reads it: with O for 0, in one piece, in small letters. */
function codeTyped(pages: readonly FindEntry[], query: string): string | undefined {
  const read = normalizeCode(query);
  return pages.some(({ kind, code }) => kind === "Check code" && code === read) ? read : undefined;
}

/** A page that is shown whatever its words are worth. */
function asResult(entry: FindEntry): Result {
  return { entry, score: 0, whole: false, covered: 0, asked: 0 };
}

/** A weight as typed, as a plain decimal number of kilograms; `undefined` if it can't be read without a doubt. */
function kilogramsOf(typed: string): string | undefined {
  const read = readWeight(typed);
  return read.kind === "value" ? formatDecimal(read.value.mass, MASS_PER_KG) : undefined;
}
