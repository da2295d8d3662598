/** Who is outside a range, in words. */
import type { Range } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";
import { sayMeasure } from "../words/measures.ts";

/** `under 1.2 kg, or 130 kg and over`; `undefined` if nobody is outside. */
export function sayOutside({ from, to }: Range): string | undefined {
  const low = from && sayMeasure(from.text),
    high = to && sayMeasure(to.text);
  const below = low && (from.owned ? heard("ranges").under({ high: low }) : heard("ranges").upTo({ high: low })),
    above = high && (to.owned ? heard("ranges").over({ low: high }) : heard("ranges").andOver({ low: high }));
  return below && above ? heard("ranges").oneOrOther({ one: below, other: above }) : below || above || undefined;
}
