/** Incidents that nothing guards against any more. */
import type { Collection, Incident, Step } from "../../schema/collection.ts";
import type { StepContent } from "../../domain/records/content.ts";
import { contentOfIssue } from "../../domain/records/freeze.ts";
import { issuesByDocument } from "../../domain/records/issues.ts";
import { numberedSteps } from "../../domain/records/match-steps.ts";
import { type Rule } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";
import { ownSteps } from "../texts.ts";

/**
 * Every incident has a step that guards against it, in a procedure that is not withdrawn; and the guards are not weaker
 * than they were when last issued: a guard that was safety-critical,
 * a hold or checked is still so in one of the incident's steps.
 */
export const guardLost: Rule = {
  id: "record/guard-lost",
  severity: "error",
  asks: "Every incident has a step that guards against it, and no edit weakens the last one.",
  why: "The step looks needless to whoever was not there when it went wrong.",
  source: "common practice, no source",
  when: ({ incidents }) => incidents.length > 0,
  check(collection, report, { damaged }) {
    // A step that could not be read may be the guard, and an incident that could not be read may have another name.
    if (
      damaged.has("incidents.yaml") ||
      collection.platforms.some((platform) => [...damaged].some((file) => file.startsWith(`${platform.id}/`)))
    )
      return;
    const steps = ownSteps(collection).map(({ step }) => step);
    for (const incident of collection.incidents) {
      const guards = steps.filter((step) => step.guards.some(({ id }) => id === incident.id));
      const issued = issuedGuards(collection, incident);
      if (!guards.length)
        report(incident.where, {
          message:
            `No step guards against \`${incident.id}\`` +
            (issued.length ? ` any more; ${issued[0]!.procedure} did, in step ${issued[0]!.number}` : ""),
          fix: `Add \`guards=${incident.id}\` to the step that keeps it from happening again`,
        });
      else {
        const lost = STRENGTHS.filter(
          ({ of }) => issued.some(({ step }) => of(step)) && !guards.some((step) => of(step)),
        );
        if (lost.length) {
          const reference = guards[0]!.guards.find(({ id }) => id === incident.id)!;
          report(reference.where, {
            message:
              `The guard against \`${incident.id}\` is weaker than it was ` +
              `issued: ${lost.map(({ name }) => heard("safeguardFindings")[name]).join(", ")}`,
            fix: "Put that back, or guard against it in another step as strongly",
            cause: incident.where,
          });
        }
      }
    }
  },
};

type Strength = "notCritical" | "notHold" | "notChecked";

const STRENGTHS: readonly { readonly name: Strength; readonly of: (step: Step | StepContent) => boolean }[] = [
  { name: "notCritical", of: (step) => step.critical },
  { name: "notHold", of: (step) => step.hold },
  { name: "notChecked", of: (step) => step.checks.length > 0 },
];

/** Steps that guarded against an incident in the newest issue of each procedure. */
function issuedGuards(collection: Collection, incident: Incident) {
  return [...issuesByDocument(collection).values()].flatMap((issues) => {
    const content = contentOfIssue(issues.at(-1)!);
    return content?.kind === "procedure"
      ? numberedSteps(content)
          .filter(({ step }) => step.guards.includes(incident.id))
          .map(({ step, number }) => ({ step, number, procedure: content.id }))
      : [];
  });
}
