/** Words that leave open what to do or what is right. */
import { wordsFor } from "../../words/words.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { isEnglish, ownSteps, textsOf } from "../texts.ts";
import { sentencesOf } from "../words.ts";

/** At the beginning of a sentence or after a comma, `and` or `then`: as an order. */
const ORDER = /(?:^|[,;:]\s+|\b(?:and|then)\s+)(check|secure|verify|confirm|ensure|adjust)\b/di;
/**
 * After such an order, these say what is right, or how it is done: `check the gauge reads 100 bar`, `secure the base
 * with the lever`.
 */
const SAYS_WHAT =
  /\b(?:that|whether|if|for|reads?|shows?|says?|is|are|has|have|until|till|so|against|to|at least|at most|above|below|over|under|between|no|none)\b|\d/i;
const SAYS_HOW = /\b(?:with|by|using|until|till|so that)\b/i;
const ANYWHERE =
  /\b(ensure|make sure|as (?:required|necessary|needed|appropriate|applicable)|(?:if|when|where) (?:required|necessary|needed|appropriate|applicable)|properly|correctly|securely|appropriately|adequately|sufficiently|suitably|adequate|appropriate|suitable|is secure|are secure|secured|etc\.?|and so on)(?![\p{L}-])/iu;

/** Something of each word above: most sentences have none of it, and are passed by this look. */
const MAYBE =
  /check|secure|verify|confirm|ensure|adjust|make sure|required|necessary|needed|applicable|properly|correctly|appropriate|adequate|sufficiently|suitab|etc|so on/i;

const CHECKING = /^(?:check|verify|confirm)$/i;

const EMPTY_ANSWERS = new Set([
  "checked",
  "check",
  "set",
  "ok",
  "okay",
  "o.k.",
  "yes",
  "done",
  "good",
  "fine",
  "correct",
  "complete",
  "completed",
  "confirmed",
  "verified",
  "secure",
  "secured",
  "satisfactory",
  "normal",
  "as required",
  "ready",
]);

/** What to write in place of a vague word. */
const INSTEAD: readonly (readonly [RegExp, string])[] = [
  [
    /^(check|verify|confirm|adjust)/i,
    "Say what to look at or touch and what is then seen, or make it a `::check[…]{answer=…}`",
  ],
  [/secure/i, "Name the fastening and the state that is seen when it holds"],
  [/^(ensure|make sure)/i, "Say what to do, as an order"],
  [/^(as|if|when|where) /i, "Say when, and how much"],
  [/^(etc|and so on)/i, "Name the rest"],
  [/./, "Say what is seen, felt or heard when it is right"],
];

/**
 * An instruction says what to do and what is seen when it is done. Looks at steps' instructions and details; `check
 * that …` and `check the gauge reads …` name
 * what is right, so they pass; so does an order to check in a step whose `::check` says what is seen. A check's answer
 * is the value or sign seen. One finding a sentence: at the first such word.
 */
export const vague: Rule = {
  id: "wording/vague",
  severity: "warning",
  asks: "An instruction says what to do and what is seen when it is done; an answer says what is seen, not `checked`.",
  why:
    "`Secure`, `properly` and `as required` mean something else to each reader, and `checked` can be said " +
    "without looking.",
  source:
    "Degani & Wiener 1990, NASA CR-177549, appendix A (answers state the status or value, not `checked` or " +
    "`set`); audit lists for written procedures ask for explicit values",
  byPlatform: true,
  check(collection, report) {
    if (!isEnglish(collection.service)) return;
    const say = wordsFor(collection.service).findings;
    for (const { kind, paragraph, step } of textsOf(collection)) {
      if (kind !== "instruction" && kind !== "detail") continue;
      const hasAnswer = step?.checks.some(({ answer }) => answer.trim() && !isEmptyAnswer(answer));
      for (const sentence of sentencesOf(paragraph)) {
        const found = findVague(sentence.text);
        if (found && !(hasAnswer && CHECKING.test(found.words)))
          report(sentence.whereAt(found.offset, found.words.length), {
            message: say.vague({ words: found.words }),
            fix: fixFor(found.words),
            actual: found.words,
          });
      }
    }
    // `set` says something where a brake is `set` or `released`.
    const states = new Map(
      collection.platforms.map((platform) => [
        platform,
        new Set(platform.fastenings.flatMap((fastening) => fastening.states.map((state) => state.toLowerCase()))),
      ]),
    );
    const ofBodies = collection.platforms.flatMap((platform) =>
      [...platform.configurations, ...platform.options].flatMap(({ checks }) => ({ checks, platform })),
    );
    const ofSteps = ownSteps(collection).map(({ step: { checks }, platform }) => ({ checks, platform }));
    for (const { check, platform } of [...ofBodies, ...ofSteps].flatMap(({ checks, platform }) =>
      checks.map((check) => ({ check, platform })),
    ))
      if (isEmptyAnswer(check.answer) && !states.get(platform)!.has(check.answer.trim().toLowerCase()))
        report(whereOf(check, "answer"), {
          message: say.vagueAnswer({ answer: check.answer }),
          fix: say.vagueAnswerFix,
        });
  },
};

/** The first vague word of a sentence; `undefined` if there is none. */
export function findVague(text: string): { readonly words: string; readonly offset: number } | undefined {
  if (!MAYBE.test(text)) return undefined;
  const order = ORDER.exec(text);
  const isOpen =
    order &&
    (/^ensure/i.test(order[1]!) ||
      !(/^secure/i.test(order[1]!) ? SAYS_HOW : SAYS_WHAT).test(text.slice(order.indices![1]![1])));
  const word = ANYWHERE.exec(text);
  const found = [
    ...(isOpen ? [{ words: order[1]!, offset: order.indices![1]![0] }] : []),
    ...(word ? [{ words: word[1]!, offset: word.index }] : []),
  ].sort((a, b) => a.offset - b.offset);
  return found[0];
}

/** Whether every part of an answer can be said without looking. */
export function isEmptyAnswer(answer: string): boolean {
  const parts = answer
    .toLowerCase()
    .split(/,|\band\b|&|\//)
    .map((part) => part.replace(/[.!]+$/, "").trim())
    .filter(Boolean);
  return parts.length > 0 && parts.every((part) => EMPTY_ANSWERS.has(part));
}

function fixFor(words: string): string {
  return INSTEAD.find(([pattern]) => pattern.test(words))![1];
}
