/** Challenges that are answered by whoever did the act. */
import { type Subject, subjectsOf } from "../../domain/cards/subjects.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import type { Check, Collection, Platform, Procedure, Step } from "../../schema/collection.ts";
import { ownSteps } from "../texts.ts";

/**
 * What one person turns or moves in a safety-critical step is looked at by another. Reported once for a challenge that
 * names only that person, unless somebody else is asked about the same thing in this step or a later one of the
 * procedure. A step or a challenge without `by` says nothing about who it is; a crew of one has no other.
 */
export const selfChecked: Rule = {
  id: "fastening/self-checked",
  severity: "warning",
  asks: "What one person turns or moves in a safety-critical step is checked by another.",
  why: "Whoever has just done it sees what they meant to do: asked at once, they answer from memory.",
  source: "EU 145.A.48(b), second hand (an error-capturing method, by another person where it is an inspection)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    const { crew } = collection.service;
    if (crew.length < 2) return;
    for (const { procedure, step, platform } of ownSteps(collection, damaged))
      for (const check of step.critical && step.by.length === 1 ? step.checks : []) {
        if (!isBySame(check, step)) continue;
        const act = askedBy(check, step, platform, collection).find(
          (each) => !isSeenByAnother(each, step, procedure, platform, collection),
        );
        if (!act) continue;
        const [doer] = step.by;
        const others = crew.filter(({ id }) => id !== doer).map(({ id }) => id);
        report(whereOf(check, "by"), {
          message: `\`${doer}\` ${act.does} \`${act.of}\` and answers for it: nobody else looks at it`,
          fix: `Write \`by=${others[0]}\`${others.length > 1 ? `, or another role than \`${doer}\`` : ""}`,
          actual: check.by.join(" "),
          expected: others,
        });
      }
  },
};

const isBySame = ({ by }: Check, step: Step): boolean => by.length === 1 && by[0] === step.by[0];

/** A turn or a move of a step, and what a challenge is about that asks for it. */
interface Act {
  readonly does: "turns" | "moves";
  /** Id of the fastening or the item. */
  readonly of: string;
  readonly asked: readonly Subject[];
}

/** What is turned and moved in a step; who asks about a place asks about what comes into it or leaves it. */
function actsOf(step: Step): readonly Act[] {
  return step.operations.map((operation) =>
    operation.kind === "turn"
      ? { does: "turns", of: operation.fastening, asked: [{ kind: "fastening", id: operation.fastening }] }
      : {
          does: "moves",
          of: operation.item,
          asked: [
            { kind: "item", id: operation.item },
            { kind: "place", id: operation.from },
            { kind: "place", id: operation.to },
          ],
        },
  );
}

const isAbout = (act: Act, subjects: readonly Subject[]): boolean =>
  act.asked.some(({ kind, id }) => subjects.some((subject) => subject.kind === kind && subject.id === id));

/** The acts of the step that a challenge asks about: all of them where it names none of them. */
function askedBy(check: Check, step: Step, platform: Platform, { service }: Collection): readonly Act[] {
  const acts = actsOf(step),
    subjects = subjectsOf(check, platform, service.otherNames),
    named = acts.filter((act) => isAbout(act, subjects));
  return named.length ? named : acts;
}

/** Whether somebody else, or somebody who is not named, is asked about it in the step or after it. */
function isSeenByAnother(act: Act, step: Step, procedure: Procedure, platform: Platform, all: Collection): boolean {
  const here = step.checks.some(
    (check) =>
      !isBySame(check, step) &&
      askedBy(check, step, platform, all).some(({ does, of }) => does === act.does && of === act.of),
  );
  const later = procedure.steps.slice(procedure.steps.indexOf(step) + 1);
  return (
    here ||
    later.some(({ checks }) =>
      checks.some(
        (check) => !isBySame(check, step) && isAbout(act, subjectsOf(check, platform, all.service.otherNames)),
      ),
    )
  );
}
