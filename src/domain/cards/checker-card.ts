/**
 * A second look that nobody has primed: the same checks as questions in another order, without their answers, and the
 * key on a card of its own.
 */
import { type CardContent, type CardLine, readDanger } from "./card-content.ts";
import { drawsFrom, shuffle } from "../numbers/chance.ts";
import { wordsOf } from "../records/edits.ts";
import { takesPlaceOf } from "./subjects.ts";
import { numbers } from "../../words/en.ts";
import { heard } from "../../words/heard.ts";

/** What is asked: something to count, a value or words to read off, or a state to describe. */
type AskFor = "count" | "value" | "label" | "state";

/** One line of the checker's card: what to look at, and what to say of it without having heard the answer. */
export interface CheckerQuestion {
  /** In the order of the checker's card, from 1. */
  readonly number: number;
  /** Number of the line on the crew's card; 0 for what a hold looks at. */
  readonly line: number;
  readonly thing: string;
  /** What to do before looking, at a hold; empty otherwise. */
  readonly act: string;
  readonly asks: AskFor;
  readonly question: string;
  readonly answer: string;
  readonly critical: boolean;
  /** What must be there for the question to be asked: an option's title. */
  readonly option?: string;
  /** Options with which it is not asked, because a line of theirs is read in its place; absent if with all. */
  readonly unless?: readonly string[];
}

/** A sitting is what one person looks at in one go. */
export interface CheckerCard {
  readonly sittings: readonly (readonly CheckerQuestion[])[];
  /** What the author should mend or know, in words. */
  readonly warnings: readonly string[];
}

/** Most questions in one sitting: a long second check is done by heart (common practice, no source). */
export const MOST_QUESTIONS = 7;

const COUNTS = new Set([...numbers, "none", "both", "all", "pair"]);
/** Words that say nothing about how a thing is. */
const EMPTY = new Set([
  "the",
  "and",
  "with",
  "its",
  "over",
  "from",
  "each",
  "under",
  "into",
  "that",
  "this",
  "for",
  "not",
  "are",
]);

const QUESTIONS: Readonly<Record<AskFor, string>> = {
  get count() {
    return heard("secondLook").countHowMany;
  },
  get value() {
    return heard("secondLook").whatValueDoYou;
  },
  get label() {
    return heard("secondLook").whatDoesItSay;
  },
  get state() {
    return heard("secondLook").whatDoYouSee;
  },
};

/**
 * The checker's card of a configuration. The order is drawn from the card's own content, so that it is the same until
 * the card changes, and is never the crew's.
 * A question names the thing and asks; a count, a state or a label that would give the answer is not in it unless the
 * name itself holds it, which is warned of.
 */
export function checkerCardOf(content: CardContent): CheckerCard {
  const asked = [
    ...askLines(content.lines, 1).map((question) => askedUnless(question, content)),
    ...askOptions(content),
  ];
  const own = asked.filter(({ option }) => option === undefined),
    extra = asked.filter(({ option }) => option !== undefined);
  const draw = drawsFrom(`${content.platform}/${content.configuration}/${content.revision}/second look`);
  const ordered = [...reorder(own, () => shuffle(own, draw)), ...extra];
  const warnings = [
    ...ordered.flatMap(({ thing, act, answer }) =>
      [thing, act].flatMap((said) =>
        givesAway(said, answer, said === act) ? [heard("secondLook").givesTheAnswerAway({ said, answer })] : [],
      ),
    ),
    ...(own.length > MOST_QUESTIONS
      ? [
          heard("secondLook").questionsAreMore({
            own: own.length,
            mostQuestions: MOST_QUESTIONS,
            ceil: Math.ceil(own.length / MOST_QUESTIONS),
          }),
        ]
      : []),
  ];
  const numbered = ordered.map((question, at) => ({ ...question, number: at + 1 }));
  return {
    sittings: [
      ...part(numbered.filter(({ option }) => option === undefined)),
      ...partByOption(numbered.filter(({ option }) => option !== undefined)),
    ],
    warnings: [...new Set(warnings)],
  };
}

/**
 * Whether what is said before the answer gives it away: a word of the answer that means something stands in it. Of what
 * to do at a hold only a number counts
 * (`numbersOnly`): it has to name what it is done to.
 */
export function givesAway(said: string, answer: string, numbersOnly = false): boolean {
  const words = new Set(wordsOf(said).map(stemOf));
  return wordsOf(answer).some((word) => (numbersOnly ? isNumber(word) : isTelling(word)) && words.has(stemOf(word)));
}

