/** Papers: questions drawn from a bank by a seed, with their answers in an order that the seed decides. */
import { type Draw, drawsFrom, shuffle } from "../numbers/chance.ts";
import type { AnswerChoice, Question } from "./questions/question.ts";

/** What a paper needs of a question; a bank sent to a browser holds just this. */
export type Askable = Pick<
  Question,
  "id" | "kind" | "source" | "prompt" | "given" | "photo" | "drawn" | "proof" | "why" | "shows"
> & {
  readonly key: readonly Pick<AnswerChoice, "text">[];
  readonly wrong: readonly Pick<AnswerChoice, "text">[];
};

/** A question as it stands on a paper. */
export interface PaperQuestion<Q extends Askable = Askable> {
  readonly question: Q;
  /** What can be chosen, or the lines to be put in order. */
  readonly choices: readonly string[];
  /** Index of the right choice; for `order` the indices in the right order. */
  readonly right: readonly number[];
}

/** Answers beside the key on a paper; beside a picture one alone, since of several the odd one out would be the key. */
const WRONG_SHOWN = 3,
  PICTURES_SHOWN = 1;

/** A question with its choices in the order that the draws decide. */
export function askOne<Q extends Askable>(question: Q, draw: Draw): PaperQuestion<Q> {
  const key = question.key.map(({ text }) => text);
  // The most plausible wrong answers come first in the list: two of the three are drawn from its front half.
  const most = question.kind === "picture" ? PICTURES_SHOWN : WRONG_SHOWN;
  const half = Math.ceil(question.wrong.length / 2);
  const front = shuffle(question.wrong.slice(0, half), draw).slice(0, Math.min(2, most));
  const rest = shuffle(
    question.wrong.filter((each) => !front.includes(each)),
    draw,
  ).slice(0, most - front.length);
  const wrong = question.kind === "order" ? [] : [...front, ...rest].map(({ text }) => text);
  let choices =
    question.kind === "photo"
      ? [...key, ...question.wrong.map(({ text }) => text)].sort((a, b) => Number(a) - Number(b))
      : shuffle([...key, ...wrong], draw);
  // Lines that came out in the right order would be answered by doing nothing.
  if (question.kind === "order" && choices.every((text, at) => text === key[at]))
    choices = [...choices.slice(1), choices[0]!];
  return { question, choices, right: key.map((text) => choices.indexOf(text)) };
}

/**
 * A paper of `count` questions. The same bank and the same seed give the same paper. Kinds take turns, procedures are
 * spread, and
 * of each kind what is safety-critical comes first.
 */
export function drawPaper<Q extends Askable>(bank: readonly Q[], seed: string, count: number): PaperQuestion<Q>[] {
  const draw = drawsFrom(seed);
  // Pictures as answers need a screen.
  const kinds = shuffle(
    [...new Set(bank.map(({ kind }) => kind))].filter((kind) => kind !== "picture"),
    draw,
  );
  const piles = new Map(
    kinds.map((kind) => [
      kind,
      pileOf(
        bank.filter((each) => each.kind === kind),
        draw,
      ),
    ]),
  );
  const used = new Map<string, number>();
  const drawn: Q[] = [];
  while (drawn.length < count && [...piles.values()].some((pile) => pile.length > 0))
    for (const kind of kinds) {
      if (drawn.length >= count) break;
      const pile = piles.get(kind)!;
      const least = Math.min(...pile.slice(0, 12).map(({ source }) => used.get(source.id) ?? 0));
      const at = pile.findIndex(({ source }) => (used.get(source.id) ?? 0) <= least);
      const question = pile[at];
      if (!question) continue;
      pile.splice(at, 1);
      used.set(question.source.id, (used.get(question.source.id) ?? 0) + 1);
      drawn.push(question);
    }
  return drawn.map((question) => askOne(question, draw));
}

/** A kind's questions in a drawn order, two safety-critical ones for each other one as long as there are some. */
function pileOf<Q extends Askable>(questions: readonly Q[], draw: Draw): Q[] {
  const order = shuffle(questions, draw);
  const critical = order.filter(({ source }) => source.critical);
  const plain = order.filter(({ source }) => !source.critical);
  const pile: Q[] = [];
  while (critical.length || plain.length) pile.push(...critical.splice(0, 2), ...plain.splice(0, 1));
  return pile;
}

/** Whether what was chosen is right: one choice, or all lines in order. */
export function isRight({ right }: PaperQuestion, chosen: readonly number[]): boolean {
  return chosen.length === right.length && chosen.every((choice, at) => choice === right[at]);
}

/** The letter of a choice on paper: `a` for the first. */
export function letterOf(at: number): string {
  return String.fromCharCode(97 + at);
}

/** The right letter, or all letters in the right order: `c`, `b d a c`. */
export function sayKey({ right }: PaperQuestion): string {
  return right.map(letterOf).join(" ");
}
