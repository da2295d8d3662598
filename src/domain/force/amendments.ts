/** What a temporary amendment that runs on a day does to what is in force: other steps, warnings, items taken. */
import type { Alert, Amendment, AmendmentMark, Paragraph, Platform, Procedure, Step } from "../../schema/collection.ts";
import { rememberContent, contentOf } from "../records/freeze.ts";
import { paragraphOf, sayDate } from "../words/say.ts";
import { assemble } from "./assemble.ts";

/** Whether an amendment runs on a day, `YYYY-MM-DD`: its first and its last day count. */
function runsOn({ from, until }: Pick<Amendment, "from" | "until">, day: string): boolean {
  return from !== "" && from <= day && day <= until;
}

/** `From 23 Nov 2026 until 4 Dec 2026`; both days count. */
function sayDays({ from, until }: Pick<Amendment, "from" | "until">): string {
  return `From ${sayDate(from)} until ${sayDate(until)}`;
}

/** Whether an amendment is about this revision of a procedure. */
export function isAbout({ amends }: Amendment, { id, revision }: Pick<Procedure, "id" | "revision">): boolean {
  return amends.some((each) => each.procedure === id && each.revision === revision);
}

const issuedOf = new WeakMap<Platform, Platform>();

/**
 * The platform as it was issued, without what amendments do to it on its day: what cards that were printed before, and
 * their check codes, are made of. The same object where none runs.
 */
export function asIssued(platform: Platform): Platform {
  return issuedOf.get(platform) ?? platform;
}

/**
 * A platform on a day with the amendments that run then; the very same one where none does. Only the revision that an
 * amendment names is changed. What is frozen stays: `contentOf` of a changed procedure is that of its issue, and counts
 * of items stay what they are, with those out of service in `out`. `written`: the procedures of the files, for what is
 * included and not in force.
 */
export function amendPlatform(platform: Platform, written: readonly Procedure[], day: string): Platform {
  const running = (platform.amendments ?? []).filter((amendment) => runsOn(amendment, day));
  if (running.length === 0) return platform;
  const own = platform.procedures.map((procedure) =>
    procedure.status === "approved"
      ? running.filter((amendment) => isAbout(amendment, procedure)).reduce(amendProcedure, procedure)
      : procedure,
  );
  const changed = new Set(own.filter((procedure, at) => procedure !== platform.procedures[at]));
  const procedures = assemble(own, written, changed).map((procedure, at) => {
    const before = platform.procedures[at]!;
    return procedure === before ? before : rememberContent(procedure, contentOf(before, platform));
  });
  const ids = new Set(running.flatMap(({ out }) => out.map(({ id }) => id)));
  const out = new Map(platform.items.flatMap(({ id, count }) => (ids.has(id) ? [[id, count]] : [])));
  const amended = { ...platform, procedures, ...(out.size > 0 ? { out } : {}) };
  issuedOf.set(amended, platform);
  return amended;
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
  const text = `Temporary amendment ${number}. ${sayDays({ from, until })}.${more}`;
  return paragraphOf(text, where);
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
    children: [headOf(mark, instead.where, ` ${title}. This step is done instead of the one that was issued.`)],
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
