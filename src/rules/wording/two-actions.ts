/** Instructions that ask for two actions, of which the second is easily left out. */
import type { Paragraph, Where } from "../../schema/collection.ts";
import type { Rule } from "../../findings/finding.ts";
import { isEnglish, ownSteps } from "../texts.ts";
import { sentencesOf } from "../words.ts";
import { HANDLING_VERB } from "./verbs.ts";

const CONDITION = "(?:(?:when|if|once|after|before|as soon as|with)\\b[^,]*,\\s*)?";
const ADVERB = "(?:(?:slowly|gently|firmly|again|first|now|carefully|fully)\\s+)?";
const FIRST = new RegExp(`^(?:then\\s+)?${CONDITION}(?:then\\s+)?${ADVERB}(${HANDLING_VERB})\\b`, "i");
const OBJECT =
  "(?:(?:up|down|in|out|on|off|back|over|away|home|round)\\s+)?" +
  "(?:the|a|an|both|each|all|every|its|your|their|this|that|these|those|any|" +
  "one|two|three|four|five|six|seven|eight|nine|ten|\\d+)\\b";
const THEN = new RegExp(`(?:,\\s*(?:and\\s+)?|;\\s*|\\band\\s+)?\\bthen\\s+${ADVERB}(${HANDLING_VERB})\\b`, "di");
const AND = new RegExp(`(?:[,;]\\s*(?:and\\s+)?|\\band\\s+)${ADVERB}(${HANDLING_VERB})\\s+${OBJECT}`, "di");
const AT_ONCE =
  /\b(?:while|at the same time|simultaneously|in one (?:movement|go)|as you|with (?:one|your|the other|both) hands?)\b/i;

/**
 * A step asks for one action. Fires on `do this, then do that`; on `do this and do that` when the second verb has an
 * object of its own
 * (`and hold it there`, `and set it down` go on with the same thing); and on two sentences that each give an order.
 * Verbs come from a
 * list of handling verbs, so that holding, looking and speaking may go along with an action. Words for "at once"
 * silence it.
 */
export const twoActions: Rule = {
  id: "wording/two-actions",
  severity: "warning",
  asks: "A step asks for one action.",
  why:
    "The second action of a step is the one that is left out, and nobody can say half a step is done. Actions " +
    "that go together at one moment may share a step if the sentence says so.",
  source:
    "ASD-STE100 Issue 9, one instruction a sentence unless actions happen at the same time (as quoted by " +
    "others); the same in audit lists for written procedures",
  byPlatform: true,
  check(collection, report) {
    if (!isEnglish(collection.service)) return;
    for (const { step } of ownSteps(collection)) {
      const second = findSecondAction(step.instruction);
      if (second)
        report(second.where, {
          message: `\`${second.verb}\` begins a second action in one step`,
          fix:
            "Make it a step of its own; if both happen at the same moment, say so (`while`, `at the same time`, " +
            "`with the other hand`)",
        });
    }
  },
};

/** Where an instruction begins a second action, with its verb; `undefined` if it has one action only. */
export function findSecondAction(instruction: Paragraph): { readonly verb: string; readonly where: Where } | undefined {
  let verbBefore: string | undefined;
  for (const sentence of sentencesOf(instruction)) {
    const first = FIRST.exec(sentence.text);
    if (!first) continue;
    const verb = first[1]!;
    if (verbBefore && verbBefore !== verb.toLowerCase())
      return { verb, where: sentence.whereAt(first[0].length - verb.length, verb.length) };
    verbBefore = verb.toLowerCase();
    if (AT_ONCE.test(sentence.text)) continue;
    const rest = sentence.text.slice(first[0].length);
    const and = AND.exec(rest);
    // `Press and turn the cap`: both verbs share the object.
    const [next] = [THEN.exec(rest), and && rest.slice(0, and.index).trim() ? and : null]
      .filter((match) => match !== null)
      .sort((a, b) => a.index - b.index);
    if (next)
      return { verb: next[1]!, where: sentence.whereAt(first[0].length + next.indices![1]![0], next[1]!.length) };
  }
  return undefined;
}
