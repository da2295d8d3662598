/** Rule fastening/no-change. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** A fastening is turned to a state that it is not yet in. */
export const noChange: Rule = {
  id: "fastening/no-change",
  severity: "error",
  asks: "A fastening is turned to a state that it is not yet in.",
  why: "A step that changes nothing means that the author and the trolley disagree on its state.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("fastening/no-change", collection, report, context),
};
