/** Rule text/unknown-field: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A field or attribute is one of those that the file format knows. */
export const unknownField: Rule = {
  id: "text/unknown-field",
  severity: "error",
  asks: "A field or attribute is one of those that the file format knows.",
  why: "A misspelt field is a field that was left out: `critcal` makes no step safety-critical.",
  source: "Common practice, no source",
};
