/**
 * The drawn marks of a card: holes and edge tab, weight rail, pins, the plan. Lengths are millimetres of the card
 * before scaling.
 */
import { fixed } from "../drawing/axes.ts";
import { columnWidth, HEAD_LINE, railHeight, type UprightPlan } from "./card-heights.ts";
import type { CardFormat } from "./card-format.ts";
import { MM_PER_POINT, widthOf } from "./letter-widths.ts";
import type { PrintedCard, PrintedPlan } from "./printed-card.ts";
import type { PlanBox } from "../drawing/drawing-plan.ts";
import { escapeMarkup } from "../domain/words/escape.ts";
import { heard } from "../words/heard.ts";
import { sayRange } from "../domain/bands/bands.ts";

/**
 * What lies around the text: where to punch, and the black tab at the height of the band on the weight rail, so that a
 * set of cards makes a stair.
 */
export function drawFrame(card: PrintedCard, format: CardFormat): string {
  const {
    side: { width, height },
    holes,
    tab,
  } = format;
  const parts = [-1, 1].map(
    (sign) =>
      `<circle class="c-hole" cx="${holes.edge}" cy="${fixed(height / 2 + (sign * holes.apart) / 2)}" ` +
      `r="${holes.size / 2}"/>`,
  );
  const own = card.rail?.segments.find(({ id }) => id === card.id);
  if (own && (card.weight?.from || card.weight?.to)) {
    const top = (own.a / 100) * height,
      bottom = (own.b / 100) * height,
      size = tab > 6 ? 9.5 : 8.5;
    const low = card.weight.from ? sayRange({ from: card.weight.from, text: "" }) : "",
      high = card.weight.to ? sayRange({ to: card.weight.to, text: "" }) : "";
    const middle = width - tab / 2 - size * MM_PER_POINT * 0.36;
    const text = (words: string, y: number, anchor: string) =>
      `<text transform="translate(${fixed(middle)} ${fixed(y)}) rotate(90)" ` +
      `font-size="${fixed(size * MM_PER_POINT)}" text-anchor="${anchor}">${escapeMarkup(words)}</text>`;
    const room = bottom - top - 5;
    parts.push(`<path d="M${width - tab} ${fixed(top)}h${tab}V${fixed(bottom)}h-${tab}z"/>`);
    if (low && widthOf(low, size) <= room) parts.push(text(low, top + 2.5, "start"));
    if (high && widthOf(low, size) + widthOf(high, size) + 4 <= room) parts.push(text(high, bottom - 2.5, "end"));
  }
  if (card.notForUse) {
    const size = Math.min(width / (card.notForUse.length * 0.75), 40);
    for (const y of [0.36, 0.74])
      parts.push(
        `<text class="c-across" transform="translate(${width / 2} ${fixed(height * y)}) rotate(-32)" ` +
          `font-size="${fixed(size)}" text-anchor="middle">${card.notForUse}</text>`,
      );
  }
  return `<svg class="c-frame" viewBox="0 0 ${width} ${height}" aria-hidden="true">${parts.join("")}</svg>`;
}

/** The weight rail with the card's own band as a solid bar; a filled pin owns its weight. */
export function drawRail(card: PrintedCard, format: CardFormat): string {
  const { segments, pins, ticks } = card.rail!;
  const width = format.side.width - format.margin.left - format.margin.right,
    height = railHeight(width);
  const x = (percent: number) => fixed(3 + (percent / 100) * (width - 6));
  const y = 2.4,
    size = 9 * MM_PER_POINT;
  const labels: string[] = [];
  let free = 0;
  for (const tick of ticks.filter(({ label, minor }) => label && !minor)) {
    const words = `${tick.label} kg`,
      half = widthOf(words, 9) / 2,
      at = Math.min(Math.max(x(tick.x), half), width - half);
    if (at - half < free) continue;
    free = at + half + 1.5;
    labels.push(
      `<text x="${fixed(at)}" y="${fixed(height - 0.4)}" font-size="${fixed(size)}" ` +
        `text-anchor="middle">${words}</text>`,
    );
  }
  const bars = segments.map(
    ({ id, a, b }) => `<path d="M${x(a)} ${y}H${x(b)}" stroke-width="${id === card.id ? 4 : 1}"/>`,
  );
  return (
    `<svg class="c-crail" viewBox="0 0 ${width} ${fixed(height)}" aria-hidden="true"><path ` +
    `d="M2 ${y}H${width - 2}" stroke-width=".4"/>` +
    ticks.map((tick) => `<circle class="c-free" cx="${x(tick.x)}" cy="${y}" r=".7" stroke-width=".35"/>`).join("") +
    bars.join("") +
    pins
      .map(
        (pin) =>
          `<circle class="${pin.owned ? "c-held" : "c-free"}" cx="${x(pin.x)}" cy="${y}" r="1.8" stroke-width=".8"/>`,
      )
      .join("") +
    labels.join("") +
    "</svg>"
  );
}

