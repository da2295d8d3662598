/** Planned and done of one run, step by step, in the order in which it was stepped through. */
import type { TimedRun, TimedRunStep } from "../../schema/times.ts";
import { sayMinutes, sayNumber } from "../words/say.ts";

/** One sentence on the whole: `Done in 9:40, planned 8:50: 0:50 later.` */
export function sayWhole({ steps }: Pick<TimedRun, "steps">): string {
  const planned = Math.max(0, ...steps.map(({ end }) => end)),
    done = Math.max(0, ...steps.map((step) => step.done)),
    breaks = steps.reduce((sum, { interrupted }) => sum + interrupted, 0);
  const by = done - planned;
  const said = by === 0 ? "as planned" : `${sayMinutes(Math.abs(by))} ${by > 0 ? "later" : "sooner"}`;
  return (
    `Done in ${sayMinutes(done)}, planned ${sayMinutes(planned)}: ${said}.` +
    (breaks > 0 ? ` Interrupted ${sayNumber(breaks, "time")}.` : "")
  );
}

/** How far the end of a step is from its plan: `+0:50`, `−0:10`, `0:00`. */
export function sayLate({ end, done }: Pick<TimedRunStep, "end" | "done">): string {
  const by = Math.round(done - end);
  return `${by > 0 ? "+" : by < 0 ? "−" : ""}${sayMinutes(Math.abs(by))}`;
}
