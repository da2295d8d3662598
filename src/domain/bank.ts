/** A bank of questions as it is sent to a browser: every text once. */
import type { Askable } from "./paper.ts";
import type { Question, QuestionKind, Source } from "./questions/question.ts";

/** Texts, then questions as rows of numbers into them: short to send, and nothing in it can be run. */
export interface PackedBank {
  readonly texts: readonly string[];
  readonly sources: readonly (readonly [kind: 0 | 1, id: number, title: number, code: number, revision: number])[];
  readonly questions: readonly PackedQuestion[];
}

type PackedQuestion = readonly [id: string, kind: number, source: number, step: number, critical: 0 | 1, prompt: number, photo: number, proof: number, given: readonly number[], key: readonly number[], wrong: readonly number[]];

/** Packs questions. Ids lose their platform and source, which `unpackBank` puts back. */
export function packBank(questions: readonly Question[]): PackedBank {
  const texts: string[] = [];
  const numbers = new Map<string, number>();
  const textOf = (text: string) => {
    if (!numbers.has(text)) numbers.set(text, texts.push(text) - 1);
    return numbers.get(text)!;
  };
  const sources: PackedBank["sources"][number][] = [];
  const sourceNumbers = new Map<string, number>();
  const sourceOf = ({ kind, id, title, code, revision }: Source) => {
    const key = `${kind} ${id}`;
    if (!sourceNumbers.has(key)) sourceNumbers.set(key, sources.push([kind === "procedure" ? 0 : 1, textOf(id), textOf(title), textOf(code), revision]) - 1);
    return sourceNumbers.get(key)!;
  };
  const packed = questions.map(({ id, kind, source, prompt, photo, proof, given, key, wrong }): PackedQuestion => [
    id.slice(id.lastIndexOf("/") + 1), textOf(kind), sourceOf(source), source.step ?? 0, source.critical ? 1 : 0, textOf(prompt), photo === undefined ? -1 : textOf(photo), textOf(proof),
    given.map(textOf), key.map(({ text }) => textOf(text)), wrong.map(({ text }) => textOf(text)),
  ]);
  return { texts, sources, questions: packed };
}

/** The questions of a packed bank, as much of them as a paper needs. */
export function unpackBank({ texts, sources, questions }: PackedBank, platform: string): Askable[] {
  const text = (number: number) => texts[number] ?? "";
  return questions.map(([hash, kind, source, step, critical, prompt, photo, proof, given, key, wrong]) => {
    const [sourceKind, id, title, code, revision] = sources[source]!;
    return {
      id: `${platform}/${text(id)}/${text(kind)}/${hash}`, kind: text(kind) as QuestionKind,
      source: { kind: sourceKind === 0 ? "procedure" : "configuration", id: text(id), title: text(title), code: text(code), revision, critical: critical === 1, ...(step ? { step } : {}) },
      prompt: text(prompt), given: given.map(text), ...(photo < 0 ? {} : { photo: text(photo) }), proof: text(proof),
      key: key.map((each) => ({ text: text(each) })), wrong: wrong.map((each) => ({ text: text(each) })),
    };
  });
}
