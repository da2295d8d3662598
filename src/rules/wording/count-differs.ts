/** Numbers in the words of a step or a card beside another `count`. */
import { subjectsOf } from "../../domain/cards/subjects.ts";
import { type Contents, validArrangements } from "../../domain/parts/arrangements.ts";
import { nameInText } from "../../domain/words/names.ts";
import { recent } from "../../domain/words/recent.ts";
import { numberInWords, numberOf } from "../../domain/words/quantities.ts";
import { heard } from "../../words/heard.ts";
import { capital } from "../../domain/words/say.ts";
import { type Report, type Rule, type RuleContext, whereOf } from "../../findings/finding.ts";
import type { Check, Collection, Item, Move, Paragraph, Platform, Step } from "../../schema/collection.ts";
import { isFittedInDoubt } from "../doubt.ts";
import { isCountAtFault } from "../proof.ts";
import { isEnglish, ownSteps } from "../texts.ts";
import { flatten, UNIT } from "../words.ts";

/**
 * Words say as many as are moved, and an answer as many as are then there. Looks at the instruction, the details and
 * the answers of a step that moves the item, and at the answers of cards. Reasons and warnings may speak of other
 * numbers. An item whose name is a plural (`Roll supports`) is one set, whose pieces have no `count`.
 */
export const countDiffers: Rule = {
  id: "wording/count-differs",
  severity: "warning",
  asks: "The number in a step's words and in an answer is the `count` of what is moved or fitted.",
  why: "One of the two is wrong, and it is the words that the crew does; the other is what was proved.",
  source: "Common practice, no source",
  byPlatform: true,
  check(collection, report, context) {
    const { damaged } = context;
    if (!isEnglish(collection.service)) return;
    const isKnown = ({ id }: Platform) => !isFittedInDoubt(id, damaged);
    for (const { step, platform } of ownSteps(collection, damaged))
      if (isKnown(platform)) checkStep(step, platform, collection, context, report);
    for (const platform of collection.platforms.filter(isKnown)) {
      // The same line stands on the cards of very many arrangements.
      const known = new Map<Check, Item[]>(),
        asked = new Set<string>();
      for (const arrangement of validArrangements(platform)) {
        const { configuration, options, contents } = arrangement;
        if (configuration.status === "withdrawn") continue;
        for (const check of [configuration, ...options].flatMap(({ checks }) => checks)) {
          const items = known.get(check) ?? itemsOf(check, platform, collection);
          known.set(check, items);
          for (const item of items) {
            const there = contents.filter((each) => each.item === item.id).map(({ count }) => count);
            const key = `${check.where.file} ${check.where.line} ${item.id} ${there.join(" ")}`;
            if (asked.has(key)) continue;
            asked.add(key);
            const counts = new Set([...there, item.count]);
            sayAnswer(check, { item, platform, counts, total: there[0] ?? item.count }, "fitted", report);
          }
        }
      }
    }
  },
};

function checkStep(step: Step, platform: Platform, collection: Collection, context: RuleContext, report: Report): void {
  const moves = step.operations.filter((operation) => operation.kind === "move");
  for (const id of new Set(moves.map(({ item }) => item))) {
    const item = platform.items.find((each) => each.id === id);
    if (!item) continue;
    const own = moves.filter((move) => move.item === id),
      total = own.reduce((sum, { count }) => sum + count, 0);
    // More than there are is a finding of its own, at the move.
    if (own.some(({ count }) => count > item.count)) continue;
    // Nor is anything said of words that are as the proof of the plan wants the move: it is reported there.
    const isRight = (count: number) => own.some((move) => isCountAtFault(move, count, collection, context));
    const moved = { item, platform, counts: new Set([...own.map(({ count }) => count), total]), total, isRight };
    for (const paragraph of [step.instruction, ...step.detail.filter((block) => block.kind === "paragraph")])
      sayText(paragraph, moved, report);
    const counts = new Set([...moved.counts, ...own.flatMap((move) => countsAfter(move, platform))]);
    for (const check of step.checks)
      if (itemsOf(check, platform, collection).includes(item)) sayAnswer(check, { ...moved, counts }, "moved", report);
  }
}

/** How many pieces may be in the two places of a move when it is done, from what arrangements hold before it. */
function countsAfter({ item, count, from, to }: Move, platform: Platform): number[] {
  const held = (contents: readonly Contents[], place: string) =>
    contents.find((each) => each.item === item && each.place === place)?.count ?? 0;
  return validArrangements(platform).flatMap(({ contents }) =>
    held(contents, from) < count ? [] : [held(contents, to) + count, held(contents, from) - count],
  );
}

