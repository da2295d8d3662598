/** What a temporary amendment that runs on a day does to what is in force: other steps, warnings, items taken. */
import type { Alert, Amendment, AmendmentMark, Paragraph, Platform, Procedure, Step } from "../../schema/collection.ts";
import { addDays } from "../records/signoffs.ts";
import { type Days, holdsOn, sayDays, stateOn } from "../words/days.ts";
import { paragraphOf } from "../words/say.ts";
import { assemble } from "./assemble.ts";
import { heard } from "../../words/heard.ts";

/** Amendments with both their days whose last day has not passed: they run on the day, or are still to come. */
export function amendmentsToCome({ amendments = [] }: Pick<Platform, "amendments">, day: string): Amendment[] {
  return amendments.filter(({ from, until }) => from !== "" && from <= until && day <= until);
}

/** Whether an amendment is about this revision of a procedure. */
export function isAbout({ amends }: Amendment, { id, revision }: Pick<Procedure, "id" | "revision">): boolean {
  return amends.some((each) => each.procedure === id && each.revision === revision);
}

/** An amendment that runs on a day, with a procedure of which the revision that it is about is not in force then. */
interface AmendedInVain {
  readonly amendment: Amendment;
  readonly procedure: string;
  readonly revision: number;
  /** The revision in force; `undefined` where none is. */
  readonly inForce?: number;
}

/** What amendments that run on a day say of revisions by which nobody works then, and which so changes nothing. */
export function amendedInVain(platform: Platform, day: string): AmendedInVain[] {
  return runningOn(amendmentsToCome(platform, day), day).flatMap((amendment) =>
    amendment.amends.flatMap(({ procedure, revision }) => {
      const inForce = platform.procedures.find(({ id, status }) => id === procedure && status === "approved")?.revision;
      return inForce === revision
        ? []
        : [{ amendment, procedure, revision, ...(inForce === undefined ? {} : { inForce }) }];
    }),
  );
}

/**
 * The platform as it was issued, without what amendments do to it on its day: what cards that were printed before, and
 * their check codes, are made of. The same object where none runs.
 */
export function asIssued(platform: Platform): Platform {
  return platform.asIssued ?? platform;
}

/**
 * A platform on a day with the amendments that run then; the very same one where none does. Only the revision that an
 * amendment names is changed. What is frozen stays: `contentOf` of a changed procedure is that of its issue, and counts
 * of items stay what they are, with those out of service in `out`. `written`: the procedures of the files, for what is
 * included and not in force.
 */
export function amendPlatform(platform: Platform, written: readonly Procedure[], day: string): Platform {
  const running = runningOn(amendmentsToCome(platform, day), day);
  if (running.length === 0) return platform;
  const own = platform.procedures.map((procedure) =>
    procedure.status === "approved"
      ? running.filter((amendment) => isAbout(amendment, procedure)).reduce(amendProcedure, procedure)
      : procedure,
  );
  const changed = new Set(own.filter((procedure, at) => procedure !== platform.procedures[at]));
  const procedures = assemble(own, written, changed).map((procedure, at) => {
    const before = platform.procedures[at]!;
    return procedure === before ? before : { ...procedure, asIssued: before };
  });
  const ids = new Set(running.flatMap(({ out }) => out.map(({ id }) => id)));
  const out = new Map(platform.items.flatMap(({ id, count }) => (ids.has(id) ? [[id, count]] : [])));
  return { ...platform, procedures, asIssued: platform, ...(out.size > 0 ? { out } : {}) };
}

function runningOn(amendments: readonly Amendment[], day: string): Amendment[] {
  return amendments.filter((amendment) => stateOn(day, amendment) === "running");
}

/** A step as it stands on some days. */
interface StepVersion {
  readonly step: Step;
  readonly days: readonly Days[];
}

/**
 * What stands in the place of a step of a platform from a day on, by date alone: the step as it was issued and as each
 * amendment that runs or is still to come has it. The first is the one of that day, which is the step that was given;
 * the only one, with no days, if no amendment is about it. All bear its number.
 */
export function versionsOf(platform: Platform, step: Step, day: string): readonly [StepVersion, ...StepVersion[]] {
  const issued = asIssued(platform).procedures.find(({ id }) => id === step.procedure);
  const about = (amendmentsToCome(platform, day) as readonly Amendment[]).filter(
    (amendment) =>
      step.id !== undefined &&
      issued?.status === "approved" &&
      isAbout(amendment, issued) &&
      amendment.steps.some(({ replaces }) => replaces?.id === step.id),
  );
  if (!issued || about.length === 0) return [{ step, days: [] }];
  return periodsOf(about, day).map(({ running, days, isNow }): StepVersion => {
    const own = running.reduce(amendProcedure, issued).steps.find(({ id }) => id === step.id)!;
    return { step: isNow ? step : { ...own, number: step.number }, days };
  }) as [StepVersion, ...StepVersion[]];
}

