/** From where a photo was taken, as its alternative text says it. */

/** From where a photo was taken: in words, and where that is about the platform if the words name it. */
interface Viewpoint {
  /** As the text says it: `from the foot end, right`. */
  readonly words: string;
  /**
   * -1 at the head end or on the left of a patient who lies on the back, 1 at the foot end or on the right, 0 between;
   * absent where the words say no place about the platform (`from above`, `from its front`).
   */
  readonly about?: { readonly along: -1 | 0 | 1; readonly across: -1 | 0 | 1 };
}

const SEEN = /\S seen (from [^.;:]{3,60}?)\.?$/;
const ABOUT = /^from (?:above )?(?:the )?(?:(head|foot) end)?(?:, )?(?:the )?(?:(left|right)(?: side)?)?$/i;

/**
 * What a text of a photo ends with if it ends with `seen from …` (English; design of the format, "Photos"); `undefined`
 * for any other. `Four pins, seen from the foot end, right` gives `from the foot end, right`, along 1, across 1.
 */
export function viewpointOf(alt: string): Viewpoint | undefined {
  const words = SEEN.exec(alt.trim())?.[1];
  if (!words) return undefined;
  const [, end, side] = ABOUT.exec(words) ?? [];
  if (!end && !side) return { words };
  const along = !end ? 0 : end.toLowerCase() === "foot" ? 1 : -1,
    across = !side ? 0 : side.toLowerCase() === "right" ? 1 : -1;
  return { words, about: { along, across } };
}
