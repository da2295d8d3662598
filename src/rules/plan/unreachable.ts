/** Rule plan/unreachable. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** Every arrangement can be reached from every other, for every patient of its band. */
export const unreachable: Rule = {
  id: "plan/unreachable",
  severity: "error",
  asks: "Every arrangement can be reached from every other, for every patient of its band.",
  why: "A patient who can't be prepared for is found out on the road.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("plan/unreachable", collection, report, context),
};
