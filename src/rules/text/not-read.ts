/** Rule text/not-read: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** Everything in a collection is read. */
export const notRead: Rule = {
  id: "text/not-read",
  severity: "warning",
  asks: "Everything in a collection is read.",
  why: "A procedure with another ending is neither on the site nor on a card, and nobody is told.",
  source: "Common practice, no source",
};
