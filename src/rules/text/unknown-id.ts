/** Rule text/unknown-id: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A name that is referred to is declared: item, place, fastening, role, step, option, procedure, incident, card. */
export const unknownId: Rule = {
  id: "text/unknown-id",
  severity: "error",
  asks:
    "A name that is referred to is declared: item, place, fastening, role, step, option, procedure, incident, " +
    "card.",
  why: "A step that names a thing that is not on the equipment list can't be carried out, and can't be proved.",
  source: "Common practice, no source",
};
