/** How a drawing of a platform from above lies: along the page, or upright on a narrow one. */

/** Two decimals, so that drawings are equal from one machine to the next. */
export const fixed = (value: number): number => Number(value.toFixed(2));

/**
 * Along and across the platform as x and y of the drawing, and lines between such points; `tall` stands it upright,
 * with the patient's right on the left.
 */
export function axesOf(tall: boolean | undefined) {
  const at = (x: number, y: number): readonly [number, number] => (tall ? [-y, x] : [x, y]);
  const line = (x1: number, y1: number, x2: number, y2: number) => {
    const [a, b] = [at(x1, y1), at(x2, y2)];
    return { x1: fixed(a[0]), y1: fixed(a[1]), x2: fixed(b[0]), y2: fixed(b[1]) };
  };
  return { at, line };
}

/** The sizes of a drawing in millimetres: along from one end to the other, half of it across, and a unit of symbols. */
interface Frame {
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly unit: number;
}

/** A lying drawing without scale or rail: its `viewBox`, and the platform itself as a rectangle. */
export function lyingFrame({ fromMm, toMm, halfWidthMm: half, unit }: Frame) {
  const view = [fromMm - 10 * unit, -half - 10 * unit, toMm - fromMm + 20 * unit, 2 * half + 20 * unit];
  return {
    viewBox: view.map(fixed).join(" "),
    deck: lyingRect({ x: fromMm, y: -half, width: toMm - fromMm, height: 2 * half }),
  };
}

/** The attributes of a rectangle in a lying drawing. */
export function lyingRect({
  x,
  y,
  width,
  height,
}: {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}) {
  return { x: fixed(x), y: fixed(y), width: fixed(width), height: fixed(height) };
}