/** A platform as it stands on some days. */
interface PlatformOn {
  readonly platform: Platform;
  readonly days: readonly Days[];
}

/**
 * A platform as it stands from a day on, by date alone: as it was issued, and with the amendments that run or are still
 * to come. The first is that of the day, which is the one that was given; the only one, with no days, where no
 * amendment is to come. `written`: as for `amendPlatform`.
 */
export function platformsToCome(
  platform: Platform,
  written: readonly Procedure[],
  day: string,
): readonly [PlatformOn, ...PlatformOn[]] {
  const amendments = amendmentsToCome(platform, day);
  if (amendments.length === 0) return [{ platform, days: [] }];
  return periodsOf(amendments, day).map(({ days, isNow }): PlatformOn => ({
    platform: isNow ? platform : amendPlatform(asIssued(platform), written, days[0]!.from || days[0]!.until),
    days,
  })) as [PlatformOn, ...PlatformOn[]];
}

/** All days, by which of these amendments run on them; those of the day first. Not for none. */
function periodsOf(
  amendments: readonly Amendment[],
  day: string,
): { readonly running: readonly Amendment[]; readonly days: readonly Days[]; readonly isNow: boolean }[] {
  const starts = [...new Set(amendments.flatMap(({ from, until }) => [from, addDays(until, 1)]))].sort();
  const periods = new Map<string, { running: readonly Amendment[]; days: Days[]; isNow: boolean }>();
  ["", ...starts].forEach((from, at) => {
    const span = { from, until: starts[at] === undefined ? "" : addDays(starts[at], -1) },
      running = runningOn(amendments, from || span.until);
    const key = running.map(({ id }) => id).join(),
      period = periods.get(key) ?? { running, days: [], isNow: false };
    period.days.push(span);
    period.isNow ||= holdsOn(span, day);
    periods.set(key, period);
  });
  return [...periods.values()].sort((a, b) => Number(b.isNow) - Number(a.isNow));
}

function amendProcedure(procedure: Procedure, amendment: Amendment): Procedure {
  const mark = markOf(amendment),
    replaced = new Map<Step, Step>();
  for (const step of procedure.steps) {
    const instead =
      step.procedure === procedure.id ? amendment.steps.find(({ replaces }) => replaces?.id === step.id) : undefined;
    if (instead) replaced.set(step, replaceStep(step, instead, procedure, mark, amendment));
  }
  if (replaced.size === 0 && amendment.alerts.length === 0) return procedure;
  const byNumber = new Map([...replaced].map(([{ number }, step]) => [number, step]));
  const sections = procedure.sections.map((section) => ({
    ...section,
    entries: section.entries.map((entry) => (entry.kind === "step" ? (byNumber.get(entry.number) ?? entry) : entry)),
  }));
  const alerts = amendment.alerts.map((alert) => markAlert(alert, mark));
  return {
    ...procedure,
    sections: alerts.length > 0 ? [{ title: "", where: amendment.where, entries: alerts }, ...sections] : sections,
    steps: procedure.steps.map((step) => replaced.get(step) ?? step),
  };
}

function markOf({ number, from, until }: Amendment): AmendmentMark {
  return { number, from, until };
}

/** The number and the days stand in the words themselves, so that nobody shows or prints the one without the other. */
function headOf({ number, from, until }: AmendmentMark, where: Amendment["where"], more = ""): Paragraph {
  return paragraphOf(heard("amendments").noticeHead({ number, days: sayDays({ from, until }), more }), where);
}

function markAlert(alert: Alert, amendment: AmendmentMark): Alert {
  return { ...alert, amendment, children: [headOf(amendment, alert.where), ...alert.children] };
}

/** The step that is done instead: it keeps the number, the id and the place of the one that it replaces. */
function replaceStep(step: Step, instead: Step, procedure: Procedure, mark: AmendmentMark, { title }: Amendment): Step {
  const asIssued = step.amended?.asIssued ?? step;
  const note: Alert = {
    kind: "alert",
    signal: "note",
    amendment: mark,
    where: instead.where,
    children: [headOf(mark, instead.where, heard("fitting").thisStepIsDone({ title }))],
  };
  const { weight, age } = procedure.band;
  return {
    ...instead,
    number: step.number,
    ...(step.id !== undefined ? { id: step.id } : {}),
    procedure: step.procedure,
    band: { weight: instead.ownWeight ?? weight, age: instead.ownAge ?? age },
    after: instead.after.length > 0 ? instead.after : step.after,
    alerts: [note, ...instead.alerts],
    amended: { by: mark, asIssued },
  };
}
