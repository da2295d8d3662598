/** Rule parts/left-loose. */
import type { Rule } from "../../findings/finding.ts";
import { reportProved } from "../proof.ts";

/** Nothing is left aside when a procedure ends. */
export const leftLoose: Rule = {
  id: "parts/left-loose",
  severity: "error",
  asks: "Nothing is left aside when a procedure ends.",
  why: "A loose article in an aircraft is a hazard of its own.",
  source:
    "Verification that the aircraft is clear of tools, equipment and extraneous parts (EU 145.A.48(a)(1), second hand)",
  byPlatform: true,
  check: (collection, report, context) => reportProved("parts/left-loose", collection, report, context),
};
