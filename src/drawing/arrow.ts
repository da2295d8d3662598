/** The shape of an arrow that is drawn over a photo. */

/** Outline of an arrow from one point to another as the `d` of an SVG path: a bar with a head, 7 and 22 units wide. */
export function arrowShape(from: readonly [number, number], to: readonly [number, number]): string {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length < 1) return "";
  const along = [(to[0] - from[0]) / length, (to[1] - from[1]) / length] as const;
  const head = Math.min(20, length * 0.6);
  const at = ([forward, side]: readonly [number, number]) => {
    const x = from[0] + along[0] * forward - along[1] * side,
      y = from[1] + along[1] * forward + along[0] * side;
    return `${x.toFixed(1)} ${y.toFixed(1)}`;
  };
  const neck = length - head;
  const corners = [
    [0, -3.5],
    [neck, -3.5],
    [neck, -11],
    [length, 0],
    [neck, 11],
    [neck, 3.5],
    [0, 3.5],
  ] as const;
  return `M${corners.map(at).join("L")}Z`;
}
