/** Questions about the order of steps: what comes next, put these in order, which step is missing. */
import type { Step } from "../../../schema/collection.ts";
import type { Program } from "../../states/model.ts";
import { sayInstruction } from "../../words/say.ts";
import { fromProcedure, type Ground, isSameDeed, isUnmistakable, sayVariant, stepsElsewhere } from "./ground.ts";
import { ownFirst } from "./near.ts";
import { type AnswerChoice, makeQuestion, type MadeQuestion } from "./question.ts";
import { heard } from "../../../words/heard.ts";

/** How many lines are to be put in order. */
const LINES = 4;
/** A list with a step missing shows at most so many on either side of it. */
const ON_A_SIDE = 2;

/**
 * What comes next. Wrong: steps that no order which can be done has there, steps already done, and steps of procedures
 * near this one.
 */
export function askNext(ground: Ground): MadeQuestion[] {
  return programsOf(ground).flatMap((program) => {
    const { procedure, steps } = program;
    const orders = ground.ordersOf(program);
    if (!orders) return [];
    return steps.flatMap((step, at) => {
      const last = steps[at - 1];
      if (!isUnmistakable(steps, step) || (last && !isUnmistakable(steps, last))) return [];
      const other = (index: number) => index !== at && !isSameDeed(steps[index]!, step);
      const later = steps.flatMap((each, index) =>
        index > at && other(index) && !orders.canFollow(at, index) ? [each] : [],
      );
      const done = steps.flatMap((each, index) => (index < at - 1 && other(index) ? [each] : [])).reverse();
      const elsewhere = stepsElsewhere(ground, procedure, steps, step, 4);
      const near = [...later.slice(0, 3), ...done.slice(0, 2), ...later.slice(3, 5)];
      const wrong = ownFirst(
        near.map(choiceOf),
        elsewhere.map((each) => ({ text: sayInstruction(each), means: `${each.procedure}/${each.number}` })),
      );
      return (
        makeQuestion({
          kind: "next",
          platform: ground.platform.id,
          source: fromProcedure(procedure, step),
          asks: { procedure: procedure.id, steps: numbersOf(steps), done: String(at) },
          prompt: last
            ? heard("questionsSequence").everythingUp({
                procedure: procedure.title,
                ground: sayVariant(ground, program),
                last: sayInstruction(last),
              })
            : heard("questionsSequence").whatComesFirst({
                procedure: procedure.title,
                ground: sayVariant(ground, program),
              }),
          key: [choiceOf(step)],
          wrong,
          proof: last
            ? heard("questionsSequence").stepAfterStep({
                number: step.number,
                last: last.number,
                why: whyNow(steps, at),
              })
            : heard("questionsSequence").stepNothingComesBefore({ number: step.number }),
        }) ?? []
      );
    });
  });
}

function whyNow(steps: readonly Step[], at: number): string {
  const step = steps[at]!;
  if (step.hold) return heard("questionsSequence").itIsAHold;
  const after = step.after.flatMap(({ id }) => steps.slice(0, at).find((other) => other.id === id)?.number ?? []);
  return after.length
    ? heard("questionsSequence").itFollowsStep({ after: after.join(heard("questionsSequence").andStep) })
    : "";
}

/** Put these in order: only steps of which each must come before the next in every order that can be done. */
export function askOrder(ground: Ground): MadeQuestion[] {
  return programsOf(ground).flatMap((program) => {
    const { procedure, steps } = program;
    const orders = ground.ordersOf(program);
    if (!orders) return [];
    const chains = new Map<string, number[]>();
    steps.forEach((_, first) => {
      const chain = [first];
      for (let next = first + 1; next < steps.length && chain.length < LINES; next++)
        if (orders.isForced(chain.at(-1)!, next)) chain.push(next);
      if (chain.length >= 3 && chain.every((at) => isUnmistakable(steps, steps[at]!)))
        chains.set(chain.join(" "), chain);
    });
    return [...chains.values()].flatMap(
      (chain) =>
        makeQuestion({
          kind: "order",
          platform: ground.platform.id,
          source: { ...fromProcedure(procedure, steps[chain[0]!]!), critical: chain.some((at) => steps[at]!.critical) },
          asks: { procedure: procedure.id, steps: numbersOf(steps) },
          prompt: heard("questionsSequence").putTheseSteps({
            procedure: procedure.title,
            ground: sayVariant(ground, program),
          }),
          key: chain.map((at) => choiceOf(steps[at]!)),
          wrong: [],
          proof: heard("questionsSequence").theyAreStepsEach({
            chain: chain.map((at) => steps[at]!.number).join(", "),
          }),
        }) ?? [],
    );
  });
}

/**
 * Which step is missing from a stretch of the procedure. Wrong: steps of the same procedure that every order which can
 * be done has before or after the stretch, and steps of procedures near this one that do nothing which this one does.
 */
export function askMissingSteps(ground: Ground): MadeQuestion[] {
  return programsOf(ground).flatMap((program) => {
    const { procedure, steps } = program;
    const orders = ground.ordersOf(program);
    return steps.flatMap((step, at) => {
      // At the end of a stretch nothing tells that it is missing: what comes after the other end would do as well.
      if (at === 0 || at === steps.length - 1) return [];
      if (!isUnmistakable(steps, step) || steps.length < 4) return [];
      const first = Math.max(0, Math.min(at - ON_A_SIDE, steps.length - 1 - 2 * ON_A_SIDE)),
        last = Math.min(steps.length - 1, first + 2 * ON_A_SIDE);
      const shown = steps.slice(first, last + 1).filter((each) => each !== step);
      if (!shown.every((each) => isUnmistakable(steps, each))) return [];
      const isOutside = (index: number) =>
        (index < first && (orders?.isForced(index, first) ?? false)) ||
        (index > last && (orders?.isForced(last, index) ?? false));
      const own = steps
        .filter((other, index) => isOutside(index) && !isSameDeed(other, step) && isUnmistakable(steps, other))
        .sort((a, b) => Math.abs(a.number - step.number) - Math.abs(b.number - step.number));
      const others = stepsElsewhere(ground, procedure, procedure.steps, step, 8).map((each) => ({
        text: sayInstruction(each),
        means: `${each.procedure}/${each.number}`,
      }));
      return (
        makeQuestion({
          kind: "missing",
          platform: ground.platform.id,
          source: fromProcedure(procedure, step),
          asks: { procedure: procedure.id, steps: numbersOf(steps), shown: numbersOf(shown) },
          prompt: heard("questionsSequence").thisIsAStretch({
            procedure: procedure.title,
            ground: sayVariant(ground, program),
          }),
          given: shown.map(sayInstruction),
          key: [choiceOf(step)],
          wrong: ownFirst(own.map(choiceOf), others),
          proof: heard("questionsSequence").itIsStep({
            number: step.number,
            safetyCritical: step.critical ? heard("questionsSequence").safetyCritical : "",
          }),
        }) ?? []
      );
    });
  });
}

/** Programs that run somewhere; what runs nowhere is a finding, not a lesson. */
function programsOf({ starts }: Ground): Program[] {
  return [...starts].filter(([, states]) => states.length > 0).map(([program]) => program);
}

function choiceOf(step: Step): AnswerChoice {
  return { text: sayInstruction(step), means: String(step.number) };
}

function numbersOf(steps: readonly Step[]): string {
  return steps.map(({ number }) => number).join(" ");
}
