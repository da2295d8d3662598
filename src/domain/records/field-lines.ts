/** What changed outside the steps of a document, and why earlier sign-offs lapsed, in words for a reviewer. */
import { plainBlocks, type BlockContent, type CheckContent, type Content } from "./content.ts";
import { signOffsStand } from "./change-class.ts";
import { sayFitted, sayRequired, sayStates } from "./notice.ts";
import { differenceBetween, type FieldChange } from "./revisions.ts";
import { sayAspect } from "./say-difference.ts";
import { sayWhoInside } from "../words/say.ts";
import { sayList } from "../../schema/wording.ts";
import type { ThingNames } from "./step-lines.ts";
import { heard } from "../../words/heard.ts";

const WHAT: Readonly<Record<string, string>> = {
  get title() {
    return heard("fieldLines").title;
  },
  get code() {
    return heard("fieldLines").code;
  },
  get weight() {
    return heard("fieldLines").weight;
  },
  get age() {
    return heard("fieldLines").age;
  },
  get effective() {
    return heard("fieldLines").inForce;
  },
  get purpose() {
    return heard("fieldLines").whatIt;
  },
  get notes() {
    return heard("fieldLines").textBetweenTheSteps;
  },
  get headings() {
    return heard("fieldLines").headings;
  },
  get includes() {
    return heard("fieldLines").stepsOfOtherProcedures;
  },
  get fitted() {
    return heard("fieldLines").fitted;
  },
  get fastenings() {
    return heard("fieldLines").leftOtherwiseThanUsual;
  },
  get options() {
    return heard("fieldLines").options;
  },
  get requires() {
    return heard("fieldLines").optionsRequired;
  },
  get phase() {
    return heard("fieldLines").placeInAChangeover;
  },
  get checks() {
    return heard("fieldLines").checks;
  },
  get body() {
    return heard("fieldLines").text;
  },
  get authority() {
    return heard("fieldLines").approvalDocuments;
  },
  get standing() {
    return heard("fieldLines").theStandingArrangement;
  },
  get empty() {
    return heard("fieldLines").leftEmpty;
  },
  get notWith() {
    return heard("fieldLines").notTogether;
  },
};

/** The changed fields of a difference, each with its value before and after as text. */
export function fieldLines(
  fields: readonly FieldChange[],
  names: ThingNames,
): { readonly what: string; readonly was?: string; readonly is?: string }[] {
  return fields.map(({ field, before, after }) => {
    const [was, is] = [textOf(field, before, names), textOf(field, after, names)];
    return { what: WHAT[field] ?? field, ...(was ? { was } : {}), ...(is ? { is } : {}) };
  });
}

function textOf(field: string, value: unknown, names: ThingNames): string {
  if (value === undefined || value === null) return "";
  switch (field) {
    case "weight":
    case "age":
      return (value as { text: string }).text;
    case "purpose":
    case "notes":
    case "body":
      return plainBlocks(value as readonly BlockContent[]);
    case "fitted":
      return sayFitted(value, names).split(", ").join("\n");
    case "fastenings":
      return sayStates(value, names);
    case "checks":
      return (value as readonly CheckContent[])
        .map(
          ({ challenge, answer, by }) =>
            `${challenge}: ${answer}${by.length ? ` (${sayWhoInside(by, names.crew)})` : ""}`,
        )
        .join("\n");
    case "authority":
      return (value as readonly { kind: string; reference: string; date?: string }[])
        .map(({ kind, reference, date }) => `${kind}: ${reference}${date ? `, ${date}` : ""}`)
        .join("\n");
    case "empty":
      return (value as readonly string[]).map(names.place).join(", ");
    case "notWith":
      return (value as readonly string[]).map(names.option).join(", ");
    case "requires":
      return sayRequired(value, names).split("; ").join("\n");
    case "standing":
      return value ? heard("stepLines").yes : heard("stepLines").no;
    default:
      return Array.isArray(value) ? value.filter(Boolean).join("\n") : String(value);
  }
}

/**
 * For each revision of a chain of issues after the first: why sign-offs made before it lapsed; absent where they stand.
 * The author's declaration counts as a reason if
 * what changed would not ask for it.
 */
export function whyLapsed(chain: readonly Content[]): ReadonlyMap<number, string> {
  return new Map(
    chain.slice(1).flatMap((after, at): [number, string][] => {
      const difference = differenceBetween(chain[at]!, after);
      const isGrave = ({ class: changeClass }: { class: Parameters<typeof signOffsStand>[0] }) =>
        !signOffsStand(changeClass);
      const reasons = [
        ...new Set([
          ...difference.steps.filter(isGrave).flatMap((change) =>
            change.kind === "added"
              ? [heard("fieldLines").aStepWasAdded]
              : change.kind === "removed"
                ? [heard("fieldLines").aStepWasRemoved]
                : change.aspects.includes("critical")
                  ? [
                      heard("fieldLines").stepWas({
                        number: change.after!.number,
                        aspect: sayAspect("critical", change),
                      }),
                    ]
                  : [heard("fieldLines").stepIsDoneOtherwise({ number: change.after!.number })],
          ),
          ...difference.fields
            .filter(isGrave)
            .map(({ field }) => heard("fieldLines").changed({ what: (WHAT[field] ?? field).toLowerCase() })),
        ]),
      ];
      if (reasons.length)
        return [
          [
            after.revision,
            sayList(
              reasons.length > 3
                ? [...reasons.slice(0, 3), heard("fieldLines").more({ reasons: reasons.length - 3 })]
                : reasons,
            ),
          ],
        ];
      const declared = after.record.changes.findLast(({ revision }) => revision === after.revision)?.signOffs;
      return declared === "again" ? [[after.revision, heard("fieldLines").theAuthorAsks]] : [];
    }),
  );
}
