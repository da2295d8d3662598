/** Rule parts/unknown-start. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/**
 * Every arrangement can exist: no more pieces than there are, no place over its room, nothing in a place that is not on
 * the platform.
 */
export const unknownStart: Rule = {
  id: "parts/unknown-start",
  severity: "error",
  asks:
    "Every arrangement can exist: no more pieces than there are, no place over its room, nothing in a place " +
    "that is not on the platform.",
  why: "A procedure can't be proved from an arrangement that can't be built.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/unknown-start", collection, report, context),
};
