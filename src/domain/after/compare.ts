/** Planned and done of one run, step by step, in the order in which it was stepped through. */
import type { TimedRun, TimedRunStep } from "../../schema/times/times.ts";
import { sayMinutes } from "../words/say.ts";
import { heard } from "../../words/heard.ts";

/** One sentence on the whole: `Done in 9:40, planned 8:50: 0:50 later.` */
export function sayWhole({ steps }: Pick<TimedRun, "steps">): string {
  const planned = Math.max(0, ...steps.map(({ end }) => end)),
    done = Math.max(0, ...steps.map((step) => step.done)),
    breaks = steps.reduce((sum, { interrupted }) => sum + interrupted, 0);
  const by = done - planned;
  const said = by === 0 ? heard("timing").asPlanned : `${sayMinutes(Math.abs(by))} ${by > 0 ? "later" : "sooner"}`;
  return heard("timing").doneInPlanned({
    done: sayMinutes(done),
    planned: sayMinutes(planned),
    said,
    breaks: breaks > 0 ? heard("timing").interruptedTime({ breaks }) : "",
  });
}

/** How far the end of a step is from its plan: `+0:50`, `−0:10`, `0:00`. */
export function sayLate({ end, done }: Pick<TimedRunStep, "end" | "done">): string {
  const by = Math.round(done - end);
  return `${by > 0 ? "+" : by < 0 ? "−" : ""}${sayMinutes(Math.abs(by))}`;
}