/** The counted items that a challenge or its answer is about. */
function itemsOf(check: Check, platform: Platform, { service }: Collection): Item[] {
  const { challenge } = check,
    named = subjectsOf({ challenge }, platform, service.otherNames);
  // A bare number counts what the challenge names: `Mattress straps: two` about the straps and the mattress.
  const subjects = named.length > 0 ? named : subjectsOf(check, platform, service.otherNames);
  const about = subjects.filter(({ kind }) => kind === "item");
  return platform.items.filter(
    (item) =>
      !isPlural(item.name) &&
      // A line about several items does not say which of them its bare number counts.
      ((about.length === 1 && about[0]!.id === item.id) || countsNamed(check.answer, item, platform).length > 0),
  );
}

/** Which number words may give for the pieces of an item. */
interface Wanted {
  readonly item: Item;
  readonly platform: Platform;
  readonly counts: ReadonlySet<number>;
  /** That which is said to whoever gives none of them. */
  readonly total: number;
  /** Whether another one is right, and what was counted is wrong; none is, if left out. */
  readonly isRight?: (count: number) => boolean;
}

function sayText(paragraph: Paragraph, { item, platform, counts, total, isRight }: Wanted, report: Report): void {
  const text = flatten(paragraph);
  const wrong = findWrongCount(text.text, item, platform, counts);
  if (!wrong || isRight?.(wrong.count)) return;
  report(text.whereAt(wrong.start, wrong.words.length), {
    message: heard("countFindings").inWords({ words: wrong.words, item: item.id, total: String(total) }),
    fix: heard("countFindings").countFirst({ right: inTheManner(wrong.words, total), count: String(wrong.count) }),
    actual: wrong.words,
    expected: [String(total)],
  });
}

function sayAnswer(check: Check, wanted: Wanted, how: string, report: Report): void {
  const { answer } = check,
    { item, platform, counts, total, isRight } = wanted;
  const wrong = findWrongAnswer(answer, item, platform, counts);
  if (!wrong || isRight?.(wrong.count)) return;
  const rest = answer.slice(wrong.start + wrong.words.length);
  const right = answer.slice(0, wrong.start) + inTheManner(wrong.words, total) + rest;
  report(whereOf(check, "answer"), {
    message: heard("countFindings").inAnswer({
      words: wrong.words,
      item: item.id,
      total: String(total),
      how: `${total === 1 ? "is" : "are"} ${how}`,
    }),
    fix: heard("countFindings").thenAnswer({ right }),
    actual: answer,
    expected: [right],
  });
}

/** The first number before an item's name that is none of the counts; `undefined` if there is none. */
export function findWrongCount(
  text: string,
  item: Pick<Item, "name">,
  things: Things,
  counts: ReadonlySet<number>,
): Counted | undefined {
  return wrongOf(text, countsNamed(text, item, things), counts);
}

/** The same in an answer about the item, where its name may be left out (`four in, four locked`). */
export function findWrongAnswer(
  answer: string,
  item: Pick<Item, "name">,
  things: Things,
  counts: ReadonlySet<number>,
): Counted | undefined {
  const named = countsNamed(answer, item, things);
  return wrongOf(answer, named.length ? named : bareCounts(answer), counts);
}

/** What has a name on a platform. */
type Things = Readonly<Record<"items" | "places" | "fastenings", readonly { readonly name: string }[]>>;

/** A number in a text: `words` as written, from `start`. */
interface Counted {
  readonly count: number;
  readonly words: string;
  readonly start: number;
}

/** The first number that is none of the counts, unless the numbers of the text together make one of them. */
function wrongOf(text: string, found: readonly Counted[], counts: ReadonlySet<number>): Counted | undefined {
  const wrong = found.find(({ count }) => !counts.has(count));
  if (!wrong) return undefined;
  const sums = [found, numbersIn(text)].map((all) => all.reduce((sum, { count }) => sum + count, 0));
  return sums.some((sum) => sum !== wrong.count && counts.has(sum)) ? undefined : wrong;
}

/** Whole numbers of a text in figures or words; `both` is two. Ordinals, decimals and measures are not among them. */
function numbersIn(text: string): Counted[] {
  return [
    ...text.matchAll(/(?<![\p{L}\p{N}.,:/-])(?:\d{1,4}|\p{L}+(?:-\p{L}+)?)(?![\p{L}\p{N}]|[.,:/]\d|-)/gu),
  ].flatMap((match): Counted[] => {
    const words = match[0],
      figure = /^both$/i.test(words) ? "2" : /^\d/.test(words) ? words : numberOf(words.toLowerCase());
    const [, next = ""] = /^\s+(\p{L}+|[°%])/u.exec(text.slice(match.index + words.length)) ?? [];
    if (figure === undefined || !/^\d+$/.test(figure) || (next && isUnit(next))) return [];
    return [{ count: Number(figure), words, start: match.index }];
  });
}

