/** Rule parts/stands-on. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** Nothing is moved from under something else. */
export const standsOn: Rule = {
  id: "parts/stands-on",
  severity: "error",
  asks: "Nothing is moved from under something else.",
  why: "What stands on a part falls, or travels without being held.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/stands-on", collection, report, context),
};
