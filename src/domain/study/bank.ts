/** A bank of questions as it is sent to a browser: every text once. */
import type { Askable } from "./paper.ts";
import type { Worth } from "./worth.ts";
import { idOf, type Question, type QuestionKind, type QuestionSource } from "./questions/question.ts";

/**
 * Texts, then questions in columns of numbers into them: alike beside alike is short to send, and nothing in it can be
 * run.
 */
export interface PackedBank {
  readonly texts: readonly string[];
  readonly sources: readonly (readonly [kind: 0 | 1, id: number, title: number, code: number, revision: number])[];
  readonly columns: Columns;
}

/** One entry a question in each. `step` is 0 and `photo` −1 where there is none. */
interface Columns {
  readonly kind: readonly number[];
  readonly source: readonly number[];
  readonly step: readonly number[];
  readonly critical: readonly (0 | 1)[];
  readonly prompt: readonly number[];
  readonly photo: readonly number[];
  readonly proof: readonly number[];
  readonly why: readonly number[];
  /** −1 where no photo is shown with the answer. */
  readonly shows: readonly number[];
  /** The arrangement and the item that is left out of its plan; empty where no plan is shown. */
  readonly drawn: readonly (readonly number[])[];
  readonly given: readonly (readonly number[])[];
  readonly key: readonly (readonly number[])[];
  readonly wrong: readonly (readonly number[])[];
  /** Points in halves, so that they are whole numbers. */
  readonly worth: readonly number[];
  readonly firstWeek: readonly (0 | 1)[];
  readonly because: readonly (readonly number[])[];
}

/** A question as a browser has it. */
export type SentQuestion = Askable & { readonly worth: Worth };

/** What a question without a worth has. */
const WORTHLESS: Worth = { points: 0, firstWeek: false, because: [] };

/**
 * Packs questions, without their ids: `unpackBank` works them out from the rest. What `worths` does not know counts
 * nothing.
 */
export function packBank(questions: readonly Question[], worths: ReadonlyMap<string, Worth>): PackedBank {
  const worthOf = ({ id }: Question) => worths.get(id) ?? WORTHLESS;
  const texts: string[] = [];
  const numbers = new Map<string, number>();
  const textOf = (text: string) => {
    if (!numbers.has(text)) numbers.set(text, texts.push(text) - 1);
    return numbers.get(text)!;
  };
  const sources: PackedBank["sources"][number][] = [];
  const sourceNumbers = new Map<string, number>();
  const sourceOf = ({ kind, id, title, code, revision }: QuestionSource) => {
    const key = `${kind} ${id}`;
    if (!sourceNumbers.has(key))
      sourceNumbers.set(
        key,
        sources.push([kind === "procedure" ? 0 : 1, textOf(id), textOf(title), textOf(code), revision]) - 1,
      );
    return sourceNumbers.get(key)!;
  };
  // A question's texts stand near each other, where compression finds what they have in common.
  for (const { prompt, given, key, wrong, proof, why } of questions)
    for (const text of [prompt, ...given, ...[...key, ...wrong].map((choice) => choice.text), proof, why]) textOf(text);
  const columns: Columns = {
    kind: questions.map(({ kind }) => textOf(kind)),
    source: questions.map(({ source }) => sourceOf(source)),
    step: questions.map(({ source }) => source.step ?? 0),
    critical: questions.map(({ source }) => (source.critical ? 1 : 0)),
    prompt: questions.map(({ prompt }) => textOf(prompt)),
    photo: questions.map(({ photo }) => (photo === undefined ? -1 : textOf(photo))),
    proof: questions.map(({ proof }) => textOf(proof)),
    why: questions.map(({ why }) => textOf(why)),
    shows: questions.map(({ shows }) => (shows === undefined ? -1 : textOf(shows))),
    drawn: questions.map(({ drawn }) => (drawn ? [textOf(drawn.arrangement), textOf(drawn.item)] : [])),
    given: questions.map(({ given }) => given.map(textOf)),
    key: questions.map(({ key }) => key.map(({ text }) => textOf(text))),
    wrong: questions.map(({ wrong }) => wrong.map(({ text }) => textOf(text))),
    worth: questions.map((question) => worthOf(question).points * 2),
    firstWeek: questions.map((question) => (worthOf(question).firstWeek ? 1 : 0)),
    because: questions.map((question) => worthOf(question).because.map(textOf)),
  };
  return { texts, sources, columns };
}

/** The questions of a packed bank, as much of them as a paper needs. */
export function unpackBank({ texts, sources, columns }: PackedBank, platform: string): SentQuestion[] {
  const text = (number: number | undefined) => texts[number ?? -1] ?? "";
  const list = (numbers: readonly number[] | undefined) => (numbers ?? []).map((number) => ({ text: text(number) }));
  return columns.prompt.map((_, at) => {
    const [sourceKind, id, title, code, revision] = sources[columns.source[at]!]!;
    const kind = text(columns.kind[at]) as QuestionKind,
      step = columns.step[at]!,
      photo = columns.photo[at]!,
      shows = columns.shows[at]!,
      [arrangement, item] = columns.drawn[at]!;
    const source = {
      kind: sourceKind === 0 ? "procedure" : "configuration",
      id: text(id),
      title: text(title),
      code: text(code),
      revision,
      critical: columns.critical[at] === 1,
      ...(step ? { step } : {}),
    } as const;
    const asked = {
      kind,
      source,
      prompt: text(columns.prompt[at]),
      given: (columns.given[at] ?? []).map(text),
      ...(photo < 0 ? {} : { photo: text(photo) }),
      key: list(columns.key[at]),
    };
    return {
      ...asked,
      id: idOf({ ...asked, platform }),
      proof: text(columns.proof[at]),
      why: text(columns.why[at]),
      ...(shows < 0 ? {} : { shows: text(shows) }),
      ...(arrangement === undefined ? {} : { drawn: { arrangement: text(arrangement), item: text(item) } }),
      wrong: list(columns.wrong[at]),
      worth: {
        points: columns.worth[at]! / 2,
        firstWeek: columns.firstWeek[at] === 1,
        because: (columns.because[at] ?? []).map(text),
      },
    };
  });
}
