/** A difference in one line of words, for findings and lists of changes. */
import type { Aspect } from "./change-class.ts";
import type { Difference, StepChange } from "./revisions.ts";

const ASPECTS: Readonly<Record<Aspect, string>> = {
  name: "renamed",
  critical: "critical",
  hold: "hold",
  by: "done by others",
  band: "for other patients",
  alerts: "warnings changed",
  instruction: "reworded",
  reason: "reason changed",
  detail: "detail changed",
  parts: "parts changed",
  turns: "turns changed",
  checks: "checks changed",
  photo: "photo changed",
  takes: "time changed",
  after: "waits for other steps",
  guards: "guards changed",
};

const FIELDS: Readonly<Record<string, string>> = {
  weight: "weight band",
  age: "age band",
  notWith: "not-with",
  requires: "required options",
  phase: "place in a changeover",
  headings: "headings",
  notes: "text outside the steps",
  includes: "included procedures",
};

/** What an aspect of a step is called in a list of changes: `reworded`, `made safety-critical`. */
export function sayAspect(aspect: Aspect, change: StepChange): string {
  if (aspect === "critical") return change.after?.step.critical ? "made safety-critical" : "no longer safety-critical";
  if (aspect === "hold") return change.after?.step.hold ? "made a hold" : "no longer a hold";
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
      .map(({ field }) => `${FIELDS[field] ?? field} changed`),
    ...steps.flatMap((change) => {
      if (change.kind === "removed") return [`step ${change.before!.number} removed`];
      if (change.kind === "added") return [`step ${change.after!.number} added`];
      const words = [...(change.moved ? ["moved"] : []), ...change.aspects.map((aspect) => sayAspect(aspect, change))];
      return words.length ? [`step ${change.after!.number} ${words.join(", ")}`] : [];
    }),
  ];
  if (!parts.length) return "nothing";
  return parts.length > most ? `${parts.slice(0, most).join("; ")}; and ${parts.length - most} more` : parts.join("; ");
}
