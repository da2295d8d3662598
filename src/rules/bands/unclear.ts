/** Rule bands/unclear: reported while reading. */
import type { Rule } from "../../findings/finding.ts";

/** A band says who owns each end. */
export const unclear: Rule = {
  id: "bands/unclear",
  severity: "error",
  asks: "A band says in words who owns each end: `from 5 kg to under 40 kg`.",
  why: "`5-40 kg` and `40-130 kg` leave it to the reader in which of them 40 kg is.",
  source:
    "Written symbols for ranges and for less than are read as their opposite (ISMP list of error-prone " +
    "abbreviations, 2015, second hand)",
};
