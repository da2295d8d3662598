/** The shape of an arrow that is drawn over a photo. */

/** Outline of an arrow from one point to another as the `d` of an SVG path: a bar with a head, 7 and 22 units wide. */
export function arrowShape(from: readonly [number, number], to: readonly [number, number]): string {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length < 1) return "";
  const along = [(to[0] - from[0]) / length, (to[1] - from[1]) / length] as const;
  const head = Math.min(20, length * 0.6);
  const at = (forward: number, side: number) =>
    `${(from[0] + along[0] * forward - along[1] * side).toFixed(1)} ${(from[1] + along[1] * forward + along[0] * side).toFixed(1)}`;
  return `M${at(0, -3.5)}L${at(length - head, -3.5)}L${at(length - head, -11)}L${at(length, 0)}L${at(length - head, 11)}L${at(length - head, 3.5)}L${at(0, 3.5)}Z`;
}
