/** What changed in a step, aspect by aspect, in words that a crew reads: what it was and what it is. */
import type { Words } from "../../words/hear.ts";
import type { Crew } from "../../schema/collection.ts";
import { classOfAspect, type Aspect, type ChangeClass } from "./change-class.ts";
import {
  plainBlocks,
  type AlertContent,
  type OperationContent,
  type PhotoContent,
  type StepContent,
} from "./content.ts";
import type { StepChange } from "./revisions.ts";
import { plainText, sayDuration, sayWho, sayWhoInside } from "../words/say.ts";
import { heard } from "../../words/heard.ts";
import { sayRangeText } from "../bands/say-range-text.ts";

/** Names of what ids stand for; an id that is gone names itself. */
export interface ThingNames {
  readonly item: (id: string) => string;
  readonly place: (id: string) => string;
  readonly fastening: (id: string) => string;
  readonly option: (id: string) => string;
  readonly incident: (id: string) => string;
  readonly crew: readonly Crew[];
  readonly words: Words["records"];
}

/** One aspect of a step before and after. Without `was` it is new, without `is` it is gone. */
export interface StepLine {
  readonly aspect: Aspect | "moved";
  /** A short word for a mark: `Reworded`, `Made safety-critical`. */
  readonly mark: string;
  /** What it is about: `Instruction`, `Check`. */
  readonly what: string;
  readonly was?: string;
  readonly is?: string;
  /** Pictures before and after, for the aspect `photo`. */
  readonly photos?: { readonly was: readonly PhotoContent[]; readonly is: readonly PhotoContent[] };
  readonly class: ChangeClass;
}

const marksOf = (
  say: Words["stepLines"],
): Readonly<Record<Exclude<Aspect, "critical" | "hold">, readonly [mark: string, what: string]>> => ({
  name: [say.renamed, say.nameOfStep],
  by: [say.doneByOthers, say.who],
  band: ["", say.forWhom],
  alerts: [say.warningChanged, say.warning],
  instruction: [say.reworded, say.instruction],
  reason: [say.reasonChanged, say.why],
  detail: [say.detailChanged, say.detail],
  parts: [say.partsChanged, say.moves],
  turns: [say.turnChanged, say.turns],
  checks: [say.checkChanged, say.check],
  photo: [say.photoChanged, say.photo],
  takes: [say.timeChanged, say.time],
  after: [say.waitsForOtherSteps, say.waitsFor],
  guards: [say.guardsChanged, say.guardsAgainst],
});

/**
 * The changed aspects of a step that is in both issues, in the order of the page; moved comes first. Empty for one that
 * was added, removed or left as it was.
 */
export function stepLines(change: StepChange, names: ThingNames): StepLine[] {
  const { before, after, aspects, moved } = change;
  if (!before || !after) return [];
  const line = (aspect: Aspect): StepLine => {
    const shared = { aspect, class: classOfAspect(aspect, before.step, after.step) };
    if (aspect === "critical")
      return {
        ...shared,
        mark: after.step.critical ? heard("stepLines").madeSafetyCritical : heard("stepLines").noLongerSafetyCritical,
        what: heard("stepLines").safetyCritical,
        was: yesOrNo(before.step.critical),
        is: yesOrNo(after.step.critical),
      };
    if (aspect === "hold")
      return {
        ...shared,
        mark: after.step.hold ? heard("stepLines").madeAHold : heard("stepLines").noLongerAHold,
        what: heard("stepLines").hold,
        was: yesOrNo(before.step.hold),
        is: after.step.hold ? heard("stepLines").nobodyGoesOnUntil : heard("stepLines").no,
      };
    const [usual, what] = marksOf(heard("stepLines"))[aspect],
      mark = aspect === "band" ? names.words.otherPatients : usual;
    const [was, is] = [before, after].map((each) =>
      aspect === "after" ? sayNumbers(each.waitsFor) : textOf(aspect, each.step, names),
    );
    const photos = aspect === "photo" ? { photos: { was: before.step.photos, is: after.step.photos } } : {};
    return { ...shared, mark, what, ...(was ? { was } : {}), ...(is ? { is } : {}), ...photos };
  };
  const place: StepLine[] = moved
    ? [
        {
          aspect: "moved",
          mark: heard("stepLines").moved,
          what: heard("stepLines").place,
          was: heard("stepLines").step({ number: before.number }),
          is: heard("stepLines").step({ number: after.number }),
          class: change.class,
        },
      ]
    : [];
  return [...place, ...aspects.map(line)];
}

