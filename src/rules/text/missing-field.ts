/** Rule text/missing-field: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** What must be written is there: a title, a weight, a home, an instruction, an answer. */
export const missingField: Rule = {
  id: "text/missing-field",
  severity: "error",
  asks: "What must be written is there: a title, a weight, a home, an instruction, an answer.",
  why: "A record with a hole in it looks like a whole one on a card.",
  source: "Common practice, no source",
};
