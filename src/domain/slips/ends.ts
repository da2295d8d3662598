/** Where slips end: each in one of five stretches, from the procedure in which it is made to the patient. */
import { heard } from "../../words/heard.ts";
import type { Outcome, SlipProof, SlipRow } from "./prove.ts";

/** The stretches that a slip gets through, in order; what gets into the last is noticed by nobody. */
export const STRETCHES = ["procedure", "after", "count", "card", "use"] as const;

/** A stretch as pages call it. */
export function nameStretch(stretch: (typeof STRETCHES)[number]): string {
  return {
    procedure: heard("slips").thisProcedure,
    after: heard("slips").thoseAfterIt,
    count: heard("slips").theCountAtEnd,
    card: heard("slips").theCard,
    use: heard("slips").inUse,
  }[stretch];
}

/** One slip, where it survives longest. */
export interface SlipEnd {
  readonly outcome: Outcome;
  readonly critical: boolean;
}

/** The slips of one procedure. */
interface ProcedureEnds {
  /** Its id. */
  readonly procedure: string;
  /** For each of `STRETCHES` the slips that end in it, in the order of the acts. */
  readonly ends: readonly (readonly SlipEnd[])[];
  /** Slips that nobody notices, of safety-critical steps that give no reason: each is a finding. */
  readonly unexplained: number;
}

/** The index in `STRETCHES` of the one in which a slip ends; what is made good gets no further than the second. */
export function stretchOf({ slip, worst: { noticed } }: SlipRow): number {
  const { outcome, at, onCard } = noticed;
  if (outcome === "silent") return 4;
  if (outcome === "made good") return 1;
  if (outcome === "counted") return 2;
  if (onCard) return 3;
  return at && at.procedure.id !== slip.procedure.id ? 1 : 0;
}

/**
 * The slips of each procedure by where they end; first the procedures with most that need a reason, then those with
 * most that nobody notices, then in their own order. Empty if nothing is moved or turned.
 */
export function slipEndsOf({ rows }: Pick<SlipProof, "rows">): readonly ProcedureEnds[] {
  const byProcedure = Map.groupBy(rows, ({ slip }) => slip.procedure.id);
  return [...byProcedure]
    .map(([procedure, own]) => ({
      procedure,
      ends: STRETCHES.map((_, stretch) =>
        own
          .filter((row) => stretchOf(row) === stretch)
          .map(({ slip, worst }) => ({ outcome: worst.noticed.outcome, critical: slip.step.critical })),
      ),
      unexplained: own.filter(isUnexplained).length,
    }))
    .sort((a, b) => b.unexplained - a.unexplained || b.ends[4]!.length - a.ends[4]!.length);
}

/**
 * The author's reason why nobody can notice a slip, and what stands instead; empty if there is none, or somebody does.
 */
export function silenceReason({ slip: { step }, outcomes }: SlipRow): string {
  return outcomes.silent > 0 ? (step.unnoticed ?? "") : "";
}

/** Whether a slip is safety-critical, somewhere silent, and without a reason: what `plan/silent-slip` finds. */
export function isUnexplained({ slip: { step }, outcomes }: SlipRow): boolean {
  return step.critical && step.unnoticed === undefined && outcomes.silent > 0;
}
