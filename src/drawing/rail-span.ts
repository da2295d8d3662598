/** A band drawn inside another one, on a logarithmic scale of its own. */
import type { Range } from "../schema/collection.ts";
import { kgOf } from "../domain/bands/bands.ts";

/** Ends in per cent of the drawing's length. */
interface Span {
  readonly a: number;
  readonly b: number;
}

/** How much the drawing shows beyond an end that has no limit: a third of a power of ten. */
const BEYOND = 10 ** (1 / 3);

/**
 * Places `part` and `whole` on a scale that holds both; `undefined` when neither has an end to measure from. An end
 * without a limit
 * lies at the edge of the drawing.
 */
export function railSpan(whole: Range, part: Range): { readonly whole: Span; readonly part: Span } | undefined {
  const ends = [whole.from, whole.to, part.from, part.to].flatMap((end) =>
    end && end.value > 0n ? [kgOf(end.value)] : [],
  );
  if (ends.length === 0) return undefined;
  const low = whole.from || part.from ? Math.min(...ends) : Math.min(...ends) / BEYOND;
  const high = whole.to || part.to ? Math.max(...ends) : Math.max(...ends) * BEYOND;
  const place = (kg: number | undefined, otherwise: number) =>
    kg === undefined || kg <= 0
      ? otherwise
      : high > low
        ? Math.min(100, Math.max(0, (Math.log(kg / low) / Math.log(high / low)) * 100))
        : otherwise;
  const spanOf = ({ from, to }: Range): Span => ({
    a: place(from && kgOf(from.value), 0),
    b: place(to && kgOf(to.value), 100),
  });
  return { whole: spanOf(whole), part: spanOf(part) };
}
