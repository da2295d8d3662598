/** What procedures do to a platform, and for which patients the same steps of them apply. */
import type { Band, Platform, Procedure } from "../../schema/collection.ts";
import { holdsPatient } from "../bands/bands.ts";
import { type Cell, elementaryBands, groupCells } from "../bands/patients.ts";
import { netMoved } from "../parts/builds.ts";
import { type Model, stepsFor } from "./model.ts";

/** Whether a procedure moves or turns something: only such a one can be part of a changeover. */
export function acts({ steps }: Procedure): boolean {
  return steps.some(({ operations }) => operations.length > 0);
}

/**
 * Whether a procedure can bring a platform from one arrangement towards another. One that moves nothing for good, and
 * turns each fastening of two states there and back, leaves everything as it was: a run stops at a turn to the state
 * that there is already (`run.ts`), and no shortest way has such a procedure in it.
 */
export function canChange({ fastenings }: Platform, procedure: Procedure): boolean {
  const { into, from } = netMoved(procedure);
  if (into.size + from.size > 0) return true;
  const turning = procedure.steps.filter(({ operations }) => operations.length > 0);
  if (turning.some(({ band }) => JSON.stringify(bandKey(band)) !== JSON.stringify(bandKey(procedure.band))))
    return true;
  const turns = new Map<string, number>();
  for (const { operations } of turning)
    for (const operation of operations)
      if (operation.kind === "turn") turns.set(operation.fastening, (turns.get(operation.fastening) ?? 0) + 1);
  return [...turns].some(
    ([id, count]) => count % 2 === 1 || fastenings.find((each) => each.id === id)?.states.length !== 2,
  );
}

const bandKey = ({ weight, age }: Band) => [weight, age].map(({ text }) => text);

/** Patients with the same steps: `key` is equal for equal steps of the procedures that were asked for. */
interface PatientGroup {
  readonly key: string;
  readonly cells: readonly Cell[];
}

/**
 * Patients of a band for whom the same steps of these procedures apply, lightest first. `cuts` are bands at whose ends
 * patients are told apart besides; of `wanted`, if it is given, only cells that it holds for.
 */
export function groupPatients(
  model: Model,
  whole: Band,
  procedures: readonly Procedure[],
  cuts: readonly Band[] = [],
  wanted: (cell: Cell) => boolean = () => true,
): readonly PatientGroup[] {
  const bands = procedures.flatMap(({ band, steps }) => [
    band,
    ...steps.map((step) => step.band),
    ...steps.flatMap(({ procedure }) => model.procedures.get(procedure)?.band ?? []),
  ]);
  return groupCells(elementaryBands(whole, [...new Set([...bands, ...cuts])]), (cell) => {
    if (!wanted(cell)) return undefined;
    const numbers = procedures.map((procedure) =>
      holdsPatient(procedure.band, cell.patient)
        ? stepsFor(model.procedures, procedure, cell.patient).map(({ number }) => number)
        : "-",
    );
    return numbers.join(";");
  });
}
