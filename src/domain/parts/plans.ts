/**
 * Every changeover between two arrangements: one for each group of patients for whom the steps differ. The same in a
 * build and in a browser.
 */
import type { Band } from "../../schema/collection.ts";
import type { Arrangement } from "./arrangements.ts";
import { holdsPatient, meetBands, type Patient } from "../bands/bands.ts";
import { type Changeover, graphFor, planChangeover } from "./changeover.ts";
import type { StateGraph } from "./explore.ts";
import { type Model, stepsFor } from "./model.ts";
import { type Cell, elementaryBands, groupCells } from "../bands/patients.ts";

/** The least-time changeover for some patients; without one, there is no way for them. */
interface PatientPlan {
  readonly cells: readonly Cell[];
  readonly changeover: Changeover | undefined;
}

/**
 * The changeovers for the patients of the arrangement that it leads to, as far as the service carries them; with a
 * patient, only for
 * those who are like this one. Patients with the same steps share a plan. Empty: the patient is not in that band, or
 * nobody is.
 */
export function plansBetween(
  model: Model,
  service: Band,
  from: Arrangement,
  to: Arrangement,
  patient: Patient = {},
): PatientPlan[] {
  const band = meetBands(service, to.band);
  if (!band) return [];
  // Only procedures that move or turn something can be part of a changeover; the others divide no patients.
  const approved = model.platform.procedures.filter(
    ({ status, steps }) => status === "approved" && steps.some(({ operations }) => operations.length > 0),
  );
  const cells = elementaryBands(
    band,
    approved.flatMap((procedure) => [procedure.band, ...procedure.steps.map((step) => step.band)]),
  ).filter((cell) => holdsPatient(cell.band, patient));
  const alike = groupCells(cells, (cell) =>
    JSON.stringify(
      approved.map(
        (procedure) =>
          holdsPatient(procedure.band, cell.patient) &&
          stepsFor(model.procedures, procedure, cell.patient).map(({ number }) => number),
      ),
    ),
  );
  const plans: PatientPlan[] = [];
  for (const group of alike) {
    const changeover = planChangeover(model, graphOf(model, group.key, group.cells[0]!.patient), from, to);
    const key = stepsKey(changeover),
      twin = plans.findIndex((plan) => stepsKey(plan.changeover) === key);
    if (twin >= 0) plans[twin] = { ...plans[twin]!, cells: [...plans[twin]!.cells, ...group.cells] };
    else plans.push({ cells: group.cells, changeover });
  }
  return plans;
}

/**
 * Graphs of a model by the steps that apply: patients with the same steps share one, and what it has found out serves
 * the next question.
 */
const graphs = new WeakMap<Model, Map<string, StateGraph>>();

function graphOf(model: Model, key: string, patient: Patient): StateGraph {
  const known = graphs.get(model) ?? new Map<string, StateGraph>();
  graphs.set(model, known);
  const graph = known.get(key) ?? graphFor(model, patient);
  known.set(key, graph);
  return graph;
}

function stepsKey(changeover: Changeover | undefined): string {
  return JSON.stringify(changeover?.steps.map(({ procedure, step }) => [procedure.id, step.number]));
}
