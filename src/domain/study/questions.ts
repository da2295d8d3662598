/**
 * All questions that a platform's files answer. Nothing here is written by hand: change the files, and the questions
 * change with them.
 */
import { remember } from "../words/remember.ts";
import type { Platform, Service } from "../../schema/collection.ts";
import { askApplies, askArrangements, askOptions } from "./questions/bands.ts";
import { askChecks, askMissingChecks, askReasons } from "./questions/checks.ts";
import { type Ground, layGround } from "./questions/ground.ts";
import { askLeftOut } from "./questions/left-out.ts";
import { askCounts, askHomes, askMissingItems } from "./questions/parts.ts";
import type { MadeQuestion, Question } from "./questions/question.ts";
import { reasonOf } from "./questions/checks.ts";
import { askMissingSteps, askNext, askOrder } from "./questions/sequence.ts";
import { askCritical, askMarks, askPhotos, askPictures, askWho } from "./questions/steps.ts";

const kinds: readonly ((ground: Ground) => MadeQuestion[])[] = [
  askArrangements,
  askOptions,
  askApplies,
  askNext,
  askOrder,
  askMissingSteps,
  askMissingItems,
  askMissingChecks,
  askHomes,
  askCounts,
  askChecks,
  askLeftOut,
  askReasons,
  askCritical,
  askWho,
  askPhotos,
  askMarks,
  askPictures,
];

/**
 * Every question about a platform's approved procedures and configurations, in a fixed order and each once. Asking
 * oneself is
 * worth more than reading again: retrieval practice (S. C. Pan, T. C. Rickard, Transfer of test-enhanced learning,
 * Psychological
 * Bulletin 144 (2018) 710: d = 0.40 for transfer), weakest for what was not asked; so every safety-critical step is
 * asked about.
 */
export const listQuestions: (service: Service, platform: Platform) => readonly Question[] =
  /* @__PURE__ */ remember(makeQuestions);

function makeQuestions(service: Service, platform: Platform): Question[] {
  const ground = layGround(service, platform);
  const once = new Map<string, MadeQuestion>();
  for (const question of kinds.flatMap((ask) => ask(ground))) {
    const same = sameOf(question);
    if (!once.has(same)) once.set(same, question);
  }
  return [...once.values()].map((question) => ({ ...question, ...answerOf(platform, question) }));
}

/** What questions have in common that differ only in the patient whose steps they are about: one of them is enough. */
function sameOf({ id, kind, source, key, given }: MadeQuestion): string {
  return kind === "next" || kind === "order" || kind === "missing" || kind === "left-out"
    ? JSON.stringify([kind, source.kind, source.id, key.map(({ text }) => text), kind === "missing" ? given : []])
    : id;
}

/** What is shown with the answer to a question: what the author says of its step, and the step's first photo. */
function answerOf({ procedures }: Platform, { kind, source, photo }: MadeQuestion): Pick<Question, "why" | "shows"> {
  const step =
    source.kind === "procedure" && source.step !== undefined
      ? procedures.find(({ id }) => id === source.id)?.steps[source.step - 1]
      : undefined;
  if (!step) return { why: "" };
  const shows = photo === undefined && kind !== "picture" ? step.photos[0]?.id : undefined;
  return { why: kind === "reason" ? "" : reasonOf(step), ...(shows === undefined ? {} : { shows }) };
}