/** `four in` are four that are in. */
const isUnit = (word: string): boolean => word !== "in" && UNIT.test(word);

/** Between a number and the name: other words of the thing, but nothing that counts otherwise. */
const BETWEEN =
  /^\s+(?:(?!(?:of|more|other|further|last|remaining|pairs?|sets?|each|and|or|to|in|on|the|at)\s)\p{L}+\s+){0,2}$/iu;
const IS_SHARED = /\b(?:of\s+(?:the|these|those|its)|each|every|with|than)\s+$/iu;
/** `two on each side`: how many sides there are is not said. */
const IS_SHARE =
  /^[^.;]*\b(?:(?:on|at|in|to|into|from|for|of)\s+(?:each|every|either|both)|per|a\s+side|each\s+side)\b/iu;
const ONE_BY_ONE = /^\s*(?:at\s+a\s+time|at\s+once|by\s+one|each|per|after\s+(?:the\s+other|another)|in\s+turn)\b/iu;

/** Numbers that stand before an item's name (`five shell pins`, `five pins` where no other thing is called so). */
function countsNamed(text: string, item: Pick<Item, "name">, { items, places, fastenings }: Things): Counted[] {
  if (isPlural(item.name)) return [];
  const numbers = numbersIn(text),
    head = headOf(item.name);
  // Most texts hold no number, or not the name: of many things each is asked of many texts, so the rest comes later.
  if (numbers.length === 0 || spansOf(text, [item.name, head]).length === 0) return [];
  // The fastening `Deck pins` is what the item `Deck pin` is called where there are several.
  const others = [...items, ...places, ...fastenings]
    .filter((each) => isOtherThing(each.name, item.name))
    .map(({ name }) => name);
  const names = others.some((name) => headOf(name) === head) ? [item.name] : [item.name, head];
  const taken = spansOf(text, others);
  const spans = spansOf(text, names).filter(
    (span) => !taken.some(({ start, end }) => start <= span.start && end >= span.end),
  );
  return spans.flatMap(({ start, end }): Counted[] => {
    const number = numbers.findLast(
      (each) => each.start < start && BETWEEN.test(text.slice(each.start + each.words.length, start)),
    );
    if (
      !number ||
      IS_SHARE.test(text.slice(number.start)) ||
      IS_SHARED.test(text.slice(0, number.start)) ||
      ONE_BY_ONE.test(text.slice(end))
    )
      return [];
    // `two pin marks` are marks: what is counted is in the plural.
    return number.count === 1 || /s$/i.test(text.slice(start, end)) ? [number] : [];
  });
}

/** Numbers of an answer that count what it is about: `four in`, `two, clip across`, `5 in the tray`. */
function bareCounts(answer: string): Counted[] {
  return numbersIn(answer).filter(({ start, words }) => {
    const rest = answer.slice(start + words.length);
    return (
      !IS_SHARE.test(rest) &&
      !/^\s*each\b/iu.test(rest) &&
      /^(?:\s*$|\s*[,;.]|\s+(?:\p{L}+ed|in|out|on|up|down|at|home|through|across|under|over|inside|there|present|left|and|to)\b)/iu.test(
        rest,
      )
    );
  });
}

const isOtherThing = (name: string, own: string): boolean =>
  !["", "s", "es"].some((end) => name.trim().toLowerCase() === `${own.trim().toLowerCase()}${end}`);
const headOf = (name: string): string => name.trim().toLowerCase().split(/\s+/).at(-1) ?? "";
const isPlural = (name: string): boolean => /[^s]s$/i.test(name.trim());

/** The same names are looked for in every text. */
const patterns = recent<RegExp>(2_000);

function spansOf(text: string, names: readonly string[]): { readonly start: number; readonly end: number }[] {
  return names
    .filter((name) => name.trim())
    .flatMap((name) => {
      const pattern = patterns(name, () => new RegExp(nameInText(name), "giu"));
      return [...text.matchAll(pattern)].map(({ index, 0: { length } }) => ({ start: index, end: index + length }));
    });
}

/** A number as the other one was written: in figures, in words, with a capital where it had one. */
function inTheManner(words: string, count: number): string {
  if (/^\d/.test(words)) return String(count);
  const said = numberInWords(count);
  return /^\p{Lu}/u.test(words) ? capital(said) : said;
}
