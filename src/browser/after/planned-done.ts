/**
 * Planned and done side by side: two rails down which time runs, a hollow pin where the plan ends a step, a filled one
 * where it was done, and a thread between them; below, the same as a table.
 */
import type { TimedRun } from "../../schema/times/times.ts";
import type { WalkStop } from "../../domain/device/walk.ts";
import { sayLate, sayWhole } from "../../domain/after/compare.ts";
import { sayMinutes } from "../../domain/words/say.ts";
import { heard } from "../../words/heard.ts";
import { draw, element } from "../element.ts";

const WIDTH = 360,
  LEFT = 96,
  RIGHT = 264,
  TOP = 40,
  RADIUS = 6;
/** Numbers nearer to each other than this can't be read. */
const APART = 15;

/** The picture and the table of a run; `stops` gives the words of its steps. */
export function plannedAndDone({ steps }: TimedRun, stops: readonly WalkStop[]): Node[] {
  const last = Math.max(1, ...steps.flatMap(({ end, done }) => [end, done]));
  const height = Math.max(240, Math.min(900, steps.length * 22)),
    y = (seconds: number) => TOP + (height * seconds) / last;
  const svg = draw("svg", { viewBox: `0 0 ${WIDTH} ${TOP + height + 24}`, "aria-hidden": "true", class: "pd-rails" });
  const write = (x: number, at: number, anchor: string, text: string, kind = "") => {
    const made = draw("text", { x: String(x), y: at.toFixed(1), "text-anchor": anchor, class: kind });
    made.textContent = text;
    svg.append(made);
  };
  const ends = { planned: Math.max(0, ...steps.map(({ end }) => end)), done: Math.max(0, ...steps.map((s) => s.done)) };
  write(LEFT, 16, "middle", heard("after").planned, "head");
  write(RIGHT, 16, "middle", heard("after").done, "head");
  svg.append(draw("path", { class: "rail", d: `M${LEFT} ${TOP}V${y(ends.planned).toFixed(1)}` }));
  svg.append(draw("path", { class: "rail held", d: `M${RIGHT} ${TOP}V${y(ends.done).toFixed(1)}` }));
  for (const { end, done } of steps)
    svg.append(
      draw("path", {
        class: "thread",
        d: `M${LEFT + RADIUS} ${y(end).toFixed(1)}L${RIGHT - RADIUS} ${y(done).toFixed(1)}`,
      }),
    );
  const written = { planned: -Infinity, done: -Infinity };
  const byEnd = steps.toSorted((a, b) => a.end - b.end);
  for (const { number, end } of byEnd) {
    svg.append(pin(LEFT, y(end), false));
    if (y(end) - written.planned < APART) continue;
    write(LEFT - 14, y(end) + 5, "end", `${number}`);
    written.planned = y(end);
  }
  for (const { number, done, interrupted } of steps.toSorted((a, b) => a.done - b.done)) {
    svg.append(pin(RIGHT, y(done), true));
    if (interrupted > 0) svg.append(draw("path", { class: "pause", d: `M${RIGHT - 14} ${y(done) - 11}h28` }));
    if (y(done) - written.done < APART) continue;
    write(
      RIGHT + 14,
      y(done) + 5,
      "start",
      interrupted > 0 ? heard("after").numberInterrupted({ number }) : String(number),
    );
    written.done = y(done);
  }
  write(LEFT, y(ends.planned) + 22, "middle", sayMinutes(ends.planned), "head");
  write(RIGHT, y(ends.done) + 22, "middle", sayMinutes(ends.done), "head");
  const head = [heard("after").step, "", heard("after").planned, heard("after").done, heard("after").by].map((text) =>
    element("th", { scope: "col" }, text),
  );
  const rows = steps.map((step, at) =>
    element(
      "tr",
      {},
      element("th", { scope: "row" }, String(step.number)),
      element(
        "td",
        {},
        stops[at]!.text,
        ...(step.interrupted > 0 ? [" ", element("em", {}, heard("after").interruptedHere)] : []),
      ),
      element("td", {}, sayMinutes(step.end)),
      element("td", {}, sayMinutes(step.done)),
      element("td", {}, sayLate(step)),
    ),
  );
  return [
    element("p", { class: "pd-whole" }, sayWhole({ steps })),
    svg,
    element(
      "div",
      { class: "scroll-x", role: "region", "aria-label": heard("after").stepByStep, tabindex: "0" },
      element(
        "table",
        { class: "pd-table" },
        element("caption", {}, heard("after").minutesAndSeconds),
        element("thead", {}, element("tr", {}, ...head)),
        element("tbody", {}, ...rows),
      ),
    ),
    element("p", { class: "small" }, heard("after").whenPressed),
  ];
}

const pin = (x: number, at: number, held: boolean): SVGElement =>
  draw("circle", { cx: String(x), cy: at.toFixed(1), r: String(RADIUS), class: held ? "pin held" : "pin" });
