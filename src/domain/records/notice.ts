/**
 * What a new issue asks people to do differently, in sentences, for a notice of one page; and which steps carry a
 * change bar.
 */
import { signOffsStand, type ChangeClass } from "./change-class.ts";
import {
  plainBlocks,
  type BlockContent,
  type CheckContent,
  type RequirementContent,
  type StepContent,
} from "./content.ts";
import { sayWhoInside } from "../words/say.ts";
import type { Difference, FieldChange, StepChange } from "./revisions.ts";
import { instructionOf, stepFacts, stepLines, type ThingNames } from "./step-lines.ts";
import { heard } from "../../words/heard.ts";
import { sayRangeText } from "../bands/say-range-text.ts";

/** One thing to do differently, or to know. */
export interface NoticePoint {
  /** Step of the later issue that it is about; absent for what is about the whole, or a step that is gone. */
  readonly step?: number;
  /** What that step says, unless the text says it. */
  readonly instruction?: string;
  /** Number of a step of the earlier issue that is gone. */
  readonly gone?: number;
  readonly text: string;
  /** What was written before, where that helps to unlearn it. */
  readonly was?: string;
  readonly class: ChangeClass;
  /** Crew role ids of whoever does the step. */
  readonly by: readonly string[];
}

/**
 * What changed in sentences: `different` is what is done otherwise, `also` is what to know. Changes of form only
 * (punctuation, time, guards) are left out.
 */
export interface Notice {
  readonly different: readonly NoticePoint[];
  readonly also: readonly NoticePoint[];
}

/** The points of a notice in the order of the procedure; what is about the whole stands first. */
export function noticeOf(difference: Difference, names: ThingNames): Notice {
  const points = [
    ...difference.fields.flatMap((field) => fieldPoints(field, names)),
    ...difference.steps.flatMap((change) => stepPoints(change, names)),
  ];
  const isDoing = ({ class: changeClass }: NoticePoint) => !signOffsStand(changeClass);
  return { different: points.filter(isDoing), also: points.filter((point) => !isDoing(point)) };
}

/**
 * Numbers of the later issue's own steps that carry a change bar: what a reader could do or see otherwise changed in
 * them. A step that only moved, was renamed, or waits for
 * other steps has none (common practice with change bars, no source: text that an earlier change moved is not itself
 * revised).
 */
export function changedSteps({ steps }: Difference): Set<number> {
  const silent = new Set(["name", "after", "takes", "guards"]);
  return new Set(
    steps.flatMap(({ kind, after, aspects }) =>
      after && (kind === "added" || aspects.some((aspect) => !silent.has(aspect))) ? [after.number] : [],
    ),
  );
}

function stepPoints(change: StepChange, names: ThingNames): NoticePoint[] {
  const { kind, before, after } = change;
  if (kind === "removed")
    return [
      {
        gone: before!.number,
        text: heard("noticeLines").noLongerDone({ step: instructionOf(before!.step) }),
        class: change.class,
        by: before!.step.by,
      },
    ];
  if (!after) return [];
  const shared = {
    step: after.number,
    by: after.step.by,
    ...(change.aspects.includes("instruction") || kind === "added" ? {} : { instruction: instructionOf(after.step) }),
  };
  if (kind === "added") {
    const facts = stepFacts(after.step, names)
      .filter(({ what }) => what === "Check" || what === "Moves" || what === "For whom")
      .map(({ what, text }) => `${what}: ${oneLine(text)}.`);
    return [
      {
        ...shared,
        text: [
          heard("noticeLines").new({ step: marks(after.step), instructionOf: instructionOf(after.step) }),
          ...facts,
        ].join(" "),
        class: change.class,
      },
    ];
  }
  const points = linePoints(change, names, shared);
  const isSaid = points.some(({ class: changeClass }) => !signOffsStand(changeClass));
  return isSaid || !change.because
    ? points
    : [...points, { ...shared, text: sayBecause(change.because, names), class: change.class }];
}

/** Why a step is to be seen again in which nothing weighty changed. */
function sayBecause({ named, incidents }: NonNullable<StepChange["because"]>, names: ThingNames): string {
  const happened = incidents.map((each) => names.incident(each).replace(/\.$/, "")).join("; ");
  const guards = happened ? heard("noticeLines").guardsAgainstSomething({ happened }) : "";
  return [named ? heard("noticeLines").theChangeIsAbout : "", guards].filter(Boolean).join(" ");
}