/** A pin with its number: a circle, or for what is safety-critical a square on its corner with a double outline. */
export function drawPin(number: string, critical: boolean): string {
  const size = number.length > 1 && critical ? 3.3 : number.length > 2 ? 3.1 : 4;
  const shape = critical
    ? `<path d="M5 .1L9.9 5L5 9.9L.1 5z" stroke-width=".3"/><path d="M5 .9L9.1 5L5 9.1L.9 5z" stroke-width=".75"/>`
    : `<circle cx="5" cy="5" r="4.19" stroke-width=".75"/>`;
  const draw = (inside: string) => `<svg class="c-pn" viewBox="0 0 10 10" aria-hidden="true">${shape}${inside}</svg>`;
  if (!number) return draw("");
  return (
    draw(`<text x="5" y="${fixed(5 + size * 0.36)}" text-anchor="middle" font-size="${size}">${number}</text>`) +
    `<span class="hide">${number}${critical ? heard("cardSides").safetyCritical : ""} </span>`
  );
}

/** The sign before the word WARNING. */
export function drawTriangle(): string {
  return (
    `<svg viewBox="0 0 30 28" aria-hidden="true"><path d="M15 2L28.5 26H1.5Z" stroke-width="3" ` +
    `stroke-linejoin="round"/><path d="M15 10V18M15 21V24" stroke-width="3.4"/></svg>`
  );
}

/** Outlines of what stands on the platform, with the numbers of the counted things; head end on the left. */
export function drawPlan(plan: PrintedPlan, heightMm: number, format: CardFormat): string {
  return drawOutlines(plan, { width: columnWidth(format), height: heightMm }, format, "100%");
}

/** The same standing upright, head end on top: turned, not mirrored. */
export function drawUpright(plan: PrintedPlan, size: UprightPlan, format: CardFormat): string {
  const upright: Outlines = {
    ...plan,
    deck: { x: -plan.halfWidthMm, y: plan.fromMm, width: 2 * plan.halfWidthMm, height: plan.toMm - plan.fromMm },
    boxes: plan.boxes.map((box) => ({
      ...box,
      x: -(box.y + box.height),
      y: box.x,
      width: box.height,
      height: box.width,
    })),
    numbers: plan.numbers.map(({ number, x, y }) => ({ number, x: -y, y: x })),
  };
  return drawOutlines(upright, size, format, `${fixed(size.width * format.scale)}mm`);
}

/** A plan as it is drawn, its deck lying or standing. */
type Outlines = PrintedPlan & { readonly deck?: Pick<PlanBox, "x" | "y" | "width" | "height"> };

