/**
 * Ranks pages for a query by title, code, other names, steps and what they are for. The rest of their text comes from
 * the index.
 */
import { BEHIND, isBehind } from "./behind.ts";
import { goingAsked } from "./direction.ts";
import { type FindEntry, type FindFilters, type FindPart, passes } from "./entry.ts";
import { isForWeight, OF_AN_ARRANGEMENT } from "./of-weight.ts";
import { withOtherNames } from "./other-names.ts";
import { hasAge, plain, queryWords, searchWords } from "./query-words.ts";
import { makeReady } from "./ready.ts";
import { CODE_MET, hasOwnCode, scoreCode, scorePage } from "./score.ts";
import { wantedFrom } from "./wanted.ts";

/** A page that answers. */
export interface FoundPage {
  readonly entry: FindEntry;
  readonly score: number;
  /** Whether one place has all of the words: the title with the names, or these and one step. */
  readonly whole: boolean;
  /** The share of what the words tell that stands there, at most. */
  readonly covered: number;
  /** How well a question that the page answers is the query, from 0 to 1. */
  readonly asked: number;
  /** The step or the question that answers better than the page's title alone. */
  readonly part?: FindPart;
}

/**
 * Entries that answer the query, best first, with their scores and the step that answers. `fullText` holds addresses in
 * the order of the index, which count too. `kilograms`: the weight in the query; what is for other weights gives way.
 */
export function rankEntries(
  entries: readonly FindEntry[],
  query: string,
  filters: FindFilters,
  otherNames: Readonly<Record<string, readonly string[]>>,
  fullText: readonly string[] = [],
  kilograms?: number,
): FoundPage[] {
  const ready = makeReady(entries);
  const readings = withOtherNames(query, otherNames)
    .map(queryWords)
    .filter((words) => words.length > 0)
    .map((words) => ({ words, wanted: wantedFrom(words, ready) }));
  const typed = plain(query);
  const asked = searchWords(query);
  const comesBehind = (entry: FindEntry) => isBehind(entry) && !asked.some((word) => BEHIND[entry.kind]!.has(word));
  // What is not in force may be all that there is for the words; it gives way to what is.
  // The page that chooses stands before an arrangement in any case.
  const isForOthers = ({ kind, weights }: FindEntry) =>
    kilograms !== undefined &&
    weights !== undefined &&
    !OF_AN_ARRANGEMENT.has(kind) &&
    !isForWeight(weights, kilograms);
  const givesWay = (entry: FindEntry) =>
    (entry.standing === undefined ? 0 : entry.gone ? 45 : 7) + (isForOthers(entry) ? OTHERS : 0);
  const place = new Map(fullText.map((address, at) => [address, at]));
  const cues = CUES.filter(([how]) => how.test(typed)),
    towards = goingAsked(query);
  const isOfAge = hasAge(query);
  const cued = (entry: FindEntry) =>
    cues.reduce((sum, [, does, points]) => sum + (does(entry) ? points : 0), isOfAge && entry.byAge ? BY_AGE : 0);
  const ranked = ready.pages
    .filter(({ entry }) => passes(entry, filters))
    .flatMap((page) => {
      const { entry } = page;
      let best: Omit<FoundPage, "entry"> | undefined;
      readings.forEach(({ words, wanted }, at) => {
        const found = scorePage(page, wanted, towards, ready, place.get(entry.address)),
          code = scoreCode(entry.code, words);
        if (found.score === 0 && code === 0) return;
        const score = found.score + code + (at === 0 && page.whole.has(typed) ? NAMED : 0);
        if (best === undefined || score > best.score) best = { ...found, score };
      });
      if (best === undefined) return [];
      const isCode = hasOwnCode(entry) && best.score >= CODE_MET;
      const score = isCode ? best.score : best.score + cued(entry) - givesWay(entry);
      return [
        { entry, ...best, score, behind: comesBehind(entry) && !isCode && best.asked < (ANSWERS[entry.kind] ?? 1) },
      ];
    })
    .sort(
      (a, b) => Number(a.behind) - Number(b.behind) || b.score - a.score || (a.entry.title < b.entry.title ? -1 : 1),
    );
  return varied(ranked).map(({ behind: _, ...found }) => found);
}

/** Points of a page whose title, or other name, is the query as it is typed; fitted with those of `score.ts`. */
const NAMED = 43;

/**
 * From which share on a question is the query's own, so that its page stands before others though it is of a kind that
 * stands behind them: all words met in it, and some of its own not asked.
 */
const ANSWERS: Readonly<Record<string, number>> = { Guide: 0.55, Rule: 0.75 };

/** What a query asks for beside its telling words, the pages that answer that, and their points for it. */
const CUES: readonly (readonly [typed: RegExp, answers: (entry: FindEntry) => boolean, points: number])[] = [
  [/\b(?:where|wheres|find|kept|lives?|stored)\b/, ({ kind }) => kind === "Item" || kind === "Place", 38],
  [/\b(?:how many|spares?)\b/, ({ kind }) => kind === "Item", 25],
  [/^(?:(?:so|hi|hello|ok|please) )*how (?:do|does|to|can|should|would) /, ({ kind }) => kind === "Procedure", 14],
  [
    /\b(?:won ?t|doesn ?t|isn ?t|can ?t|not|stuck|jammed|half|came|loose|showing|still|keeps?)\b/,
    ({ kind }) => kind === "Fastening",
    15,
  ],
  // What touches a thing stands on the thing's own page.
  [
    /\b(?:procedures?|steps?|cards?|arrangements?|what) (?:that )?(?:uses?|touch(?:es)?)\b|\b(?:affect(?:s|ed)?|depends?) (?:on|by|if)\b/,
    ({ kind }) => kind === "Item",
    60,
  ],
  [/\b(?:weighs?|heavy|mass)\b/, ({ kind }) => kind === "Item" || kind === "Configuration", 77],
  [/\b(?:means?|meaning|words?|what is an? \w+$)\b/, ({ defines }) => defines === true, 54],
];

/** Places at the front that are dealt out so that not all are of one kind, and what a third of a kind loses there. */
const FRONT = 4,
  AMONG = 12,
  THIRD = 20;

/** The results with the first few of more than one kind: where two answers are not right, a third alike rarely is. */
function varied<T extends FoundPage & { readonly behind: boolean }>(ranked: readonly T[]): T[] {
  const left = ranked.slice(0, AMONG),
    front: T[] = [];
  const worth = ({ entry, score }: T) =>
    score - (front.filter((other) => other.entry.kind === entry.kind).length > 1 ? THIRD : 0);
  while (front.length < FRONT && left.length > 0) {
    const dealt = left.filter(({ behind }) => behind === left[0]!.behind);
    const best = dealt.reduce((a, b) => (worth(b) > worth(a) ? b : a));
    front.push(...left.splice(left.indexOf(best), 1));
  }
  return [...front, ...left, ...ranked.slice(AMONG)];
}

/** Lost by what is for other weights, and won by what differs by age where an age is typed. */
const OTHERS = 40,
  BY_AGE = 70;
