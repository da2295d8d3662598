/** How much a change matters to those who were signed off before it: the least class that follows from what changed. */
import { plainBlocks, plainText, type RangeContent, type StepContent } from "./content.ts";
import { wordsOf } from "./edits.ts";

/**
 * `editorial`: no effect. `informative`: read it. `procedural`: be seen doing what changed. `critical`: a sign-off
 * lapses on the effective date.
 * A person may choose a higher class, never a lower one (classes: the project's own, from what document control asks
 * for: per change, who is affected and how).
 */
export type ChangeClass = "editorial" | "informative" | "procedural" | "critical";

/** What may change in a step. */
export type Aspect =
  | "instruction"
  | "reason"
  | "detail"
  | "alerts"
  | "critical"
  | "hold"
  | "by"
  | "band"
  | "parts"
  | "turns"
  | "checks"
  | "photo"
  | "takes"
  | "after"
  | "guards"
  | "name";

const ORDER: readonly ChangeClass[] = ["editorial", "informative", "procedural", "critical"];

/** The greatest of some classes; `editorial` for none. */
export function greatest(classes: readonly ChangeClass[]): ChangeClass {
  return classes.reduce((most, each) => (ORDER.indexOf(each) > ORDER.indexOf(most) ? each : most), "editorial");
}

/** Whether sign-offs made before a change of this class still stand. */
export function signOffsStand(changeClass: ChangeClass): boolean {
  return changeClass === "editorial" || changeClass === "informative";
}

/** What a changed text amounts to: `editorial` if only punctuation, case or spacing changed, else `informative`. */
export function classOfWords(before: string, after: string): ChangeClass {
  return wordsOf(before).join(" ") === wordsOf(after).join(" ") ? "editorial" : "informative";
}

/** The least class of a changed aspect of a step. */
export function classOfAspect(aspect: Aspect, before: StepContent, after: StepContent): ChangeClass {
  const critical = before.critical || after.critical;
  const doing: ChangeClass = critical ? "critical" : "procedural";
  switch (aspect) {
    case "critical":
      return "critical";
    case "hold":
    case "by":
    case "parts":
    case "turns":
      return doing;
    case "band":
      return sameRange(before.weight, after.weight) && sameRange(before.age, after.age) ? "editorial" : doing;
    case "checks":
      return sameWords(
        before.checks.map(({ challenge, answer, by }) => [challenge, answer, ...by]),
        after.checks.map(({ challenge, answer, by }) => [challenge, answer, ...by]),
      )
        ? "editorial"
        : doing;
    case "instruction": {
      const [was, is] = [plainText(before.instruction), plainText(after.instruction)];
      if (classOfWords(was, is) === "editorial") return "editorial";
      if (critical) return "critical";
      return countsAndNots(was) === countsAndNots(is) ? "informative" : "procedural";
    }
    case "reason":
      return classOfWords(plainText(before.reason ?? []), plainText(after.reason ?? []));
    case "detail":
      return classOfWords(plainBlocks(before.detail), plainBlocks(after.detail));
    case "alerts":
      return classOfWords(alertText(before), alertText(after));
    case "photo":
      return "informative";
    case "after":
      return critical ? "procedural" : "informative";
    case "takes":
    case "guards":
    case "name":
      return "editorial";
  }
}

/** The least class of a step that came or went. */
export function classOfStep(step: StepContent): ChangeClass {
  return step.critical ? "critical" : "procedural";
}

/** Whether two ranges hold the same patients, however they are worded. */
export function sameRange(a: RangeContent | undefined, b: RangeContent | undefined): boolean {
  return (
    JSON.stringify([a?.from?.value, a?.from?.owned, a?.to?.value, a?.to?.owned]) ===
    JSON.stringify([b?.from?.value, b?.from?.owned, b?.to?.value, b?.to?.owned])
  );
}

/** Whether two lists of texts hold the same words, punctuation aside. */
export function sameWords(a: readonly (readonly string[])[], b: readonly (readonly string[])[]): boolean {
  const words = (lists: readonly (readonly string[])[]) =>
    JSON.stringify(lists.map((list) => list.map((text) => wordsOf(text))));
  return words(a) === words(b);
}

function alertText({ alerts, alertsAfter }: StepContent): string {
  return plainBlocks([...alerts, ...alertsAfter]);
}

const COUNTS = new Set(
  (
    "zero one two three four five six seven eight nine ten eleven twelve both all each every no not never none " +
    "only without don't"
  ).split(" "),
);

/**
 * The numbers, counts and negations of a text in order. A change of these is a change of what is done. English words;
 * digits in any language.
 */
function countsAndNots(text: string): string {
  return wordsOf(text)
    .filter((word) => /\d/.test(word) || COUNTS.has(word))
    .join(" ");
}
