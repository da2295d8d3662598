/** Challenges that are answered by whoever did the act. */
import { subjectsOf } from "../../domain/cards/subjects.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import type { Check, Collection, Platform, Procedure, Step } from "../../schema/collection.ts";
import { ownSteps } from "../texts.ts";

/**
 * What one person turns in a safety-critical step is looked at by another. Reported once for a challenge that names
 * only that person, unless somebody else is asked about the same fastening in this step or a later one of the
 * procedure. A step or a challenge without `by` says nothing about who it is; a crew of one has no other.
 */
export const selfChecked: Rule = {
  id: "fastening/self-checked",
  severity: "warning",
  asks: "What one person turns in a safety-critical step is checked by another.",
  why: "Whoever has just done it sees what they meant to do: asked at once, they answer from memory.",
  source: "EU 145.A.48(b), second hand (an error-capturing method, by another person where it is an inspection)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    const { crew } = collection.service;
    if (crew.length < 2) return;
    for (const { procedure, step, platform } of ownSteps(collection, damaged))
      for (const check of step.critical && step.by.length === 1 ? step.checks : []) {
        if (!isBySame(check, step)) continue;
        const fastening = turnsAskedBy(check, step, platform, collection).find(
          (id) => !isSeenByAnother(id, step, procedure, platform, collection),
        );
        if (!fastening) continue;
        const [doer] = step.by;
        const others = crew.filter(({ id }) => id !== doer).map(({ id }) => id);
        report(whereOf(check, "by"), {
          message: `\`${doer}\` turns \`${fastening}\` and answers for it: nobody else looks at it`,
          fix: `Write \`by=${others[0]}\`${others.length > 1 ? `, or another role than \`${doer}\`` : ""}`,
          actual: check.by.join(" "),
          expected: others,
        });
      }
  },
};

const isBySame = ({ by }: Check, step: Step): boolean => by.length === 1 && by[0] === step.by[0];

/** The fastenings of the step's turns that a challenge asks about: all of them where it names none of them. */
function turnsAskedBy(check: Check, step: Step, platform: Platform, { service }: Collection): string[] {
  const turned = step.operations.flatMap((operation) => (operation.kind === "turn" ? operation.fastening : []));
  const named = subjectsOf(check, platform, service.otherNames).flatMap(({ kind, id }) =>
    kind === "fastening" && turned.includes(id) ? id : [],
  );
  return named.length ? named : turned;
}

/** Whether somebody else, or somebody who is not named, is asked about a fastening in the step or after it. */
function isSeenByAnother(id: string, step: Step, procedure: Procedure, platform: Platform, all: Collection): boolean {
  const here = step.checks.some(
    (check) => !isBySame(check, step) && turnsAskedBy(check, step, platform, all).includes(id),
  );
  const later = procedure.steps.slice(procedure.steps.indexOf(step) + 1);
  return (
    here ||
    later.some(({ checks }) =>
      checks.some(
        (check) =>
          !isBySame(check, step) &&
          subjectsOf(check, platform, all.service.otherNames).some(
            (each) => each.kind === "fastening" && each.id === id,
          ),
      ),
    )
  );
}
