/** Withdrawn procedures that are still carried out as part of another. */
import { whereOf, type Rule } from "../../findings/finding.ts";

/** A procedure that was withdrawn is not included in one that was not. */
export const withdrawnIncluded: Rule = {
  id: "record/withdrawn-included",
  severity: "warning",
  asks: "A procedure that has been withdrawn is not included in another one.",
  why: "It was taken out of use for a reason, and is still carried out, under another code.",
  source: "ISO 9001:2015, 7.5.3.2 d (unintended use of obsolete documents), second hand",
  check({ platforms }, report) {
    for (const { procedures } of platforms)
      for (const procedure of procedures) {
        if (procedure.status === "withdrawn") continue;
        for (const entry of procedure.sections.flatMap(({ entries }) => entries)) {
          if (entry.kind !== "include") continue;
          const included = procedures.find(({ id }) => id === entry.procedure);
          if (included?.status === "withdrawn")
            report(entry.where, {
              message: `\`${included.title}\` is withdrawn, and its steps are still done here`,
              fix: "Include the procedure that has taken its place, or write here the steps that still hold",
              actual: entry.procedure,
              cause: whereOf(included, "status"),
            });
        }
      }
  },
};