/**
 * What a check asks for, by its answer: a figure with a unit is a value, a number word or figure at its start a count,
 * words in quotes a label.
 */
export function asksFor(answer: string): AskFor {
  if (/\d\s*(?:kg|g|mm|cm|m|l|bar|kPa|%|V|°C|min|s|h)(?![\p{L}\p{N}])/u.test(answer)) return "value";
  if (/[“"‘']\p{L}/u.test(answer)) return "label";
  const [first = ""] = wordsOf(answer);
  return COUNTS.has(first.toLowerCase()) || /^\d+$/.test(first) ? "count" : "state";
}

function sayDanger(said: string): string {
  const { signal, text } = readDanger(said);
  return `${signal.toUpperCase()}: ${text}`;
}

type Asked = Omit<CheckerQuestion, "number">;

function askLines(lines: readonly CardLine[], from: number, option?: string): Asked[] {
  let number = from;
  return lines.flatMap((line) => {
    const own =
      line.kind === "check"
        ? [{ ...line, line: number++, act: "" }]
        : line.checks.map((check) => ({
            ...check,
            line: 0,
            critical: true,
            act: [...(line.warnings ?? []).map(sayDanger), line.text].join(" "),
          }));
    return own.map(({ challenge, answer, critical, line: at, act }): Asked => {
      const asks = asksFor(answer);
      return {
        line: at,
        thing: challenge,
        act,
        asks,
        question: QUESTIONS[asks],
        answer,
        critical,
        ...(option ? { option } : {}),
      };
    });
  });
}

/** A question of the configuration's own with the options that ask another one in its place. */
function askedUnless(question: Asked, { options }: CardContent): Asked {
  const unless = options
    .filter(({ lines }) =>
      lines.some((line) => line.kind === "check" && takesPlaceOf(line, { challenge: question.thing })),
    )
    .map(({ title }) => title);
  return unless.length > 0 ? { ...question, unless } : question;
}

function askOptions(content: CardContent): Asked[] {
  let next = content.lines.filter(({ kind }) => kind === "check").length + 1;
  return content.options.flatMap(({ title, lines }) => {
    const asked = askLines(lines, next, title);
    next += lines.filter(({ kind }) => kind === "check").length;
    return asked;
  });
}

/**
 * An order in which hardly any question follows the one that it follows on the crew's card; the drawn one, or the drawn
 * one with such pairs parted.
 */
function reorder(own: readonly Asked[], tryOnce: () => Asked[]): Asked[] {
  let best = tryOnce(),
    least = neighboursKept(own, best);
  for (let tries = 0; tries < 40 && least > 0; tries += 1) {
    const other = tryOnce(),
      kept = neighboursKept(own, other);
    if (kept < least) [best, least] = [other, kept];
  }
  return best;
}

/**
 * How many questions stand right after the one before them on the crew's card, or in the same place; two alone can only
 * be turned round.
 */
function neighboursKept(own: readonly Asked[], order: readonly Asked[]): number {
  const place = new Map(own.map((question, at) => [question, at]));
  return order.filter(
    (question, at) => place.get(question) === at || (at > 0 && place.get(question)! === place.get(order[at - 1]!)! + 1),
  ).length;
}

/** Sittings of about equal length, none over seven. */
function part(questions: readonly CheckerQuestion[]): CheckerQuestion[][] {
  if (questions.length === 0) return [];
  const sittings = Math.ceil(questions.length / MOST_QUESTIONS),
    size = Math.ceil(questions.length / sittings);
  return Array.from({ length: sittings }, (_, at) => questions.slice(at * size, (at + 1) * size));
}

/** Sittings of none over seven in which the questions of an option stay together. */
function partByOption(questions: readonly CheckerQuestion[]): CheckerQuestion[][] {
  const options = [...new Set(questions.map(({ option }) => option))];
  const sittings: CheckerQuestion[][] = [];
  for (const option of options)
    for (const own of part(questions.filter((question) => question.option === option))) {
      const last = sittings.at(-1);
      if (last && last.length + own.length <= MOST_QUESTIONS) last.push(...own);
      else sittings.push([...own]);
    }
  return sittings;
}

function isNumber(word: string): boolean {
  return (COUNTS.has(word) && word !== "no" && word !== "all") || /\d/.test(word);
}

function isTelling(word: string): boolean {
  return isNumber(word) || (word.length > 2 && !EMPTY.has(word));
}

/** A word without its commonest endings, so that “locked” is found in “lock”. */
function stemOf(word: string): string {
  return word.toLowerCase().replace(/(?:ing|ed|es|s)$/, "");
}
