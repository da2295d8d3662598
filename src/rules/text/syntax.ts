/** Rule text/syntax: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** Every file can be read: fences are closed, quotes and braces have their partner, an attribute is given once. */
export const syntax: Rule = {
  id: "text/syntax",
  severity: "error",
  asks: "Every file can be read: fences are closed, quotes and braces have their partner, an attribute is given once.",
  why:
    "Markdown passes over most slips in silence: a step with a fence left open swallows the steps after it, and " +
    "nobody sees it on the page.",
  source: "CommonMark 0.31.2 never rejects a text; generic directives proposal for fences; YAML 1.2.2",
};
