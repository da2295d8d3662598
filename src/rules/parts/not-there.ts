/** Rule parts/not-there. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** An item is taken from a place where it is. */
export const notThere: Rule = {
  id: "parts/not-there",
  severity: "error",
  asks: "An item is taken from a place where it is.",
  why: "A crew that looks for a part where it is not loses time, or fits another one.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/not-there", collection, report, context),
};
