/** How well one page answers the words of a query, in points. */
import { KIND_WORTH } from "./behind.ts";
import type { Going } from "./direction.ts";
import type { FindEntry, FindPart } from "./entry.ts";
import type { FoundPage } from "./find.ts";
import { searchWords } from "./query-words.ts";
import type { Ready, Stems } from "./ready.ts";
import type { Wanted } from "./wanted.ts";

/** How well a page answers the words; 0 if nothing does. `at` is its place in the full-text results. */
export function scorePage(
  page: Stems,
  wanted: readonly Wanted[],
  towards: Going,
  ready: Ready,
  at: number | undefined,
): Omit<FoundPage, "entry"> {
  if (at === undefined && !wanted.some(({ stems }) => [...stems.keys()].some((stem) => page.all.has(stem))))
    return NOTHING;
  const titleTells = (stem: string) => ready.tells.get(stem) ?? ready.most;
  const bestIn = ({ stems }: Wanted, place: ReadonlySet<string>) => {
    let best = 0;
    for (const [stem, how] of stems) if (how > best && place.has(stem)) best = how;
    return best;
  };
  const isThere = ({ stems }: Wanted, ...places: readonly ReadonlySet<string>[]) =>
    [...stems].some(([stem, how]) => how === 1 && places.some((place) => place.has(stem)));
  const all = wanted.reduce((sum, { tells }) => sum + tells, 0);
  /** The share of what the words tell, each taken for as much as it is met. */
  const shareOf = (values: readonly number[]) =>
    values.reduce((sum, value, index) => sum + value * wanted[index]!.tells, 0) / all;
  const titleStems = new Set(page.title);
  const inTitle = wanted.map((word) => bestIn(word, titleStems)),
    inOwn = wanted.map((word) => bestIn(word, page.names)),
    isNamed = inTitle.some((how) => how > 0) || inOwn.some((how) => how > 0),
    inNames = isNamed ? wanted.map((word, of) => Math.max(inOwn[of]!, bestIn(word, page.shared))) : inOwn,
    inKind = wanted.map((word) => bestIn(word, page.kind)),
    inAbout = wanted.map((word) => bestIn(word, page.about));
  const outside = wanted.map((_, of) =>
    Math.max(
      at === undefined ? 0 : IN_TEXT,
      IN_TITLE * inTitle[of]!,
      IN_NAMES * inNames[of]!,
      IN_KIND * inKind[of]!,
      IN_ABOUT * inAbout[of]!,
    ),
  );
  const things = wanted.some(({ general }) => !general)
      ? wanted.map(({ general, tells }) => (general ? 0 : tells))
      : wanted.map(({ tells }) => tells),
    inThings = things.reduce((sum, tells) => sum + tells, 0);
  /** The share of what the things among the words tell that is met, in whatever words. */
  const coverOf = (values: readonly number[]) =>
    values.reduce((sum, value, of) => sum + (value > 0 ? Math.max(value, ANYHOW) : 0) * things[of]!, 0) / inThings;
  const named = wanted.map((_, of) => Math.max(inTitle[of]!, inNames[of]!, inKind[of]!, inAbout[of]!));
  // One step has to answer what the title leaves open; words strewn over several do not.
  let best = shareOf(outside),
    covered = coverOf(named),
    whole = outside.every((how) => how > 0),
    part = -1,
    open = 0,
    inOneStep = 0,
    together = 0;
  const strewn = [...outside];
  page.parts.forEach(({ said, more, pairs }, index) => {
    const inSaid = wanted.map((word) => bestIn(word, said)),
      inEither = wanted.map((word, of) => Math.max(inSaid[of]!, bestIn(word, more)));
    // Beside the instruction much is said: there only the word itself counts.
    const inStep = wanted.map((word, of) => Math.max(inSaid[of]!, isThere(word, more) ? IN_DETAIL / IN_STEP : 0));
    best = Math.max(best, shareOf(inStep.map((how, of) => Math.max(outside[of]!, IN_STEP * how))));
    whole ||= inEither.every((how, of) => Math.max(how, outside[of]!) > 0);
    inOneStep = Math.max(inOneStep, shareOf(inEither));
    covered = Math.max(covered, coverOf(inEither.map((how, of) => Math.max(how, named[of]!))));
    inEither.forEach((how, of) => (strewn[of] = Math.max(strewn[of]!, how)));
    together = Math.max(together, shareTogether(wanted, pairs));
    const answered = shareOf(inStep.map((how, of) => (inTitle[of] === 0 ? how : 0)));
    if (answered > open) [open, part] = [answered, index];
  });
  let asked = 0,
    ask = -1;
  page.asks.forEach(({ said, answer, wordings }, index) => {
    const inQuestion = wanted.map((word) => bestIn(word, said)),
      inEither = wanted.map((word, of) => Math.max(inQuestion[of]!, isThere(word, answer) ? IN_DETAIL : 0));
    best = Math.max(best, shareOf(inEither.map((how, of) => Math.max(outside[of]!, IN_QUESTION * how))));
    inEither.forEach((how, of) => (strewn[of] = Math.max(strewn[of]!, how)));
    // Words of several wordings are strewn: one of these has all that makes the page an answer.
    for (const wording of wordings) {
      const place = new Set(wording),
        here = wanted.map((word) => bestIn(word, place));
      whole ||= here.every((how, of) => Math.max(how, outside[of]!) > 0);
      covered = Math.max(covered, coverOf(here.map((how, of) => Math.max(how, named[of]!))));
    }
    const met = shareOf(inQuestion),
      filled = Math.max(...wordings.map((wording) => shareFilled(wording, wanted, titleTells)));
    const value = met ** 3 * ((1 + filled) / 2);
    if (value > asked) [asked, ask] = [value, index];
  });
  if (strewn.every((how) => how === 0)) return NOTHING;
  const filled = shareFilled(page.title, wanted, titleTells);
  const met = shareOf(strewn.map((how) => (how > 0 ? 1 : 0)));
  const isWanted = (stem: string) => wanted.some(({ stems }) => stems.has(stem));
  /** Whether a word only helps to name another thing there: `capsule` in `capsule base`, if no base is wanted. */
  const isOfAnother = ({ stems }: Wanted) => {
    const places = page.title.flatMap((stem, place) => (stems.get(stem) === 1 ? [place] : []));
    return (
      places.length > 0 &&
      places.every((place) => {
        const next = page.title[place + 1];
        return next !== undefined && ready.compounds.has(`${page.title[place]} ${next}`) && !isWanted(next);
      })
    );
  };
  const score =
    WORDS * best +
    ITSELF *
      shareOf(
        wanted.map((word) => (isThere(word, titleStems, page.names, ...(isNamed ? [page.shared] : [])) ? 1 : 0)),
      ) +
    KIND * shareOf(inKind) +
    ABOUT * shareOf(inAbout) +
    DETAIL * inOneStep +
    TITLE * filled * met +
    (isInOrder(page.title, wanted) ? IN_ORDER : 0) +
    TOGETHER * together +
    ASKED * asked +
    (towards.away && page.direction.away ? AWAY : 0) +
    (towards.to && page.direction.to ? TOWARDS : 0) -
    (towards.away && !towards.to && page.direction.to ? AGAINST : 0) -
    PART_OF * shareOf(wanted.map((word) => (isOfAnother(word) ? 1 : 0))) +
    (at === undefined ? 0 : TEXT / (1 + at * 0.3)) +
    (KIND_WORTH[page.entry.kind] ?? 0) -
    STEPS * Math.log(1 + page.parts.length) -
    QUESTIONS * Math.log(1 + page.asks.length);
  // What is asked is shown with its answer; a step only where it says more of what is asked.
  const [anchor, question, answer] = ask < 0 || asked < open ? [] : page.entry.asks![ask]!,
    shown: FindPart | undefined =
      anchor === undefined ? page.entry.parts?.[part] : [anchor, `${question} ${answer!.replaceAll("`", "")}`.trim()];
  return { score, whole, covered, asked, ...(shown ? { part: shown } : {}) };
}

/** What a word is worth where it stands, of 1. */
const IN_TITLE = 1,
  IN_NAMES = 0.7,
  IN_KIND = 0.85,
  IN_STEP = 0.85,
  IN_QUESTION = 0.5,
  IN_DETAIL = 0.3,
  IN_ABOUT = 0.4,
  IN_TEXT = 0.2;

/**
 * Points for each sign that a page answers, each from 0 to 1 but the number of steps. They were fitted together: the
 * most likely ones, where a page is chosen with a likelihood that grows as e^(points / 10) (Cao et al., Learning to
 * rank: from pairwise approach to listwise approach, 2007, with one page drawn), on the queries in `tests/search`, and
 * kept where they were better on the queries of people who were left out of the fitting.
 */
const WORDS = 80,
  ITSELF = 17,
  KIND = 150,
  ABOUT = 19,
  DETAIL = 20,
  TITLE = 48,
  IN_ORDER = 15,
  TOGETHER = 18,
  AWAY = 23,
  TOWARDS = 27,
  /** Lost by what puts a thing where the query takes it off. */
  AGAINST = 15,
  /** Lost by a word that stands in the title only before another, with which it names another thing. */
  PART_OF = 20,
  /** For a question that the page answers; chosen by hand. */
  ASKED = 70,
  TEXT = 10,
  /** Lost for each time that the number of steps grows e times: one of many has a word by chance. */
  STEPS = 7,
  /** The same of its questions. */
  QUESTIONS = 5;

/** What a word counts at least where anything means it, when it is asked whether it is there at all. */
const ANYHOW = 0.8;

const NOTHING = { score: 0, whole: false, covered: 0, asked: 0 };

/** Whether the title has all of the words, two or more, as the query orders them: `a to b` is not `b to a`. */
function isInOrder(title: readonly string[], wanted: readonly Wanted[]): boolean {
  const places = wanted.map(({ stems }) => title.findIndex((stem) => stems.has(stem)));
  return places.length > 1 && places.every((place, at) => place >= 0 && (at === 0 || place > places[at - 1]!));
}

/** The share of what the words of a title or question tell that the query has; 0 where there are none. */
function shareFilled(stems: readonly string[], wanted: readonly Wanted[], tellsOf: (stem: string) => number): number {
  const all = stems.reduce((sum, stem) => sum + tellsOf(stem), 0);
  const met = stems.reduce(
    (sum, stem) => sum + tellsOf(stem) * Math.max(...wanted.map(({ stems: said }) => said.get(stem) ?? 0)),
    0,
  );
  return all > 0 ? met / all : 0;
}

/** How many of the query's neighbouring words stand side by side in a step, of all its neighbours; 0 if it has none. */
function shareTogether(wanted: readonly Wanted[], pairs: ReadonlySet<string>): number {
  const asked = wanted.slice(1).map(({ stems }, at) => {
    for (const before of wanted[at]!.stems.keys())
      for (const stem of stems.keys()) if (pairs.has(`${before} ${stem}`)) return 1;
    return 0;
  });
  return asked.length === 0 ? 0 : asked.reduce<number>((sum, met) => sum + met, 0) / asked.length;
}

/** A score that only a code reaches: who types one asks for just that page, be it a draft or an old card. */
export const CODE_MET = 1000;

/** Histories and forms carry the code of what they are about. */
export const hasOwnCode = ({ kind }: FindEntry): boolean => kind !== "History" && kind !== "Form";

/** A code is met whole, or by its last parts (`T-02`), however it is punctuated. */
export function scoreCode(code: string | undefined, words: readonly string[]): number {
  const asked = words.join("");
  if (!code || !/\d/.test(asked)) return 0;
  const parts = searchWords(code),
    whole = parts.join("");
  if (whole === asked) return 2 * CODE_MET;
  return parts.some((_, at) => at > 0 && parts.slice(at).join("") === asked) ? CODE_MET : 0;
}