function drawOutlines(
  { fromMm, toMm, halfWidthMm, unit, boxes, numbers, label, head, deck: standing }: Outlines,
  { width, height }: UprightPlan,
  format: CardFormat,
  wide: string,
): string {
  const deck = standing ?? { x: fromMm, y: -halfWidthMm, width: toMm - fromMm, height: 2 * halfWidthMm };
  // The word at the head end of a standing deck has a line of its own above it.
  const above = standing ? HEAD_LINE : 0;
  // Drawn so large that the numbers are 9 pt at least.
  const perMm = Math.max((deck.width + 40 * unit) / width, (deck.height + 40 * unit) / (height - above));
  const size = 9 * MM_PER_POINT * perMm,
    radius = size * 0.8;
  const view = {
    x: deck.x - 20 * unit,
    y: deck.y - 20 * unit - above * perMm,
    width: deck.width + 40 * unit,
    height: deck.height + 40 * unit + above * perMm,
  };
  const drawn = boxes.map(
    ({ x, y, width, height, apart, fitted }) =>
      `<rect class="${fitted ? "c-fit" : "c-std"}${apart ? " c-apart" : ""}" x="${fixed(x)}" y="${fixed(y)}" ` +
      `width="${fixed(width)}" height="${fixed(height)}"/>`,
  );
  const spread = spreadOut(numbers, radius, { ...view, x: view.x + radius, y: view.y + radius });
  const lines = numbers.flatMap(({ x, y }, at) => {
    const mark = spread[at]!;
    return Math.hypot(mark.x - x, mark.y - y) > radius / 2
      ? [
          `<path d="M${fixed(x)} ${fixed(y)}L${fixed(mark.x)} ${fixed(mark.y)}"/>` +
            `<circle class="c-spot" cx="${fixed(x)}" cy="${fixed(y)}" r="${fixed(radius / 4)}"/>`,
        ]
      : [];
  });
  const marks = numbers.map(({ number }, at) => {
    const { x, y } = spread[at]!;
    return (
      `<circle cx="${fixed(x)}" cy="${fixed(y)}" r="${fixed(radius)}"/><text x="${fixed(x)}" ` +
      `y="${fixed(y + size * 0.36)}" text-anchor="middle" font-size="${fixed(size)}">${number}</text>`
    );
  });
  return (
    `<svg class="c-mp" viewBox="${fixed(view.x)} ${fixed(view.y)} ${fixed(view.width)} ${fixed(view.height)}" ` +
    `width="${wide}" height="${fixed(height * format.scale)}mm" stroke-width="${fixed(perMm * 0.3)}" role="img" ` +
    `aria-label="${escapeMarkup(label)}">` +
    `<rect class="c-deck" x="${fixed(deck.x)}" y="${fixed(deck.y)}" width="${fixed(deck.width)}" ` +
    `height="${fixed(deck.height)}"/>${drawn.join("")}` +
    `<text class="c-bare" x="${fixed(deck.x + size * 0.4)}" ` +
    `y="${fixed(deck.y + (standing ? -size * 0.2 : size * 1.1))}" ` +
    `font-size="${fixed(size)}">${escapeMarkup(head)}</text>${lines.join("")}${marks.join("")}</svg>`
  );
}

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Rounds in which numbers are pushed apart: enough for any card that has room for them. */
const ROUNDS = 200;

/** Where numbers stand that would lie on one another: pushed apart as little as it takes, within the drawing. */
function spreadOut(
  spots: readonly Spot[],
  radius: number,
  { x, y, width, height }: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): Spot[] {
  const marks = spots.map((spot) => ({ x: spot.x, y: spot.y })),
    apart = radius * 2.15;
  for (let round = 0; round < ROUNDS; round += 1) {
    let moved = false;
    for (const [at, mark] of marks.entries())
      for (const [later, other] of marks.entries()) {
        if (later <= at) continue;
        const far = Math.hypot(other.x - mark.x, other.y - mark.y);
        if (far >= apart * 0.999) continue;
        // Two on one spot go apart along a direction of their own.
        const [dx, dy] =
          far > radius / 100
            ? [(other.x - mark.x) / far, (other.y - mark.y) / far]
            : [Math.cos(at + later), Math.sin(at + later)];
        const push = (apart - far) / 2;
        mark.x -= dx * push;
        mark.y -= dy * push;
        other.x += dx * push;
        other.y += dy * push;
        moved = true;
      }
    for (const mark of marks) {
      mark.x = Math.min(Math.max(mark.x, x), x + width - 2 * radius);
      mark.y = Math.min(Math.max(mark.y, y), y + height - 2 * radius);
    }
    if (!moved) break;
  }
  return marks;
}

/**
 * The comb under a hold. It and the hatch are dashed lines, cut off at the column's end: repeating gradients come out
 * as one grey bar in viewers that cannot evaluate them.
 */
export function drawComb(): string {
  return drawDashes("c-comb", 1.3, '<path d="M0 .65H300" stroke-width="1.3" stroke-dasharray="1.6"/>');
}

/** The hatch at the lower edge of a warning. */
export function drawHatch(): string {
  return drawDashes(
    "c-hatch",
    2,
    '<path d="M0 1H300" stroke-width="2" stroke-dasharray="2.26" transform="skewX(-45)"/>',
  );
}

function drawDashes(name: string, height: number, path: string): string {
  return (
    `<svg class="${name}" viewBox="0 0 200 ${height}" preserveAspectRatio="xMinYMin slice" aria-hidden="true" ` +
    `fill="none" stroke="#000">${path}</svg>`
  );
}
