/** Points in millimetres and the little arithmetic that shapes, cameras and paths need. */

/** x from the head end towards the foot end, y from the patient's left to the right, z up; in millimetres. */
export type Point = readonly [number, number, number];

/** Sum of two points. */
export const add = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** The way from `b` to `a`. */
export const subtract = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** A point as many times as far from the origin. */
export const scale = (a: Point, by: number): Point => [a[0] * by, a[1] * by, a[2] * by];
/** Scalar product. */
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** Vector product. */
export const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** Length in millimetres. */
export const lengthOf = (a: Point): number => Math.hypot(a[0], a[1], a[2]);
/** The same direction, one millimetre long; the origin stays the origin. */
export const unit = (a: Point): Point => {
  const length = lengthOf(a);
  return length === 0 ? a : scale(a, 1 / length);
};
/** The point that lies `part` (0 to 1) of the way from `a` to `b`. */
export const between = (a: Point, b: Point, part: number): Point => add(a, scale(subtract(b, a), part));

/** Turns a point about an axis through `pivot` by so many degrees, right-handed in the axes' own numbers. */
export function turnPoint(point: Point, axis: "x" | "y" | "z", degrees: number, pivot: Point): Point {
  const [x, y, z] = subtract(point, pivot),
    radians = (degrees * Math.PI) / 180;
  const c = Math.cos(radians),
    s = Math.sin(radians);
  const turned: Point =
    axis === "x"
      ? [x, y * c - z * s, y * s + z * c]
      : axis === "y"
        ? [x * c + z * s, y, z * c - x * s]
        : [x * c - y * s, x * s + y * c, z];
  return add(turned, pivot);
}

/**
 * Points on an arc in the plane across `axis`, from one angle to another (degrees); 0 is along the next axis (y: x, x:
 * y, z: x).
 */
export function arcPoints(
  centre: Point,
  radius: number,
  axis: "x" | "y" | "z",
  from: number,
  to: number,
  count = 24,
): Point[] {
  return Array.from({ length: count + 1 }, (_, i) => {
    const t = ((from + ((to - from) * i) / count) * Math.PI) / 180,
      a = radius * Math.cos(t),
      b = radius * Math.sin(t);
    return add(centre, axis === "y" ? [a, 0, b] : axis === "x" ? [0, a, b] : [a, b, 0]);
  });
}

/** A path with its corners rounded to at most `radius`. */
export function roundCorners(path: readonly Point[], radius: number, count = 10): Point[] {
  const out: Point[] = [path[0]!];
  for (let i = 1; i < path.length - 1; i++) {
    const [before, corner, after] = [path[i - 1]!, path[i]!, path[i + 1]!];
    const room = Math.min(radius, lengthOf(subtract(before, corner)) / 2.05, lengthOf(subtract(after, corner)) / 2.05);
    const a = add(corner, scale(unit(subtract(before, corner)), room)),
      b = add(corner, scale(unit(subtract(after, corner)), room));
    for (let k = 0; k <= count; k++) {
      const t = k / count;
      out.push(between(between(a, corner, t), between(corner, b, t), t));
    }
  }
  out.push(path.at(-1)!);
  return out;
}
