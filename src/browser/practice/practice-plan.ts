/** The plan of an arrangement with one thing left out: its place is empty, and what it was is what is asked. */
import { axesOf } from "../../drawing/axes.ts";
import { LARGE_NUMBER_RADIUS } from "../../drawing/drawing-plan.ts";
import type { SentPlan } from "../../site/study/plan-sent.ts";
import { wordsHere } from "../../words/heard.ts";
import { draw } from "../element.ts";
import { textElement } from "./practice-page.ts";

/** Upright where the page is too narrow for it to lie. */
const NARROW = ["(max-width:", "43.75em)"].join(" ");

/** The drawing, and what its numbers are; nothing of the item `gap` is in either. */
export function drawGapPlan(plan: SentPlan, gap: string, given: readonly string[]): HTMLElement {
  const tall = matchMedia(NARROW).matches;
  const { at } = axesOf(tall);
  const { from, to, halfWidth: half, unit } = plan;
  const radius = LARGE_NUMBER_RADIUS * unit;
  const rect = (kind: string, x: number, y: number, width: number, height: number) => {
    const [ax, ay] = at(x, y),
      [bx, by] = at(x + width, y + height);
    return draw("rect", {
      class: kind,
      x: Math.min(ax, bx),
      y: Math.min(ay, by),
      width: Math.abs(bx - ax),
      height: Math.abs(by - ay),
    });
  };
  const [left, top] = tall ? [-half, from] : [from, -half];
  const [width, height] = tall ? [2 * half, to - from] : [to - from, 2 * half];
  const drawing = draw("svg", {
    viewBox: `${left} ${top} ${width} ${height}`,
    "font-size": radius,
    "aria-hidden": "true",
  });
  drawing.append(rect("deck", from, -half, to - from, 2 * half));
  for (const [item, ...box] of plan.boxes) if (item !== gap) drawing.append(rect("std", ...box));
  for (const [x, y] of plan.crosses) {
    const [cx, cy] = at(x, y),
      arm = 14 * unit;
    drawing.append(draw("path", { class: "cross", d: `M${cx - arm} ${cy}H${cx + arm}M${cx} ${cy - arm}V${cy + arm}` }));
  }
  const legend = textElement("ul", "");
  legend.className = "plan-names";
  const drawn = plan.numbers.filter(([item]) => item !== gap);
  drawn.forEach(([, told, x, y], index) => {
    const [cx, cy] = at(x, y);
    const number = draw("text", { class: "nt", x: cx, y: cy + radius * 0.36, "text-anchor": "middle" });
    number.textContent = String(index + 1);
    drawing.append(draw("circle", { class: "nb", cx, cy, r: radius }), number);
    const line = textElement("li", "");
    line.append(textElement("b", String(index + 1)), ` ${told}`);
    legend.append(line);
  });
  // What no place says where it is stands in the list alone.
  const told = new Set(drawn.map(([, text]) => text));
  const others = given.filter((line) => !told.has(line));
  const figure = textElement("div", "");
  figure.className = "gap-plan";
  figure.append(drawing, legend);
  if (others.length > 0)
    figure.append(textElement("p", wordsHere("asked").asked.notDrawn({ list: others.join(", ") })));
  return figure;
}
