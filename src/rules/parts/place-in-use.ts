/** Rule parts/place-in-use. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** A place takes no more than it has room for. */
export const placeInUse: Rule = {
  id: "parts/place-in-use",
  severity: "error",
  asks: "A place takes no more than it has room for.",
  why: "Two things in one mount means that one of them is not mounted.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/place-in-use", collection, report, context),
};
