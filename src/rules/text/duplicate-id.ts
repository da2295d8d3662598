/** Rule text/duplicate-id: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** An id is used once. */
export const duplicateId: Rule = {
  id: "text/duplicate-id",
  severity: "error",
  asks: "An id is used once.",
  why: "With two things of one name, nobody knows which one a step means.",
  source: "YAML 1.2.2, section 3.2.1.1: keys of a mapping are unique; otherwise common practice, no source",
};
