/**
 * The one planner of changeovers, for pages, paper, devices and commands: one plan for each group of patients for whom
 * the steps differ.
 */
import type { Band, Crew } from "../../schema/collection.ts";
import { bandOfPatient, holdsPatient, meetBands, type Patient } from "../bands/bands.ts";
import type { Cell } from "../bands/patients.ts";
import type { Arrangement } from "../parts/arrangements.ts";
import { type Changeover, graphFor, planChangeover, secondsOf } from "../states/changeover.ts";
import type { StateGraph } from "../states/explore.ts";
import type { Model } from "../states/model.ts";
import { confirmingSteps } from "../parts/confirming.ts";
import { endWithReading } from "../parts/reading.ts";
import { canChange, groupPatients } from "../states/usable.ts";
import { remember } from "../words/remember.ts";
import { chooseAmongTies } from "./tied-ways.ts";
import { usableProcedures } from "../parts/lookup.ts";

/** Whom the service carries, and who does the steps. */
export interface Carrier {
  readonly band: Band;
  readonly crew: readonly Pick<Crew, "id">[];
}

/** The changeover for some patients; without one, there is no way for them. */
export interface PatientPlan {
  readonly cells: readonly Cell[];
  readonly changeover: Changeover | undefined;
}

/**
 * The changeover between two arrangements for one patient, of whom weight or age may be unknown; `undefined` if there
 * is none. Least seconds, confirming and the reading of the card aside; which of several such ways, `chooseAmongTies`
 * says. It begins with what confirms the patient, and the card is read once, at the end.
 */
export function planFor(
  model: Model,
  { crew }: Pick<Carrier, "crew">,
  from: Arrangement,
  to: Arrangement,
  patient: Patient,
): Changeover | undefined {
  const changeover = plan(model, crew, graphFor(model, patient), from, to);
  return changeover && confirmFirst(model, changeover, [bandOfPatient(to.band, patient)]);
}

function plan(model: Model, crew: Carrier["crew"], graph: StateGraph, from: Arrangement, to: Arrangement) {
  const roles = crew.map(({ id }) => id);
  const changeover = planChangeover(model, graph, from, to, chooseAmongTies(graph, roles));
  const steps = changeover && endWithReading(changeover.steps, to, crew);
  return steps && { ...changeover, steps, seconds: secondsOf(steps) };
}

/** The changeover, begun by the steps that confirm the patients in these bands. */
export function confirmFirst(model: Model, changeover: Changeover, whom: readonly Band[]): Changeover {
  const first = confirmingSteps(model.platform, whom);
  if (first.length === 0) return changeover;
  const steps = [...first, ...changeover.steps];
  return {
    ...changeover,
    procedures: [first[0]!.procedure, ...changeover.procedures],
    steps,
    seconds: secondsOf(steps),
  };
}

/** Plans, each begun by what confirms its patients; of one patient what is not known leaves nothing out. */
export function confirmEach(model: Model, plans: readonly PatientPlan[], patient: Patient): PatientPlan[] {
  return plans.map(({ cells, changeover }) => ({
    cells,
    changeover:
      changeover &&
      confirmFirst(
        model,
        changeover,
        cells.map(({ band }) => bandOfPatient(band, patient)),
      ),
  }));
}

/**
 * The changeovers for the patients of the arrangement that it leads to, as far as the service carries them; with a
 * patient, only for those who are like this one. Patients for whom the same is moved and turned share a plan: steps
 * that confirm only some of them say so (`only`), since a plan and a card of their own would repeat all the rest.
 * Empty: the patient is not in that band, or nobody is.
 */
export function plansBetween(
  model: Model,
  carrier: Carrier,
  from: Arrangement,
  to: Arrangement,
  patient: Patient = {},
): PatientPlan[] {
  return confirmEach(model, waysBetween(model, carrier, from, to, patient), patient);
}

/**
 * As `plansBetween`, without what confirms: the ways through the states, one for each group of patients for whom what
 * is moved and turned differs.
 */
export function waysBetween(
  model: Model,
  carrier: Carrier,
  from: Arrangement,
  to: Arrangement,
  patient: Patient = {},
): PatientPlan[] {
  return byPatients(model, carrier, to, patient, (graph) => plan(model, carrier.crew, graph, from, to));
}

/**
 * What `planned` answers for each group of the patients of an arrangement for whom the procedures are the same, as far
 * as the service carries them; groups with the same steps as one. The graph is that of the group's procedures.
 */
export function byPatients(
  model: Model,
  { band }: Pick<Carrier, "band">,
  to: Arrangement,
  patient: Patient,
  planned: (graph: StateGraph) => Changeover | undefined,
): PatientPlan[] {
  const isAnybody = patient.weight === undefined && patient.age === undefined;
  const plans: PatientPlan[] = [];
  for (const group of isAnybody ? everybody(model, band, to) : likePatient(model, band, to, patient)) {
    const changeover = planned(graphOf(model, group.key, group.cells[0]!.patient));
    const key = stepsKey(changeover),
      twin = plans.findIndex((plan) => stepsKey(plan.changeover) === key);
    if (twin >= 0) plans[twin] = { ...plans[twin]!, cells: [...plans[twin]!.cells, ...group.cells] };
    else plans.push({ cells: group.cells, changeover });
  }
  return plans;
}

/** Patients of an arrangement whom the service carries, in groups for whom the procedures are the same. */
const everybody = /* @__PURE__ */ remember((model: Model, carried: Band, to: Arrangement) =>
  likePatient(model, carried, to, {}),
);

/** As `everybody`, only those who are like a patient. */
function likePatient(model: Model, carried: Band, to: Arrangement, patient: Patient): ReturnType<typeof groupPatients> {
  const band = meetBands(carried, to.band);
  if (!band) return [];
  const isOwn = (cell: Cell) => !to.without.some((each) => meetBands(each, cell.band));
  return groupPatients(
    model,
    band,
    movingProcedures(model),
    to.without,
    (cell) => holdsPatient(cell.band, patient) && isOwn(cell),
  );
}

/** Procedures that can be part of a changeover. */
const movingProcedures = /* @__PURE__ */ remember(({ platform }: Model) =>
  usableProcedures(platform).filter((procedure) => canChange(platform, procedure)),
);

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

/** What a changeover does, as a key: equal for the same steps in the same order, and where there is none. */
export function stepsKey(changeover: Changeover | undefined): string {
  return JSON.stringify(changeover?.steps.map(({ procedure, step }) => [procedure.id, step.number]));
}
