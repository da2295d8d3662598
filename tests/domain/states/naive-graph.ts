/**
 * What every procedure makes of every state that can be reached, by the naive simulation: an independent picture of a
 * platform's changeovers for a patient.
 */
import { type Arrangement, validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { holdsPatient, type Patient } from "../../../src/domain/bands/bands.ts";
import type { Platform, Procedure, Step } from "../../../src/schema/collection.ts";
import { heldContents, type Named, naiveRun, naiveStart, type NaiveState } from "./naive-run.ts";

export interface NaiveEdge {
  readonly from: string;
  readonly to: string;
  readonly seconds: number;
  readonly procedure: Procedure;
  /** Its steps for the patient. */
  readonly steps: readonly Step[];
}

export interface NaiveGraph {
  readonly edges: readonly NaiveEdge[];
  /** Each arrangement with its state. */
  readonly arrangements: readonly { readonly arrangement: Arrangement; readonly state: string }[];
}

/** Pieces of a kind are alike, so a state is told by how many of each are where. */
function keyOf({ pieces, fastenings }: NaiveState): string {
  return [
    ...[...pieces].map(([piece, place]) => `${piece.split("#")[0]}@${place}`).sort(),
    ...[...fastenings].map(([id, state]) => `${id}=${state}`).sort(),
  ].join(";");
}

/** The states that can be reached from the arrangements, and what leads from one to another. */
export function naiveGraph(platform: Platform, patient: Patient): NaiveGraph {
  const arrangements = validArrangements(platform);
  const starts = arrangements.map(({ contents, fastenings }) => naiveStart(platform, contents, fastenings));
  const named: Named[] = arrangements.flatMap(({ configuration, options, contents }, at) =>
    configuration.fastenings.map(({ fastening, state }) => ({
      fastening,
      state,
      contents: heldContents(
        starts[at]!.pieces,
        platform.fastenings.find(({ id }) => id === fastening)!,
      ),
      fitted: contents.filter((piece) =>
        [configuration, ...options].some(({ fitted }) =>
          fitted.some(({ item, place }) => item === piece.item && place === piece.place),
        ),
      ),
    })),
  );
  const own = new Map(platform.procedures.map((procedure) => [procedure.id, procedure]));
  const usable = platform.procedures
    .filter(({ status, band }) => status === "approved" && holdsPatient(band, patient))
    .map((procedure) => ({
      procedure,
      steps: procedure.steps.filter(
        (step) => holdsPatient(step.band, patient) && holdsPatient(own.get(step.procedure)!.band, patient),
      ),
    }));
  const states = new Map(starts.map((state) => [keyOf(state), state]));
  const edges: NaiveEdge[] = [];
  for (const [key, state] of states)
    for (const { procedure, steps } of usable) {
      const end = naiveRun(platform, state, { steps }, named, true);
      if (Array.isArray(end)) continue;
      if (!states.has(keyOf(end))) states.set(keyOf(end), end);
      edges.push({
        from: key,
        to: keyOf(end),
        seconds: steps.reduce((sum, step) => sum + step.takesSeconds, 0),
        procedure,
        steps,
      });
    }
  return {
    edges,
    arrangements: arrangements.map((arrangement, at) => ({ arrangement, state: keyOf(starts[at]!) })),
  };
}
