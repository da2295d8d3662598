/** Rule bands/empty: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A band holds at least one weight. */
export const empty: Rule = {
  id: "bands/empty",
  severity: "error",
  asks: "A band holds at least one weight or age.",
  why: "Ends that are the wrong way round make a card for nobody.",
  source: "Interval notation of ISO 80000-2: ]a, a] and [b, a] with a < b are empty (from memory)",
};
