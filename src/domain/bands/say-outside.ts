/** Who is outside a range, in words. */
import type { Range } from "../../schema/collection.ts";

/** `under 1.2 kg, or 130 kg and over`; `undefined` if nobody is outside. */
export function sayOutside({ from, to }: Range): string | undefined {
  const below = from && (from.owned ? `under ${from.text}` : `up to ${from.text}`);
  const above = to && (to.owned ? `over ${to.text}` : `${to.text} and over`);
  return [below, above].filter(Boolean).join(", or ") || undefined;
}