function linePoints(
  change: StepChange,
  names: ThingNames,
  shared: Pick<NoticePoint, "step" | "by" | "instruction">,
): NoticePoint[] {
  const { before, after } = change;
  if (!after) return [];
  return stepLines(change, names).flatMap((line): NoticePoint[] => {
    const point = (text: string, was?: string): NoticePoint[] => [
      { ...shared, text, ...(was ? { was: oneLine(was) } : {}), class: line.class },
    ];
    const is = oneLine(line.is ?? "");
    switch (line.aspect) {
      case "moved":
        return point(heard("noticeLines").comesAtAnotherTime({ was: line.was! }));
      case "critical":
        return point(
          line.is === heard("stepLines").yes
            ? heard("noticeLines").isSafetyCriticalNow
            : heard("noticeLines").isNoLongerSafety,
        );
      case "hold":
        return point(
          line.is === heard("stepLines").no ? heard("noticeLines").isNoLonger : heard("noticeLines").isAHoldNow,
        );
      case "by":
        return point(heard("noticeLines").isDone({ by: sayWhoInside(after.step.by, names.crew) }), line.was);
      case "band":
        return point(heard("noticeLines").isFor({ is }), line.was);
      case "instruction":
        return point(heard("noticeLines").saysNow({ is }), line.was);
      case "checks":
        return checkPoints(before!.step.checks, after.step.checks, names).map(({ text, was }) => ({
          ...shared,
          text,
          ...(was ? { was } : {}),
          class: line.class,
        }));
      case "parts":
        return point(is ? heard("noticeLines").movesNow({ is }) : heard("noticeLines").movesNothingAnyMore, line.was);
      case "turns":
        return point(is ? heard("noticeLines").turnsNow({ is }) : heard("noticeLines").turnsNothingAnyMore, line.was);
      case "alerts":
        return point(is ? heard("noticeLines").readThere({ is }) : heard("noticeLines").aWarning, line.was);
      case "reason":
        return is ? point(heard("noticeLines").why({ is })) : [];
      case "detail":
        return is ? point(heard("noticeLines").detail({ is })) : point(heard("noticeLines").aDetail, line.was);
      case "after":
        return signOffsStand(line.class) ? [] : point(heard("noticeLines").waitsForOtherSteps);
      case "photo":
        return point(is ? heard("noticeLines").hasAnotherPicture : heard("noticeLines").hasNoPictureAny);
      default:
        return [];
    }
  });
}

/** Changed checks one by one: those that came, went, or have another answer. */
function checkPoints(
  before: readonly CheckContent[],
  after: readonly CheckContent[],
  names: ThingNames,
): { text: string; was?: string }[] {
  const say = ({ answer, by, replaces }: CheckContent) => {
    const check = `${answer}${by.length ? ` (${sayWhoInside(by, names.crew)})` : ""}`;
    return replaces ? heard("noticeLines").inThePlaceOf({ check, replaces }) : check;
  };
  const changed = after.flatMap((check) => {
    const was = before.find(({ challenge }) => challenge === check.challenge);
    if (was && say(was) === say(check)) return [];
    const what = was ? heard("noticeLines").answer : heard("noticeLines").newCheck;
    return [
      {
        text: `${what}: ${check.challenge}: ${say(check)}.`,
        ...(was ? { was: say(was) } : {}),
      },
    ];
  });
  const gone = before
    .filter(({ challenge }) => !after.some((check) => check.challenge === challenge))
    .map((check) => ({ text: heard("noticeLines").noLongerChecked({ challenge: check.challenge }), was: say(check) }));
  return [...changed, ...gone];
}

