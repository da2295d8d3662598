/** Rule parts/not-enough. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** No more pieces are taken from a place than are in it. */
export const notEnough: Rule = {
  id: "parts/not-enough",
  severity: "error",
  asks: "No more pieces are taken from a place than are in it.",
  why: "A count that is wrong on paper hides a pin that is missing on the trolley.",
  source: "Tool control: every piece is accounted for (EU 145.A.48(a)(1), second hand)",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/not-enough", collection, report, context),
};
