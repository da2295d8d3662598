/** Which words of a weight rail have room: weights under its scale, names over its bands. */

/** The least width of a rail in px: on a desk, on what is smaller, on a phone (styles/top.css, styles/tokens.css). */
export const RAIL_PX = { desk: 904, tablet: 664, phone: 288 };

/** Width of a letter of the rail's type, 14 px, in px: measured over the digits and letters of B612. */
const LETTER = 8;

/**
 * Which of the weights under a scale of so many px stand clear of one another: the first and the last always, of the
 * others, from the left, those that do. `x` in per cent, rising.
 */
export function clearLabels(labels: readonly { readonly x: number; readonly label: string }[], px: number): boolean[] {
  const apart = (left: { x: number; label: string }, right: { x: number; label: string }) =>
    ((right.x - left.x) / 100) * px > ((left.label.length + right.label.length) / 2) * LETTER;
  let kept = labels[0];
  return labels.map((each, at) => {
    const last = labels.at(-1)!;
    if (at === 0 || each === last) return true;
    if (!kept || !apart(kept, each) || !apart(each, last)) return false;
    kept = each;
    return true;
  });
}

/** The room in rem that a name needs to stand over its band in two lines (styles/top.css: else it is not shown). */
export function roomFor(name: string): number {
  const letters = Math.max(...name.split(/[\s-]/).map(({ length }) => length), Math.ceil(name.length * 0.6));
  return Math.ceil((letters * LETTER + 16) / 16);
}

/** Whether a name fits over a band of so many px in one line of the larger type, 17 px. */
export const fitsInOneLine = (name: string, px: number): boolean => name.length * LETTER * 1.25 + 16 <= px;
