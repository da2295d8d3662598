/** A step's picture from the data of a page, with its marks and arrows drawn over it. */
import type { PictureData } from "../../site/plans/walks.ts";
import { arrowShape } from "../../drawing/arrow.ts";
import { placeCallouts, RADIUS } from "../../drawing/callouts.ts";
import { draw, element } from "../element.ts";
import { withNight } from "../night-picture.ts";

const WIDTH = 420;

/** Makes the plates of a step from the pictures that a page has; `photos` is where their files are. */
export function platesFrom(
  pictures: Readonly<Record<string, PictureData>>,
  photos: string,
): (stop: { readonly photos: readonly string[] }) => HTMLElement[] {
  return ({ photos: ids }) =>
    ids.flatMap((id) => (pictures[id] ? [plateOf(`${photos}-${id}-${pictures[id][0]}`, pictures[id])] : []));
}

/** The plate; `address` is where the image file is. */
function plateOf(address: string, [, width, height, alt, marks = [], arrows = []]: PictureData): HTMLElement {
  const tall = (WIDTH * height) / width,
    fixed = (value: number) => value.toFixed(1);
  const photo = element(
    "div",
    { class: "photo" },
    withNight(element("img", { src: address, width: String(width), height: String(height), alt, decoding: "async" })),
  );
  if (marks.length + arrows.length > 0) {
    const lines = arrows.map(([a, b, c, d]) => ({ from: [a!, b!] as const, to: [c!, d!] as const }));
    const svg = draw("svg", { viewBox: `0 0 ${WIDTH} ${fixed(tall)}`, "aria-hidden": "true" });
    for (const { from, to } of lines)
      svg.append(
        draw("path", {
          class: "arrow",
          d: arrowShape([from[0] * WIDTH, from[1] * tall], [to[0] * WIDTH, to[1] * tall]),
        }),
      );
    for (const { n, spot, at } of placeCallouts(
      marks.map(([number, x, y]) => ({ n: number, x, y })),
      lines,
      WIDTH,
      tall,
    )) {
      const d = `M${fixed(spot[0])} ${fixed(spot[1])}L${fixed(at[0])} ${fixed(at[1])}`,
        mark = draw("g", { class: "mark" });
      const text = draw("text", { x: fixed(at[0]), y: fixed(at[1] + 6.5), "text-anchor": "middle" });
      text.textContent = String(n);
      mark.append(
        draw("path", { d }),
        draw("circle", { class: "dot", cx: fixed(spot[0]), cy: fixed(spot[1]), r: "4.5" }),
        draw("circle", { class: "no", cx: fixed(at[0]), cy: fixed(at[1]), r: String(RADIUS) }),
        text,
      );
      svg.append(draw("path", { class: "halo", d }), mark);
    }
    photo.append(svg);
  }
  const legend =
    marks.length > 0
      ? [
          element(
            "div",
            { class: "caption" },
            element("ol", {}, ...marks.map(([n, , , label]) => element("li", {}, element("b", {}, String(n)), label))),
          ),
        ]
      : [];
  return element("div", { class: "plates" }, element("div", { class: "plate" }, photo, ...legend));
}