function fieldPoints({ field, before, after, class: changeClass }: FieldChange, names: ThingNames): NoticePoint[] {
  const point = (text: string, was?: string): NoticePoint[] => [
    { text, ...(was ? { was } : {}), class: changeClass, by: [] },
  ];
  const textOf = (value: unknown) => (value as { text?: string } | undefined)?.text ?? "";
  const listed = (say: (values: { after: string }) => string, list: (value: unknown) => string) => {
    const nothing = heard("noticeLines").nothing;
    return point(say({ after: list(after) || nothing }), list(before) || nothing);
  };
  switch (field) {
    case "weight":
    case "age":
      return point(names.words.isForPatients({ band: textOf(after) }), textOf(before));
    case "title":
      return point(heard("noticeLines").isNowCalled({ after: String(after) }), String(before));
    case "purpose":
    case "notes":
    case "body":
      return blockPoints((before ?? []) as readonly BlockContent[], (after ?? []) as readonly BlockContent[]).flatMap(
        ({ text, was }) => point(text, was),
      );
    case "includes":
      return point(
        heard("noticeLines").runsTheSteps({
          after: (after as readonly string[]).join(", ") || heard("noticeLines").noOtherProcedure,
        }),
        (before as readonly string[]).join(", ") || heard("noticeLines").noOtherProcedure,
      );
    case "checks":
      return checkPoints(
        (before ?? []) as readonly CheckContent[],
        (after ?? []) as readonly CheckContent[],
        names,
      ).map(({ text, was }) => ({ text, ...(was ? { was } : {}), class: changeClass, by: [] }));
    case "fitted":
      return point(heard("noticeLines").fittedNow({ after: sayFitted(after, names) }), sayFitted(before, names));
    case "fastenings":
      return point(
        heard("noticeLines").leftOtherwiseThanUsual({ after: sayStates(after, names) || "nothing" }),
        sayStates(before, names) || "nothing",
      );
    case "empty":
      return listed(heard("noticeLines").leftEmpty, (ids) => sayIds(ids, names.place));
    case "notWith":
      return listed(heard("noticeLines").neverTogether, (ids) => sayIds(ids, names.option));
    case "requires":
      return listed(heard("noticeLines").alwaysFitted, (value) => sayRequired(value, names));
    default:
      return [];
  }
}

/** Only the blocks that are new, and those that are gone: what stayed is not read again. */
function blockPoints(
  before: readonly BlockContent[],
  after: readonly BlockContent[],
): { text: string; was?: string }[] {
  // A figure is looked at, not read.
  const linesOf = (blocks: readonly BlockContent[]) =>
    blocks
      .filter(({ kind }) => kind !== "component")
      .map((block) => oneLine(plainBlocks([block])))
      .filter(Boolean);
  const [was, is] = [linesOf(before), linesOf(after)];
  const gone = was.filter((line) => !is.includes(line)),
    come = is.filter((line) => !was.includes(line));
  if (come.length === 0) return gone.map((line) => ({ text: heard("noticeLines").aTextIsGone, was: line }));
  return come.map((line, at) => ({
    text: heard("noticeLines").readsNow({ line }),
    ...(gone[at] ? { was: gone[at]! } : {}),
  }));
}

/** Pieces in places as a list. */
export function sayFitted(value: unknown, { item, place }: Pick<ThingNames, "item" | "place">): string {
  return ((value ?? []) as readonly { place: string; item: string; count: number }[])
    .map((fitted) =>
      heard("noticeLines").countItemInPlace({
        count: fitted.count,
        item: item(fitted.item),
        place: place(fitted.place),
      }),
    )
    .join(", ");
}

const sayIds = (ids: unknown, name: (id: string) => string) => ((ids ?? []) as readonly string[]).map(name).join(", ");

/** Options that some patients always get, each with its patients. */
export function sayRequired(value: unknown, { option }: Pick<ThingNames, "option">): string {
  return ((value ?? []) as readonly RequirementContent[])
    .map((each) =>
      [
        `${option(each.option)}: ${sayRangeText(each.weight.text)}`,
        ...(each.age.from || each.age.to ? [sayRangeText(each.age.text)] : []),
      ].join(", "),
    )
    .join("; ");
}

/** Fastenings and their states as a list. */
export function sayStates(value: unknown, { fastening }: Pick<ThingNames, "fastening">): string {
  return ((value ?? []) as readonly { fastening: string; state: string }[])
    .map((each) => `${fastening(each.fastening)} ${each.state}`)
    .join(", ");
}

function marks({ critical, hold }: StepContent): string {
  const words = [critical && heard("noticeLines").safetyCritical, hold && heard("noticeLines").aHold].filter(Boolean);
  return words.length ? `, ${words.join(", ")}` : "";
}

function oneLine(text: string): string {
  return text
    .split("\n")
    .filter(Boolean)
    .join("; ")
    .replaceAll(/([.!?]); /g, "$1 ");
}

/** Crew roles that do any of the points, in the crew's order; all of them if a point is about the whole. */
export function concerned(points: readonly NoticePoint[], crew: readonly string[]): string[] {
  return points.some(({ by, step }) => step === undefined || by.length === 0)
    ? [...crew]
    : crew.filter((role) => points.some(({ by }) => by.includes(role)));
}
