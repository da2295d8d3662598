/** What changed outside the steps of a document, and why earlier sign-offs lapsed, in words for a reviewer. */
import { plainBlocks, type BlockContent, type CheckContent, type Content, type RequirementContent } from "./content.ts";
import { signOffsStand } from "./change-class.ts";
import { sayFitted, sayStates } from "./notice.ts";
import { differenceBetween, type FieldChange } from "./revisions.ts";
import { sayAspect } from "./say-difference.ts";
import { sayWho } from "../words/say.ts";
import { sayList } from "../../schema/wording.ts";
import type { ThingNames } from "./step-lines.ts";

const WHAT: Readonly<Record<string, string>> = {
  title: "Title",
  code: "Code",
  weight: "Weight",
  age: "Age",
  effective: "In force from",
  purpose: "What it is for",
  notes: "Text between the steps",
  headings: "Headings",
  includes: "Steps of other procedures",
  fitted: "Fitted",
  fastenings: "Left otherwise than usual",
  options: "Options",
  requires: "Options required",
  phase: "Place in a changeover",
  checks: "Checks",
  body: "Text",
  authority: "Approval documents",
  standing: "The standing arrangement",
  empty: "Left empty",
  notWith: "Not together with",
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
            `${challenge}: ${answer}${by.length ? ` (${sayWho(by, names.crew).toLowerCase()})` : ""}`,
        )
        .join("\n");
    case "authority":
      return (value as readonly { kind: string; reference: string; date?: string }[])
        .map(({ kind, reference, date }) => `${kind}: ${reference}${date ? `, ${date}` : ""}`)
        .join("\n");
    case "empty":
      return (value as readonly string[]).map(names.place).join(", ");
    case "requires":
      return (value as readonly RequirementContent[])
        .map(({ option, weight, age }) => `${option}: ${weight.text}${age.from || age.to ? `, ${age.text}` : ""}`)
        .join("\n");
    case "standing":
      return value ? "yes" : "no";
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
          ...difference.steps
            .filter(isGrave)
            .flatMap((change) =>
              change.kind === "added"
                ? ["a step was added"]
                : change.kind === "removed"
                  ? ["a step was removed"]
                  : change.aspects.includes("critical")
                    ? [`step ${change.after!.number} was ${sayAspect("critical", change)}`]
                    : [`step ${change.after!.number} is done otherwise`],
            ),
          ...difference.fields.filter(isGrave).map(({ field }) => `${(WHAT[field] ?? field).toLowerCase()} changed`),
        ]),
      ];
      if (reasons.length)
        return [
          [
            after.revision,
            sayList(reasons.length > 3 ? [...reasons.slice(0, 3), `${reasons.length - 3} more`] : reasons),
          ],
        ];
      const declared = after.record.changes.findLast(({ revision }) => revision === after.revision)?.signOffs;
      return declared === "again" ? [[after.revision, "the author asks for it"]] : [];
    }),
  );
}
