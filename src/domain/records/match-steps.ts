/** Which step of an earlier issue is which step of a later one, and which of them moved. */
import type { ProcedureContent, StepContent } from "./content.ts";
import { plainText } from "../words/say.ts";
import { likeness, surelyRising } from "./edits.ts";
import { canonicalJson } from "./freeze.ts";

/**
 * A step with its number in its procedure (from 1) and the heading above it. Steps of an include count in the other
 * procedure.
 */
export interface NumberedStep {
  readonly number: number;
  readonly section: string;
  readonly step: StepContent;
  /** Numbers of the steps of this issue for which it waits, rising. */
  readonly waitsFor: readonly number[];
}

/** Two steps that are the same one. */
interface Pair {
  readonly before: NumberedStep;
  readonly after: NumberedStep;
  /** It stands in another order among the steps that stayed; of two that changed places, both do. */
  readonly moved: boolean;
}

/** Steps whose instructions have less than this in common are different steps. */
const LIKE = 0.5;
/** The same for steps whose ids differ. */
const NEARLY_SAME = 0.85;

/** The steps of a procedure's own in order. */
export function numberedSteps(content: ProcedureContent): NumberedStep[] {
  const steps = content.sections.flatMap(({ title, entries }) =>
    entries.filter((entry) => entry.kind === "step").map((step) => ({ section: title, step })),
  );
  const numberOf = new Map(steps.map(({ step }, at) => [step.id, at + 1]));
  return steps.map((entry, at) => ({
    number: at + 1,
    ...entry,
    waitsFor: entry.step.after.flatMap((id) => numberOf.get(id) ?? []).sort((a, b) => a - b),
  }));
}

/**
 * The steps that are in both issues, in the later one's order. Steps are the same by their `#id`; else if nothing in
 * them changed but their names; else by their
 * words (half of them in common, at least) or by moving and turning the same things with any word in common, best
 * first.
 * Steps with different ids need nearly the same words.
 */
export function matchSteps(before: readonly NumberedStep[], after: readonly NumberedStep[]): Pair[] {
  const pairs: { before: NumberedStep; after: NumberedStep }[] = [];
  const free = (list: readonly NumberedStep[], side: "before" | "after") =>
    list.filter((step) => !pairs.some((pair) => pair[side] === step));
  for (const later of after) {
    const earlier = later.step.id && free(before, "before").find(({ step }) => step.id === later.step.id);
    if (earlier) pairs.push({ before: earlier, after: later });
  }
  for (const later of free(after, "after")) {
    const earlier = free(before, "before").find(({ step }) => withoutNames(step) === withoutNames(later.step));
    if (earlier) pairs.push({ before: earlier, after: later });
  }
  const candidates = free(after, "after").flatMap((later) =>
    free(before, "before").map((earlier) => ({ before: earlier, after: later, score: scoreOf(earlier, later) })),
  );
  candidates.sort((a, b) => b.score - a.score || a.after.number - b.after.number || a.before.number - b.before.number);
  for (const { before: earlier, after: later, score } of candidates)
    if (score >= LIKE && !pairs.some((pair) => pair.before === earlier || pair.after === later))
      pairs.push({ before: earlier, after: later });
  const inOrder = pairs.sort((a, b) => a.after.number - b.after.number);
  const stays = surelyRising(inOrder.map((pair) => pair.before.number));
  return inOrder.map((pair, at) => ({ ...pair, moved: !stays.has(at) }));
}

/** Whether a moved step, or one that it was moved across, is safety-critical. */
export function movedAcrossCritical(pair: Pair, pairs: readonly Pair[]): boolean {
  const isCritical = ({ before, after }: Pair) => before.step.critical || after.step.critical;
  return (
    pair.moved &&
    (isCritical(pair) ||
      pairs.some(
        (other) =>
          isCritical(other) && other.before.number < pair.before.number !== other.after.number < pair.after.number,
      ))
  );
}

function withoutNames({ id: _id, after: _after, ...step }: StepContent): string {
  return canonicalJson(step);
}

function scoreOf({ step: before }: NumberedStep, { step: after }: NumberedStep): number {
  const words = likeness(plainText(before.instruction), plainText(after.instruction));
  if (before.id && after.id) return words >= NEARLY_SAME ? words : 0;
  const sameHandling =
    before.operations.length > 0 && canonicalJson(before.operations) === canonicalJson(after.operations);
  return sameHandling && words > 0 ? Math.max(words, LIKE) : words;
}
