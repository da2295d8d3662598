/**
 * Questions about checks and reasons: which answer a challenge asks for, which line a card lacks, why a step is done.
 */
import type { Check, Procedure, Step } from "../../../schema/collection.ts";
import { plainText, sayInstruction } from "../../words/say.ts";
import { fromConfiguration, fromProcedure, type Ground, isUnmistakable, thingsOfStep } from "./ground.ts";
import {
  type AnswerChoice,
  contentWords,
  makeQuestion,
  type Question,
  readAlike,
  sharedWords,
  type QuestionSource,
} from "./question.ts";

/** A check with where it stands. */
interface Placed {
  readonly check: Check;
  /** Its challenge and its answer as `readAlike` gives them. */
  readonly asks: string;
  readonly answers: string;
  readonly source: QuestionSource;
  readonly document: string;
}

/** Which answer a challenge asks for. Wrong: answers to other challenges that share no word of meaning with it. */
export function askChecks(ground: Ground): Question[] {
  const all = placedChecks(ground);
  return all.flatMap(({ check, asks, source, document }) => {
    const here = all.filter((each) => each.document === document);
    // The same challenge asked twice in one document with two answers has no one answer.
    if (here.filter((each) => each.asks === asks).length > 1) return [];
    const right = [...new Map(all.filter((each) => each.asks === asks).map((each) => [each.answers, each])).values()];
    const wrong = [...here, ...all.filter((each) => each.document !== document)]
      .filter((each) => each.asks !== asks && sharedWords(each.check.challenge, check.challenge) === 0)
      .filter((each) => right.every((other) => areUnlike(other, each)));
    return (
      makeQuestion({
        kind: "check",
        platform: ground.platform.id,
        source,
        asks: { document, challenge: check.challenge },
        prompt: `${source.title}. The challenge is “${check.challenge}”. What must be seen?`,
        key: [{ text: check.answer, means: check.challenge }],
        wrong: wrong.map((each): AnswerChoice => ({ text: each.check.answer, means: each.check.challenge })),
        proof:
          `${source.step === undefined ? "The card" : `Step ${source.step}`} gives this answer to it; the ` +
          "others answer something else.",
      }) ?? []
    );
  });
}

/** Whether two answers say nothing in common, so that one can't pass for the other. */
function areUnlike(
  { check: { answer: a }, answers: one }: Placed,
  { check: { answer: b }, answers: other }: Placed,
): boolean {
  return one !== other && sharedWords(a, b) === 0 && contentWords(a).size > 0 && contentWords(b).size > 0;
}

function placedChecks({ platform, arrangements }: Ground): Placed[] {
  const cards = arrangements
    .filter(({ options }) => options.length === 0)
    .flatMap(({ configuration }) =>
      configuration.checks.map((check) => ({
        check,
        ...formsOf(check),
        source: fromConfiguration(configuration, true),
        document: `configuration ${configuration.id}`,
      })),
    );
  const steps = platform.procedures
    .filter(({ status }) => status === "approved")
    .flatMap((procedure) =>
      procedure.steps
        .filter((step) => step.procedure === procedure.id)
        .flatMap((step) =>
          step.checks.map((check) => ({
            check,
            ...formsOf(check),
            source: fromProcedure(procedure, step),
            document: `procedure ${procedure.id}`,
          })),
        ),
    );
  return [...cards, ...steps];
}

function formsOf({ challenge, answer }: Check): Pick<Placed, "asks" | "answers"> {
  return { asks: readAlike(challenge), answers: readAlike(answer) };
}

/** Which challenge a card lacks. Wrong: challenges that are on other cards or in procedures, and not on this one. */
export function askMissingChecks(ground: Ground): Question[] {
  const all = placedChecks(ground);
  return ground.arrangements
    .filter(({ options }) => options.length === 0)
    .flatMap(({ configuration }) => {
      const { checks } = configuration;
      const others = all.filter(({ check }) => !checks.some((own) => sharedWords(own.challenge, check.challenge) > 0));
      if (checks.length < 4) return [];
      return checks
        .filter(
          (check) => checks.filter((other) => readAlike(other.challenge) === readAlike(check.challenge)).length === 1,
        )
        .flatMap(
          (check) =>
            makeQuestion({
              kind: "missing",
              platform: ground.platform.id,
              source: fromConfiguration(configuration, true),
              asks: { card: configuration.id },
              prompt: `The card of ${configuration.title}. Which challenge is missing from this list?`,
              given: checks.filter((other) => other !== check).map(({ challenge }) => challenge),
              key: [{ text: check.challenge, means: check.challenge }],
              wrong: others.map(({ check: { challenge } }) => ({ text: challenge, means: challenge })),
              proof: `The card asks for it, with the answer “${check.answer}”; none of the others is on it.`,
            }) ?? [],
        );
    });
}

/** A step that gives its reason, with all that another step may not have in common with it. */
interface Reasoned {
  readonly procedure: Procedure;
  readonly step: Step;
  readonly reason: string;
  /** Its things, and its words of meaning. */
  readonly marks: ReadonlySet<string>;
}

/**
 * Why a step is done. Wrong: reasons of steps that have no item, place, fastening, photo, incident or word of meaning
 * in common with it.
 */
export function askReasons({ platform }: Ground): Question[] {
  const steps = platform.procedures
    .filter(({ status }) => status === "approved")
    .flatMap((procedure) =>
      procedure.steps
        .filter((step) => step.procedure === procedure.id && step.reason)
        .map((step): Reasoned => ({ procedure, step, reason: reasonOf(step), marks: marksOf(step) })),
    );
  const byMark = new Map<string, number[]>();
  for (const [at, { marks }] of steps.entries())
    for (const mark of marks) {
      const list = byMark.get(mark);
      if (list) list.push(at);
      else byMark.set(mark, [at]);
    }
  return steps.flatMap(({ procedure, step, reason, marks }, own) => {
    if (!isUnmistakable(procedure.steps, step) || !reason) return [];
    const near = new Uint8Array(steps.length);
    near[own] = 1;
    for (const mark of marks) for (const at of byMark.get(mark) ?? []) near[at] = 1;
    const wrong = steps
      .filter((_, at) => !near[at])
      .map((other) => ({ other, near: nearness(procedure, other.procedure) }));
    return (
      makeQuestion({
        kind: "reason",
        platform: platform.id,
        source: fromProcedure(procedure, step),
        asks: { procedure: procedure.id, step: String(step.number) },
        prompt: `${procedure.title}. “${sayInstruction(step)}” Why?`,
        key: [{ text: reason, means: `${procedure.id}/${step.number}` }],
        wrong: wrong
          .sort((a, b) => b.near - a.near)
          .map(({ other }) => ({ text: other.reason, means: `${other.procedure.id}/${other.step.number}` })),
        proof: `Step ${step.number} gives this reason; the others belong to steps that touch none of the same things.`,
      }) ?? []
    );
  });
}

function reasonOf({ reason }: Step): string {
  const text = reason ? plainText(reason.children).trim() : "";
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The things that a step touches, and the words of meaning in what it says. */
function marksOf(step: Step): Set<string> {
  const text = `${sayInstruction(step)} ${reasonOf(step)} ${step.checks.map(({ challenge }) => challenge).join(" ")}`;
  // A word has no blank in it; the things are told from words by one.
  return new Set([...thingsOfStep(step).map((thing) => `${thing} `), ...contentWords(text)]);
}

function nearness(a: Procedure, b: Procedure): number {
  return a === b ? 2 : sharedWords(a.title, b.title) > 0 ? 1 : 0;
}
