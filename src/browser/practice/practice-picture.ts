/** A photo with its numbers for a question: what the numbers mean is what is asked, so it is not said. */
import type { BankPhoto } from "../../site/study/questions.ts";
import { draw } from "../element.ts";
import { withNight } from "../night-picture.ts";
import { textElement, homeOf } from "./practice-page.ts";

const WIDTH = 420;
const RADIUS = 17;

/**
 * The photo with lines, dots and numbers over it. With `press`, a finger on it takes the number that is nearest, by its
 * spot or by its circle.
 */
export function drawPicture({ src, width, height, alt, marks }: BankPhoto, press?: (n: number) => void): HTMLElement {
  const figure = textElement("div", "");
  figure.className = "photo";
  const image = textElement("img", "");
  image.src = homeOf() + src;
  image.alt = alt;
  image.width = width;
  image.height = height;
  const drawing = draw("svg", { viewBox: `0 0 ${WIDTH} ${(WIDTH * height) / width}`, "aria-hidden": "true" });
  for (const {
    n,
    spot: [x, y],
    at: [nx, ny],
  } of marks) {
    const group = draw("g", { class: "mark" });
    const number = draw("text", { x: nx, y: ny + 6.5, "text-anchor": "middle" });
    number.textContent = String(n);
    drawing.append(draw("path", { class: "halo", d: `M${x} ${y}L${nx} ${ny}` }));
    group.append(
      draw("path", { d: `M${x} ${y}L${nx} ${ny}` }),
      draw("circle", { class: "dot", cx: x, cy: y, r: 4.5 }),
      draw("circle", { class: "no", cx: nx, cy: ny, r: RADIUS }),
      number,
    );
    drawing.append(group);
  }
  figure.append(withNight(image), drawing);
  if (press) {
    figure.classList.add("to-press");
    figure.addEventListener("click", ({ clientX, clientY }) => {
      const frame = drawing.getBoundingClientRect();
      const scale = WIDTH / frame.width,
        at = [(clientX - frame.left) * scale, (clientY - frame.top) * scale] as const;
      const far = ([x, y]: readonly [number, number]) => Math.hypot(x - at[0], y - at[1]);
      const [nearest] = marks.toSorted((a, b) => Math.min(far(a.spot), far(a.at)) - Math.min(far(b.spot), far(b.at)));
      if (!nearest) return;
      for (const group of drawing.querySelectorAll(".mark"))
        group.classList.toggle("chosen", group.textContent === String(nearest.n));
      press(nearest.n);
    });
  }
  return figure;
}
