/** One slip: an act of a procedure left out, done to one piece too few, or turned only half; and the run with it. */
import type { Procedure, Step } from "../../schema/collection.ts";
import type { Act, Model, Program, State } from "../states/model.ts";
import { run, settle } from "../states/run.ts";

/** How an act goes wrong. */
export type SlipWay = "left out" | "one too few" | "half turned";

/** One act of a step that goes wrong in one way. */
export interface Slip {
  readonly kind: SlipWay;
  /** The procedure that is run, and the step that is not done as written (of an included procedure, too). */
  readonly procedure: Procedure;
  readonly step: Step;
  /** Index into the step's operations. */
  readonly operation: number;
}

/**
 * The state of a fastening that was turned half: none of its own, so that it neither holds anything nor is as any
 * line wants it. The next turn of it can be made.
 */
const HALF = 0xfffe;

/** A slip of a program, with the acts that are done in place of the written ones. */
export interface SlippedProgram {
  readonly slip: Slip;
  /** Index of its step in the program's steps. */
  readonly step: number;
  /** Whether the step's own lines are still asked: who leaves out all that a step does, leaves out its lines too. */
  readonly asksOwn: boolean;
  readonly acts: readonly Act[];
}

/** Every slip of a program, in the order of its acts. */
export function slipsOf({ procedure, steps, acts }: Program): SlippedProgram[] {
  return acts.flatMap((act, at) => {
    const step = steps[act.step]!,
      base = { procedure, step, operation: step.operations.indexOf(act.source) };
    const made = (kind: SlipWay, instead: readonly Act[]): SlippedProgram => ({
      slip: { ...base, kind },
      step: act.step,
      asksOwn: kind !== "left out" || step.operations.length > 1,
      acts: [...acts.slice(0, at), ...instead, ...acts.slice(at + 1)],
    });
    return [
      made("left out", []),
      ...(act.kind === "move" && act.count > 1 ? [made("one too few", [{ ...act, count: act.count - 1 }])] : []),
      ...(act.kind === "turn" ? [made("half turned", [{ ...act, state: HALF }])] : []),
    ];
  });
}

/** What a program does to a state, step by step. */
export interface Trace {
  /** The state when each step is done; of a run that was stopped, only of the steps before. */
  readonly after: readonly State[];
  /** The index of the step whose act can't be done; absent if all can. */
  readonly stoppedAt?: number;
  /** The state at the end, or in which it stopped. */
  readonly end: State;
}

/**
 * Runs acts in place of a program's own. What an author must not leave at a procedure's end (things put aside,
 * fastenings open) stops nobody here: the crew goes on.
 */
export function traceOf(
  model: Model,
  start: State,
  program: Program,
  acts: readonly Act[],
  noVainTurns: boolean,
): Trace {
  const changed = new Map<number, State>();
  let begun = 0;
  const { state, done, stops } = run(
    model,
    start,
    { ...program, acts },
    {
      noVainTurns,
      watch: ({ step }, now) => {
        begun++;
        if (acts[begun]?.step !== step) changed.set(step, settled(model, now));
      },
    },
  );
  const stoppedAt = done < acts.length ? stops[0]!.act.step : undefined;
  const after: State[] = [];
  for (let step = 0; step < (stoppedAt ?? program.steps.length); step++)
    after.push(changed.get(step) ?? after.at(-1) ?? start);
  return { after, end: state, ...(stoppedAt === undefined ? {} : { stoppedAt }) };
}

/** A copy in which a fastening that is not on the platform has no state: a line that asks for it finds none. */
function settled(model: Model, state: State): State {
  const copy = state.slice();
  settle(model, copy);
  return copy;
}
