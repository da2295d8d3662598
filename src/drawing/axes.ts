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
