/** A difference in one line of words, for findings and lists of changes. */
import type { Aspect, ChangeClass } from "./change-class.ts";
import type { Difference, StepChange } from "./revisions.ts";
import { heard } from "../../words/heard.ts";

const ASPECTS: Readonly<Record<Aspect, string>> = {
  get name() {
    return heard("saidChanges").renamed;
  },
  get critical() {
    return heard("saidChanges").critical;
  },
  get hold() {
    return heard("saidChanges").hold;
  },
  get by() {
    return heard("saidChanges").doneByOthers;
  },
  get band() {
    return heard("saidChanges").forOther;
  },
  get alerts() {
    return heard("saidChanges").warningsChanged;
  },
  get instruction() {
    return heard("saidChanges").reworded;
  },
  get reason() {
    return heard("saidChanges").reasonChanged;
  },
  get detail() {
    return heard("saidChanges").detailChanged;
  },
  get parts() {
    return heard("saidChanges").partsChanged;
  },
  get turns() {
    return heard("saidChanges").turnsChanged;
  },
  get checks() {
    return heard("saidChanges").checksChanged;
  },
  get photo() {
    return heard("saidChanges").photoChanged;
  },
  get takes() {
    return heard("saidChanges").timeChanged;
  },
  get after() {
    return heard("saidChanges").waitsForOtherSteps;
  },
  get guards() {
    return heard("saidChanges").guardsChanged;
  },
};

const FIELDS: Readonly<Record<string, string>> = {
  get weight() {
    return heard("saidChanges").weightBand;
  },
  get age() {
    return heard("saidChanges").ageBand;
  },
  notWith: "not-with",
  get requires() {
    return heard("saidChanges").requiredOptions;
  },
  get phase() {
    return heard("saidChanges").placeInAChangeover;
  },
  get headings() {
    return heard("saidChanges").headings;
  },
  get notes() {
    return heard("saidChanges").textOutsideTheSteps;
  },
  get includes() {
    return heard("saidChanges").includedProcedures;
  },
};

/** What an aspect of a step is called in a list of changes: `reworded`, `made safety-critical`. */
export function sayAspect(aspect: Aspect, change: StepChange): string {
  if (aspect === "critical")
    return change.after?.step.critical
      ? heard("saidChanges").madeSafetyCritical
      : heard("saidChanges").noLongerSafetyCritical;
  if (aspect === "hold")
    return change.after?.step.hold ? heard("saidChanges").madeAHold : heard("saidChanges").noLongerAHold;
  return ASPECTS[aspect];
}

/**
 * `step 4 reworded, checks changed; step 6 removed; title changed`, at most `most` of them. `nothing` for an empty
 * difference.
 */
export function sayDifference({ steps, fields }: Difference, most = 3): string {
  // Every new revision takes effect on another day; that is worth saying only if nothing else changed.
  const isAlone = fields.length === 1 && steps.every(({ kind, moved }) => kind === "same" && !moved);
  const parts = [
    ...fields
      .filter(({ field }) => field !== "effective" || isAlone)
      .map(({ field }) => heard("saidChanges").changed({ fields: FIELDS[field] ?? field })),
    ...steps.flatMap((change) => {
      if (change.kind === "removed") return [heard("saidChanges").stepRemoved({ number: change.before!.number })];
      if (change.kind === "added") return [heard("saidChanges").stepAdded({ number: change.after!.number })];
      const words = [...(change.moved ? ["moved"] : []), ...change.aspects.map((aspect) => sayAspect(aspect, change))];
      return words.length ? [heard("saidChanges").step({ number: change.after!.number, words: words.join(", ") })] : [];
    }),
  ];
  if (!parts.length) return "nothing";
  return parts.length > most
    ? heard("saidChanges").andMore({ parts: parts.slice(0, most).join("; "), parts2: parts.length - most })
    : parts.join("; ");
}

/** What kind of change it is, in a word. */
export function sayClass(kind: ChangeClass): string {
  const { editorial, informative, procedural, critical } = heard("saidChanges");
  return { editorial, informative, procedural, critical }[kind];
}
