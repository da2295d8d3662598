/**
 * Where the number of a mark stands beside its spot, so that numbers cover neither spots nor arrows nor one another.
 */

/** A point of the drawing, in its own units. */
type Point = readonly [number, number];

/** A mark with its number: `spot` is what it points at, `at` the middle of the number's circle. */
interface Callout {
  readonly n: number;
  readonly spot: Point;
  readonly at: Point;
}

/** Radius of a number's circle in units of the drawing. */
export const RADIUS = 16;

const DISTANCES = [38, 54, 74];
const DIRECTIONS = Array.from({ length: 16 }, (_, turn) => (turn * Math.PI) / 8);

/**
 * Gives every spot the place for its number that keeps furthest from all other spots, numbers and arrows, inside the
 * drawing. The order
 * of the marks decides ties, so the same marks always give the same picture.
 */
export function placeCallouts(
  marks: readonly { readonly n: number; readonly x: number; readonly y: number }[],
  arrows: readonly { readonly from: Point; readonly to: Point }[],
  width: number,
  height: number,
): Callout[] {
  const spots = marks.map(({ x, y }): Point => [x * width, y * height]);
  const alongArrows = arrows.flatMap(({ from, to }) =>
    [0, 0.25, 0.5, 0.75, 1].map((part): Point => [
      (from[0] + (to[0] - from[0]) * part) * width,
      (from[1] + (to[1] - from[1]) * part) * height,
    ]),
  );
  const middle: Point = [
    spots.reduce((sum, [x]) => sum + x, 0) / spots.length,
    spots.reduce((sum, [, y]) => sum + y, 0) / spots.length,
  ];
  const placed: Callout[] = [];
  marks.forEach(({ n }, index) => {
    const spot = spots[index]!;
    let best: { at: Point; cost: number } | undefined;
    for (const distance of DISTANCES)
      for (const direction of DIRECTIONS) {
        const at: Point = [spot[0] + Math.cos(direction) * distance, spot[1] + Math.sin(direction) * distance];
        const cost =
          costOf(at, distance, [...spots, ...alongArrows], placed, width, height) -
          0.06 * (gap(at, middle) - gap(spot, middle));
        if (!best || cost < best.cost - 1e-9) best = { at, cost };
      }
    placed.push({ n, spot, at: best!.at });
  });
  return placed;
}

/** Lower is better: far from the edge, from spots and arrows, from other numbers and their lines; near its own spot. */
function costOf(
  at: Point,
  distance: number,
  avoid: readonly Point[],
  placed: readonly Callout[],
  width: number,
  height: number,
): number {
  const edge = Math.min(at[0], at[1], width - at[0], height - at[1]) - RADIUS - 3;
  let cost = distance * 0.12 + (edge < 0 ? 1000 - edge * 10 : 0);
  for (const point of avoid) cost += near(gap(at, point), RADIUS + 6, 34);
  for (const { at: other, spot } of placed)
    cost += near(gap(at, other), RADIUS * 2 + 5, 44) * 1.5 + near(gapToLine(at, spot, other), RADIUS + 4, 20);
  return cost;
}

/** 100 for what would be covered, falling to nothing at `far`. */
function near(distance: number, touching: number, far: number): number {
  if (distance < touching) return 100 + (touching - distance) * 4;
  return distance < far ? ((far - distance) / (far - touching)) * 8 : 0;
}

const gap = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

function gapToLine(point: Point, from: Point, to: Point): number {
  const length = gap(from, to) ** 2;
  const part =
    length === 0
      ? 0
      : Math.min(
          1,
          Math.max(0, ((point[0] - from[0]) * (to[0] - from[0]) + (point[1] - from[1]) * (to[1] - from[1])) / length),
        );
  return gap(point, [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])]);
}
