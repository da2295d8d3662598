/**
 * All questions that a platform's files answer. Nothing here is written by hand: change the files, and the questions
 * change with them.
 */
import type { Platform, Service } from "../../schema/collection.ts";
import { askApplies, askArrangements, askOptions } from "./questions/bands.ts";
import { askChecks, askMissingChecks, askReasons } from "./questions/checks.ts";
import { type Ground, layGround } from "./questions/ground.ts";
import { askLeftOut } from "./questions/left-out.ts";
import { askCounts, askHomes, askMissingItems } from "./questions/parts.ts";
import type { Question } from "./questions/question.ts";
import { askMissingSteps, askNext, askOrder } from "./questions/sequence.ts";
import { askCritical, askMarks, askPhotos, askWho } from "./questions/steps.ts";

const kinds: readonly ((ground: Ground) => Question[])[] = [
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
];

/**
 * Every question about a platform's approved procedures and configurations, in a fixed order and each once. Asking
 * oneself is
 * worth more than reading again: retrieval practice (S. C. Pan, T. C. Rickard, Transfer of test-enhanced learning,
 * Psychological
 * Bulletin 144 (2018) 710: d = 0.40 for transfer), weakest for what was not asked; so every safety-critical step is
 * asked about.
 */
export function listQuestions(service: Service, platform: Platform): Question[] {
  const ground = layGround(service, platform);
  const byId = new Map<string, Question>();
  for (const question of kinds.flatMap((ask) => ask(ground)))
    if (!byId.has(question.id)) byId.set(question.id, question);
  return [...byId.values()];
}
