/**
 * A question that is computed from the collection, with its answer, the wrong answers that may stand beside it, and why
 * each is what it is.
 */
import { hashText } from "../../numbers/chance.ts";

/** What is asked. */
export type QuestionKind =
  | "arrangement"
  | "option"
  | "applies"
  | "next"
  | "order"
  | "missing"
  | "home"
  | "count"
  | "check"
  | "left-out"
  | "reason"
  | "critical"
  | "who"
  | "photo"
  | "mark"
  | "picture";

/** The document that the answer stands in. */
export interface QuestionSource {
  readonly kind: "procedure" | "configuration";
  readonly id: string;
  readonly title: string;
  readonly code: string;
  readonly revision: number;
  /** Number of the step that it is about; absent when it is about no single one. */
  readonly step?: number;
  /** Whether it is about something safety-critical. */
  readonly critical: boolean;
}

/** One answer that can be chosen. */
export interface AnswerChoice {
  readonly text: string;
  /** What it stands for, as an id or a number: what a proof looks at. */
  readonly means: string;
}

/** A question with its right and wrong answers, made and proved from the files. */
export interface Question {
  /** The same for as long as what is asked and what is right stay the same; another one otherwise. */
  readonly id: string;
  readonly kind: QuestionKind;
  readonly platform: string;
  readonly source: QuestionSource;
  /** What is asked, as data: for proofs. */
  readonly asks: Readonly<Record<string, string>>;
  readonly prompt: string;
  /** Lines that stand under the prompt: a list with something missing. */
  readonly given: readonly string[];
  /** Id of the photo that it needs. */
  readonly photo?: string;
  /** The arrangement of which a plan can stand in place of the lines, and the item that is left out of it. */
  readonly drawn?: { readonly arrangement: string; readonly item: string };
  /** The right answer; of the kind `order` all lines in the right order. */
  readonly key: readonly AnswerChoice[];
  /** Answers proved wrong, the most plausible first. */
  readonly wrong: readonly AnswerChoice[];
  /** Why the key is right, in a sentence or two. */
  readonly proof: string;
  /** The author's reason for the step that it is about; "" if there is none, or if it is what is asked. */
  readonly why: string;
  /** Id of the photo that is shown with the answer; absent if the step has none. */
  readonly shows?: string;
}

/** A question as a kind makes it; what the author says of its step is added to all kinds alike. */
export type MadeQuestion = Omit<Question, "why" | "shows">;

/** How many wrong answers are kept for a question, so that two papers need not look alike. */
const MOST_WRONG = 5;
/** A question with fewer wrong answers is not asked: it could be guessed. */
const FEWEST_WRONG = 2;

/**
 * Puts a question together; `undefined` if too few wrong answers are left once those that read like the key, or like
 * each other, are out. `slips` are the key with a small thing otherwise: they stand beside it before all others.
 */
export function makeQuestion({
  slips = [],
  ...question
}: Omit<MadeQuestion, "id" | "given"> & {
  readonly given?: readonly string[];
  readonly slips?: readonly AnswerChoice[];
}): MadeQuestion | undefined {
  const { kind, platform, source, prompt, key, photo, given = [] } = question;
  const seen = new Set(key.map(({ text }) => readAlike(text)));
  const isNew = ({ text }: AnswerChoice) => {
    const form = readAlike(text);
    return !seen.has(form) && seen.add(form);
  };
  const likely = slips.filter(isNew),
    unlike = question.wrong.filter(isNew),
    most = MOST_WRONG - likely.length;
  const wrong = [
    ...likely,
    ...(key.length === 1 ? ofAllLengths(unlike, key[0]!.text, prompt, most) : unlike.slice(0, most)),
  ];
  if (kind === "order" ? key.length < 3 : wrong.length < FEWEST_WRONG) return undefined;
  const id = idOf({ kind, platform, source, prompt, given, key, ...(photo === undefined ? {} : { photo }) });
  return { ...question, id, given, wrong };
}

/** Of so many of the most plausible wrong answers those are taken that are kept. */
const MOST_LOOKED_AT = 40;

/**
 * Plausible wrong answers of such lengths that the key is as often the longest of the choices as the second, the third
 * and the shortest: a key whose length tells it would be found without knowing it. The turn is decided by the question.
 */
function ofAllLengths(choices: readonly AnswerChoice[], key: string, prompt: string, atMost: number): AnswerChoice[] {
  const near = choices.slice(0, MOST_LOOKED_AT);
  const shorter = near.filter(({ text }) => text.length <= key.length);
  const longer = near.filter(({ text }) => text.length > key.length);
  const wanted = [0, 2, 3, atMost][hashText(`${prompt} ${key}`) % 4]!;
  const most = Math.min(atMost, near.length);
  // Where one side has too few, the other fills up.
  const count = Math.max(Math.min(wanted, shorter.length), most - longer.length);
  const kept = new Set([...shorter.slice(0, count), ...longer.slice(0, most - count)]);
  return near.filter((choice) => kept.has(choice));
}

/** A question's id: where it stands, and a hash of what is asked and what is right. */
export function idOf({
  kind,
  platform,
  source,
  prompt,
  given,
  photo,
  key,
}: Pick<Question, "kind" | "platform" | "prompt" | "given" | "photo"> & {
  readonly source: Pick<QuestionSource, "id">;
  readonly key: readonly Pick<AnswerChoice, "text">[];
}): string {
  const content = JSON.stringify([prompt, given, photo ?? "", key.map(({ text }) => text)]);
  return `${platform}/${source.id}/${kind}/${hashText(content).toString(16).padStart(8, "0")}`;
}

/** Two texts that a reader would take for the same answer have the same form. */
export function readAlike(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

const STOP_WORDS = new Set(
  (
    "a an and are as at be been but by for from has have in is it its lies no none not of off on once one onto " +
    "or out so stands than that the their them then there they this to too two three four five six up until when " +
    "which while with without you your each every all both only"
  ).split(" "),
);

const known = new Map<string, ReadonlySet<string>>();

/** The words of a text that carry its meaning; remembered, since every text is compared with every other. */
export function contentWords(text: string): ReadonlySet<string> {
  const words = known.get(text) ?? findWords(text);
  if (known.size < 20_000) known.set(text, words);
  return words;
}

function findWords(text: string): Set<string> {
  return new Set(
    readAlike(text)
      .split(" ")
      .filter((word) => word.length > 1 && !STOP_WORDS.has(word))
      .map((word) => (word.length > 3 ? word.replace(/s$/, "") : word)),
  );
}

/** How many content words two texts share. */
export function sharedWords(a: string, b: string): number {
  const words = contentWords(b);
  let shared = 0;
  for (const word of contentWords(a)) if (words.has(word)) shared++;
  return shared;
}
