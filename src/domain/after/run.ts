/** From what was pressed on a device to the times of a run, planned beside done. */
import type { TimedRun, TimedRunStep } from "../../schema/times/times.ts";
import type { Walk } from "../device/walk.ts";
import { writtenOf } from "../parts/reading.ts";
import { dayOf } from "../words/say.ts";

/** Something that happened at a stop; the stop after the last is the count. */
export interface Press {
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly stop: number;
  /**
   * `shown`: its screen came to the front; `done`: *Done* was pressed; `paused`: the page was left, and is back there;
   * `again`: everything from this stop on is begun again.
   */
  readonly kind: "shown" | "done" | "paused" | "again";
}

/**
 * The times of a run that was finished with its last press; whole seconds. A step counts the time that its screen was
 * in front, on all visits since it was begun (again); where a pause fell into it that is not known. `begun`: what was
 * begun before it, as one word. `undefined`: a stop was never done.
 */
export function runOf(
  { stops, platform, from, to }: Pick<Walk, "stops" | "platform" | "from" | "to">,
  presses: readonly Press[],
  id: string,
  { begun, drill }: Pick<TimedRun, "begun" | "drill"> = {},
): TimedRun | undefined {
  const [first, last] = [presses[0], presses.at(-1)];
  if (!first || !last) return undefined;
  const kept = stops.map(() => ({ took: 0, isWhole: true, done: undefined as number | undefined, interrupted: 0 }));
  let open: Press | undefined;
  for (const press of presses) {
    const shown = open && kept[open.stop];
    if (open && shown && press.kind !== "paused") {
      shown.took += press.at - open.at;
      if (press.at < open.at) shown.isWhole = false;
    }
    const own = kept[press.stop];
    if (press.kind === "done" && own) own.done = press.at;
    if (press.kind === "paused" && own) [own.interrupted, own.isWhole] = [own.interrupted + 1, false];
    if (press.kind === "again") {
      const at = kept[open?.stop ?? press.stop];
      // Whoever comes back from a pause and begins again was interrupted once.
      if (at && open) at.interrupted += 1;
      for (const each of kept.slice(press.stop)) [each.took, each.isWhole, each.done] = [0, true, undefined];
    }
    open = press.kind === "shown" ? press : undefined;
  }
  const since = (at: number) => Math.max(0, Math.round((at - first.at) / 1000));
  const steps = stops.map((stop, at): TimedRunStep | undefined => {
    const { took, isWhole, done, interrupted } = kept[at]!,
      { number, revision, step, takesSeconds, start, end } = stop,
      { procedure, isBack } = writtenOf(stop.procedure);
    return done === undefined
      ? undefined
      : {
          number,
          procedure,
          revision,
          step,
          ...(isBack ? { back: true as const } : {}),
          takes: takesSeconds,
          start,
          end,
          ...(isWhole ? { took: Math.round(took / 1000) } : {}),
          done: since(done),
          interrupted,
        };
  });
  if (steps.some((step) => step === undefined)) return undefined;
  return {
    id,
    day: dayOf(new Date(first.at)),
    platform,
    from,
    to,
    ...(begun ? { begun } : {}),
    ...(drill === undefined ? {} : { drill }),
    steps: steps as TimedRunStep[],
    counted: since(last.at),
  };
}
