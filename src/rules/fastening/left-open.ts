/** Rule fastening/left-open. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** A fastening that was opened is secure again, or in its when-empty state, when the procedure ends. */
export const leftOpen: Rule = {
  id: "fastening/left-open",
  severity: "error",
  asks: "A fastening that was opened is secure again, or in its when-empty state, when the procedure ends.",
  why: "The last step is the one most often left out, and an open fastening looks like a closed one.",
  source: "Reason, Combating omission errors through task analysis and good reminders, 2002",
  byPlatform: true,
  check: (collection, report, context) => reportProved("fastening/left-open", collection, report, context),
};
