/** Rule parts/no-home. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** Every piece has a home that can take it. */
export const noHome: Rule = {
  id: "parts/no-home",
  severity: "error",
  asks: "Every piece has a home that can take it.",
  why: "A part without a home is put down somewhere, and missed when it is needed.",
  source: "Every removable part has a home (common practice in tool control, no source)",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/no-home", collection, report, context),
};
