/** How far a walk has come: a rail with a pin for each step, filled when done; a bar across it at each hold. */
import type { Walk } from "../../domain/device/walk.ts";
import { wordsHere } from "../../words/heard.ts";
import { draw } from "../element.ts";

const WIDTH = 600,
  HEIGHT = 44,
  MIDDLE = 18;

/** The rail with the stop at which the crew is. */
export function railOfStops({ stops }: Walk, at: number): Element {
  const box = document.createElement("div");
  box.className = "th-rail";
  const svg = draw("svg", { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" });
  const x = (index: number) => 14 + ((WIDTH - 28) * index) / Math.max(1, stops.length);
  const radius = Math.min(8, (WIDTH - 28) / (stops.length + 1) / 2.6);
  svg.append(draw("path", { class: "line", d: `M${x(0)} ${MIDDLE}H${x(stops.length)}` }));
  if (at > 0) svg.append(draw("path", { class: "gone", d: `M${x(0)} ${MIDDLE}H${x(Math.min(at, stops.length))}` }));
  stops.forEach((stop, index) => {
    const state = `${index < at ? "done" : ""}${index === at ? " here" : ""}`;
    if (stop.hold) svg.append(draw("path", { class: `stop-bar ${state}`, d: `M${x(index).toFixed(1)} 4V32` }));
    else
      svg.append(
        draw("circle", { class: `dot ${state}`, cx: x(index).toFixed(1), cy: String(MIDDLE), r: radius.toFixed(1) }),
      );
  });
  svg.append(
    draw("path", {
      class: `end ${at > stops.length ? "done" : ""}`,
      d: `M${x(stops.length) - 7} ${MIDDLE - 7}h14v14h-14Z`,
    }),
  );
  if (at < stops.length) svg.append(draw("path", { class: "point", d: `M${x(at).toFixed(1)} 32l7 10h-14Z` }));
  const said = document.createElement("p"),
    { walk: words } = wordsHere("walk");
  said.textContent =
    at < stops.length
      ? words.stepsDone({ done: at, steps: stops.length })
      : at === stops.length
        ? words.nowCount
        : words.finished;
  box.append(svg, said);
  return box;
}
