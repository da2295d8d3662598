/** Procedures with the steps of those that they include in place, when one of these is other than it was read. */
import type { Include, Procedure, Step } from "../../schema/collection.ts";
import { idsIncludedBy } from "../words/procedure-facts.ts";

/**
 * The procedures with every include filled anew from the given ones and steps numbered from 1; one that includes
 * nothing that was exchanged stays the very same record. `others` holds procedures to fall back on, which are not
 * among the answer: what is included but not in force is still what the including procedure says. An include that is
 * unknown or goes round in a circle is left empty.
 */
export function assemble(
  procedures: readonly Procedure[],
  others: readonly Procedure[],
  exchanged: ReadonlySet<Procedure>,
): Procedure[] {
  if (exchanged.size === 0) return [...procedures];
  const byId = new Map([...others, ...procedures].map((procedure) => [procedure.id, procedure]));
  const isTouched = (procedure: Procedure, path: readonly string[] = []): boolean =>
    exchanged.has(procedure) ||
    idsIncludedBy(procedure).some((id) => {
      const other = byId.get(id);
      return other !== undefined && !path.includes(id) && isTouched(other, [...path, id]);
    });
  return procedures.map((procedure) => {
    if (idsIncludedBy(procedure).length === 0 || !isTouched(procedure, [procedure.id])) return procedure;
    const steps: Step[] = [];
    const number = (step: Step): Step => {
      const numbered = { ...step, number: steps.length + 1 };
      steps.push(numbered);
      return numbered;
    };
    const sections = procedure.sections.map((section) => ({
      ...section,
      entries: section.entries.map((entry) =>
        entry.kind === "step"
          ? number(entry)
          : entry.kind === "include"
            ? { ...entry, steps: stepsOf(entry, byId, [procedure.id]).map(number) }
            : entry,
      ),
    }));
    return { ...procedure, sections, steps };
  });
}

function stepsOf(
  { procedure: id }: Include,
  byId: ReadonlyMap<string, Procedure>,
  path: readonly string[],
): readonly Step[] {
  const procedure = path.includes(id) ? undefined : byId.get(id);
  return (procedure?.sections ?? []).flatMap(({ entries }) =>
    entries.flatMap((entry) =>
      entry.kind === "step" ? [entry] : entry.kind === "include" ? stepsOf(entry, byId, [...path, id]) : [],
    ),
  );
}
