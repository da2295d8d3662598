/** What comes after the last step of a walk: its run kept, planned and done side by side, and the file. */
import type { TimedRun } from "../../schema/times/times.ts";
import type { Walk } from "../../domain/device/walk.ts";
import { type Press, runOf } from "../../domain/after/run.ts";
import { heard } from "../../words/heard.ts";
import { element } from "../element.ts";
import { keptOnDevice } from "./after-file.ts";
import { keepAfter, newId } from "./after-store.ts";
import { plannedAndDone } from "./planned-done.ts";

/** A run, and whether the device keeps it. */
interface KeptRun {
  readonly run: TimedRun;
  readonly isKept: boolean;
}

/** Keeps the run of a finished walk; `undefined` where its times are not known. */
export function keepRun(
  walk: Walk,
  presses: readonly Press[],
  of: Pick<TimedRun, "begun" | "drill">,
): KeptRun | undefined {
  const run = runOf(walk, presses, newId(), of);
  return run && { run, isKept: keepAfter({ run }) };
}

/** Planned and done, and the file; nothing where there was no step. */
export function afterParts({ stops }: Walk, kept: KeptRun | undefined): Node[] {
  if (!kept) return stops.length > 0 ? [element("p", { class: "small" }, heard("after").timesNotKnown)] : [];
  const { place, show } = keptOnDevice(kept.isKept);
  show();
  return [
    element(
      "section",
      { class: "planned-done", "aria-label": heard("after").plannedAndDone },
      element("h3", {}, heard("after").plannedAndDone),
      ...plannedAndDone(kept.run, stops),
      place,
    ),
  ];
}
