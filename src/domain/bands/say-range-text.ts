/** Weights or ages that stand in a content as the format writes them, in words for a reader. */
import { parseRange } from "../../schema/quantities.ts";
import { sayRange } from "./bands.ts";

/** `from 5 kg to under 40 kg` or `under 28 days` in the words of whoever reads; any other text stays as it is. */
export function sayRangeText(text: string): string {
  for (const kind of ["weight", "age"] as const) {
    const read = parseRange(text, kind);
    if (read.ok) return sayRange(read.value);
  }
  return text;
}
