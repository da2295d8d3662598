/** Rule text/not-data: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A procedure file is data: Markdown, directives and the components for authors with plain values. */
export const notData: Rule = {
  id: "text/not-data",
  severity: "error",
  asks: "A procedure file is data: Markdown, directives and the components for authors with plain values.",
  why: "Code in a procedure could show one thing to the reviewer and another to the crew.",
  source: "OWASP, Cross-Site Scripting Prevention (from memory): never put untrusted code into a page",
};
