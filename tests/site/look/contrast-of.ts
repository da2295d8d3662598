/** The contrast of two colours by the formula; asked of tokens and, as text, of elements in a page. */

/**
 * Contrast ratio of two opaque colours, each red, green and blue from 0 to 255 (WCAG 2.2, definitions "contrast ratio"
 * and "relative luminance"): 1 of a colour with itself, 21 of black with white; never rounded before it is compared.
 * It must run in a page too (`String(contrastOf)`), so it calls nothing beside it.
 */
export function contrastOf(one: readonly number[], other: readonly number[]): number {
  const luminance = (colour: readonly number[]) =>
    [0.2126, 0.7152, 0.0722].reduce((sum, share, at) => {
      const part = colour[at]! / 255;
      return sum + share * (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
    }, 0);
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}
