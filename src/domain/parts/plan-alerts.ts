/** Which warnings, cautions and notes stand before which step of a plan: the one answer for page, paper and device. */
import type { Alert, Platform, Procedure } from "../../schema/collection.ts";
import { BACK, type PlannedStep } from "./reading.ts";
import { lookup } from "./lookup.ts";

/** An alert that stands between a procedure's steps, with the number of the step that follows it. */
interface PlacedAlert {
  readonly number: number;
  readonly alert: Alert;
}

/** The alerts of one planned step. */
export interface StepAlerts {
  /** Those that stand before it in the written procedure, since the step of this plan before it; outermost first. */
  readonly between: readonly Alert[];
  /** Its own, those written after its instruction too: an alert is read before the step that it belongs to. */
  readonly own: readonly Alert[];
}

/**
 * The alerts that stand between a procedure's steps, in reading order, those of procedures that it includes too; those
 * after the last step are left out. `procedures`: by id, for what is included; one that is not there has none.
 */
export function alertsBefore(
  procedure: Pick<Procedure, "sections" | "purpose">,
  procedures: ReadonlyMap<string, Procedure>,
): PlacedAlert[] {
  const entries = [...procedure.purpose, ...procedure.sections.flatMap((section) => section.entries)];
  const found: PlacedAlert[] = [];
  let waiting: Alert[] = [];
  for (const entry of entries) {
    if (entry.kind === "alert") waiting.push(entry);
    const first = entry.kind === "step" ? entry : entry.kind === "include" ? entry.steps[0] : undefined;
    if (!first) continue;
    found.push(...waiting.map((alert) => ({ number: first.number, alert })));
    waiting = [];
    const included = entry.kind === "include" ? procedures.get(entry.procedure) : undefined;
    // Included steps are numbered on in the procedure round them; their alerts follow them there.
    if (entry.kind === "include" && included)
      for (const { number, alert } of alertsBefore(included, procedures)) {
        const step = entry.steps[number - 1];
        if (step) found.push({ number: step.number, alert });
      }
  }
  return found;
}

/**
 * The alerts of every step of a plan, by its index. An alert that stands before a step that is not for these patients
 * is shown before the next one that is; what stands before none that is done is left out. A procedure that another one
 * came between goes on where it was: what stood before its first steps is not said again.
 */
export function alertsOfPlan(steps: readonly PlannedStep[], platform: Platform): readonly StepAlerts[] {
  const { procedures } = lookup(platform);
  const runs = new Map<Procedure, { readonly waiting: readonly PlacedAlert[]; readonly last: number }>();
  return steps.map(({ procedure, step }) => {
    const before = runs.get(procedure);
    const waiting = before && step.number > before.last ? before.waiting : alertsBefore(procedure, procedures);
    runs.set(procedure, { waiting: waiting.filter(({ number }) => number > step.number), last: step.number });
    const between = waiting.filter(({ number }) => number <= step.number).map(({ alert }) => alert);
    return { between, own: [...step.alerts, ...step.alertsAfter] };
  });
}

/**
 * Whether a procedure's run begins at this step of a plan: another procedure than before, or the same from its top.
 * Steps that are walked back count downwards.
 */
export function startsRun(steps: readonly PlannedStep[], index: number): boolean {
  const before = steps[index - 1],
    { procedure, step } = steps[index]!;
  if (before === undefined || before.procedure !== procedure) return true;
  return step.number <= before.step.number && !procedure.id.startsWith(BACK);
}