const yesOrNo = (is: boolean): string => (is ? heard("stepLines").yes : heard("stepLines").no);

/**
 * Who, for whom, what it moves and turns and how it is checked: all that a new or removed step asks for, one line each.
 */
export function stepFacts(step: StepContent, names: ThingNames): { readonly what: string; readonly text: string }[] {
  return (["by", "band", "alerts", "detail", "reason", "parts", "turns", "checks"] as const).flatMap((aspect) => {
    const text = textOf(aspect, step, names);
    const isForAll = aspect === "band" && !step.weight && !step.age;
    return text && !isForAll ? [{ what: marksOf(heard("stepLines"))[aspect][1], text }] : [];
  });
}

/** The instruction of a step as plain words. */
export function instructionOf(step: StepContent): string {
  return plainText(step.instruction).trim();
}

/** Steps by the numbers that they have in their issue. */
const sayNumbers = (numbers: readonly number[]): string =>
  numbers.map((number) => heard("stepLines").step({ number })).join(", ");

function textOf(aspect: Exclude<Aspect, "critical" | "hold" | "after">, step: StepContent, names: ThingNames): string {
  switch (aspect) {
    case "name":
      return step.id ?? "";
    case "by":
      return sayWho(step.by, names.crew);
    case "band":
      return (
        [step.weight, step.age].flatMap((range) => (range ? [sayRangeText(range.text)] : [])).join(", ") ||
        heard("stepLines").everybodyWhomTheProcedure
      );
    case "alerts":
      return alertText([...step.alerts, ...step.alertsAfter]);
    case "instruction":
      return instructionOf(step);
    case "reason":
      return [
        plainText(step.reason ?? []).trim(),
        step.unnoticed && heard("stepLines").ifNobodyNotices({ unnoticed: step.unnoticed }),
      ]
        .filter(Boolean)
        .join("\n");
    case "detail":
      return plainBlocks(step.detail);
    case "parts":
      return operationText(
        step.operations.filter(({ kind }) => kind === "move"),
        names,
      );
    case "turns":
      return operationText(
        step.operations.filter(({ kind }) => kind === "turn"),
        names,
      );
    case "checks":
      return step.checks
        .map(
          ({ challenge, answer, by }) =>
            `${challenge}: ${answer}${by.length ? ` (${sayWhoInside(by, names.crew)})` : ""}`,
        )
        .join("\n");
    case "photo":
      return step.photos
        .map(({ id, alt, taken }) => `${alt ?? id}${taken ? heard("stepLines").taken({ taken }) : ""}`)
        .join("\n");
    case "takes":
      return sayDuration(step.takesSeconds);
    case "guards":
      return step.guards.map(names.incident).join("\n");
  }
}

function operationText(operations: readonly OperationContent[], { item, place, fastening }: ThingNames): string {
  return operations
    .map((operation) =>
      operation.kind === "move"
        ? heard("turning").itemFromTo({
            count: operation.count,
            item: item(operation.item),
            from: place(operation.from),
            to: place(operation.to),
          })
        : heard("turning").fromTo({ from: fastening(operation.fastening), to: operation.to }),
    )
    .join("\n");
}

function alertText(alerts: readonly AlertContent[]): string {
  return alerts.map(({ signal, children }) => `${signal.toUpperCase()}: ${plainBlocks(children)}`).join("\n");
}
