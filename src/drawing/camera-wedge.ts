/** The sign under a photo: a platform from above, head end on the left, and a wedge where the camera stood. */

/** The drawing's size and the platform in it, in its own units. */
export const WEDGE_SIGN = { width: 56, height: 40, platform: { x: 15, y: 14, width: 26, height: 12 } } as const;

/** Tip and blunt end of the wedge, from the tip backwards, and half of how broad it ends. */
const LONG = 11,
  HALF = 7;

/**
 * The wedge as path data: its tip at the platform's edge or corner on that side, pointing at the middle. `along` is -1
 * at the head end and 1 at the foot end, `across` -1 on the left and 1 on the right of a patient on the back (on the
 * lower side, with the head on the left); one of them at least is not 0.
 */
export function cameraWedge({ along, across }: { readonly along: number; readonly across: number }): string {
  const { x, y, width, height } = WEDGE_SIGN.platform;
  const middle = [x + width / 2, y + height / 2] as const;
  const tip = [middle[0] + along * (width / 2 + 1), middle[1] + across * (height / 2 + 1)] as const;
  const away = Math.hypot(along, across);
  const [dx, dy] = [along / away, across / away];
  const end = [tip[0] + dx * LONG, tip[1] + dy * LONG] as const;
  const point = (px: number, py: number) => `${px.toFixed(1)} ${py.toFixed(1)}`;
  const corners = [tip, [end[0] - dy * HALF, end[1] + dx * HALF], [end[0] + dy * HALF, end[1] - dx * HALF]] as const;
  return `M${corners.map(([px, py]) => point(px, py)).join("L")}z`;
}
