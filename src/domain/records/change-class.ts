/** How much a change matters to those who were signed off before it: the least class that follows from what changed. */
import { plainBlocks, type BlockContent, type CheckContent, type RangeContent, type StepContent } from "./content.ts";
import { compareWords, type Verdict } from "./meaning.ts";
import { plainText } from "../words/say.ts";

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

/**
 * What a changed text that nobody acts by amounts to (a reason, a title): `editorial` if only punctuation, case or
 * spacing changed, else `informative`.
 */
export function classOfReading(before: string, after: string): ChangeClass {
  return compareWords(before, after) === "same" ? "editorial" : "informative";
}

/**
 * What a changed instruction amounts to. In a safety-critical step every rewording is critical; in another one that
 * is not known to say the same is to be seen.
 */
export function classOfInstruction(before: string, after: string, critical = false): ChangeClass {
  const verdict = compareWords(before, after);
  if (verdict === "same") return "editorial";
  if (critical) return "critical";
  return verdict === "alike" ? "informative" : "procedural";
}

/**
 * What a changed text beside an instruction amounts to: details, warnings, notes. A number, sign, unit, negation,
 * condition or opposite in it weighs as much as in the instruction; that something else is said in place of what was
 * said is to be seen where the step is safety-critical; what is said besides is to be read.
 */
export function classOfWords(before: string, after: string, critical = false): ChangeClass {
  return (critical ? IN_CRITICAL : IN_OTHERS)[compareWords(before, after)];
}

const IN_OTHERS: Readonly<Record<Verdict, ChangeClass>> = {
  same: "editorial",
  alike: "informative",
  more: "informative",
  doubtful: "informative",
  telling: "procedural",
};
const IN_CRITICAL: Readonly<Record<Verdict, ChangeClass>> = {
  ...IN_OTHERS,
  doubtful: "procedural",
  telling: "critical",
};

/** What a change of blocks amounts to: as their words, and procedural at least where a WARNING is gone or less. */
export function classOfBlocks(
  before: readonly BlockContent[],
  after: readonly BlockContent[],
  critical = false,
): ChangeClass {
  const warnings = (blocks: readonly BlockContent[]) =>
    blocks.filter((block) => block.kind === "alert" && block.signal === "warning").length;
  return greatest([
    classOfWords(plainBlocks(before), plainBlocks(after), critical),
    warnings(after) < warnings(before) ? "procedural" : "editorial",
  ]);
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
      return classOfChecks(before.checks, after.checks, doing);
    case "instruction":
      return classOfInstruction(plainText(before.instruction), plainText(after.instruction), critical);
    case "reason":
      return classOfReading(reasonsOf(before), reasonsOf(after));
    case "detail":
      return classOfBlocks(before.detail, after.detail, critical);
    case "alerts":
      return classOfBlocks(alertsOf(before), alertsOf(after), critical);
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

/** Why a step is done, and why nobody can notice a slip of it. */
function reasonsOf({ reason = [], unnoticed = "" }: StepContent): string {
  return `${plainText(reason)}\n${unnoticed}`;
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

/** What changed checks amount to: `doing`, unless their words and whoever answers are the same. */
export function classOfChecks(
  before: readonly CheckContent[],
  after: readonly CheckContent[],
  doing: ChangeClass,
): ChangeClass {
  const isSame = before.length === after.length && before.every((check, at) => isSameCheck(check, after[at]!));
  return isSame ? "editorial" : doing;
}

/** Whether two checks ask and answer the same, for the same line, of the same people, punctuation and case aside. */
export function isSameCheck(before: CheckContent, after: CheckContent): boolean {
  return (
    before.by.join(" ") === after.by.join(" ") &&
    before.replaces === after.replaces &&
    compareWords(before.challenge, after.challenge) === "same" &&
    compareWords(before.answer, after.answer) === "same"
  );
}

function alertsOf({ alerts, alertsAfter }: StepContent): readonly BlockContent[] {
  return [...alerts, ...alertsAfter];
}
