/** Rule text/bad-value: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A value is what its field takes: a date that exists, a length with its unit, one of the states of a fastening. */
export const badValue: Rule = {
  id: "text/bad-value",
  severity: "error",
  asks:
    "A value is what its field takes: a date that exists, a length with its unit, one of the states of a " +
    "fastening.",
  why: "A number without a unit is read in the reader's unit, not in the author's.",
  source: "Dates: ISO 8601, extended format. Decimal point and units: common practice, no source",
};
