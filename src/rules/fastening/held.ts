/** Rule fastening/held. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** What a secure fastening holds is neither filled nor emptied. */
export const held: Rule = {
  id: "fastening/held",
  severity: "error",
  asks: "What a secure fastening holds is neither filled nor emptied.",
  why: "A step that needs an open lever does not work on a locked one; crews force it.",
  source: "common practice, no source",
  byPlatform: true,
  check: (collection, report, context) => reportProved("fastening/held", collection, report, context),
};
