/** Bands from the chooser's data, exact again. */
import type { BandData, RangeData } from "../../site/plans/chooser-data.ts";
import type { Band, End, Range } from "../../schema/collection.ts";

/** A band from its JSON. */
export function bandFrom({ weight, age }: BandData): Band {
  return { weight: rangeFrom(weight), age: rangeFrom(age) };
}

function rangeFrom({ from, to, text }: RangeData): Range {
  const end = ([value, owned, said]: NonNullable<RangeData["from"]>): End => ({
    value: BigInt(value),
    owned,
    text: said,
  });
  return { ...(from ? { from: end(from) } : {}), ...(to ? { to: end(to) } : {}), text };
}
