/** Rule text/unknown-directive: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A directive is one of those that the file format knows. */
export const unknownDirective: Rule = {
  id: "text/unknown-directive",
  severity: "error",
  asks: "A directive is one of those that the file format knows.",
  why: "Unknown directives are passed over by Markdown, with all that stands in them.",
  source: "Generic directives proposal for CommonMark: what a name means is for the application to say",
};
