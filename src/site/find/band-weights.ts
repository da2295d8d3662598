/** For which weights search finds a page. */
import { formatDecimal } from "../../domain/bands/bands.ts";
import type { FindEntry } from "../../domain/find/entry.ts";
import type { Band } from "../../schema/collection.ts";
import { MASS_PER_KG } from "../../schema/units.ts";

/** The kilograms of a band as search has them; nothing where any weight is in it. */
export function weightsOf({ weight: { from, to } }: Band): Pick<FindEntry, "weights"> {
  const kilograms = (mass: bigint) => Number(formatDecimal(mass, MASS_PER_KG));
  if (!from && !to) return {};
  const least = from ? kilograms(from.value) : 0;
  return { weights: to ? [least, kilograms(to.value)] : [least] };
}
