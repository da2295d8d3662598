/** Approved words that a reviewer still waits to hear about. */
import { isOpen, remarksOn } from "../../domain/records/remarks.ts";
import { type Rule } from "../../findings/finding.ts";
import { recordsOf } from "../records.ts";

/** A remark on a revision is answered before the revision is approved. */
export const remarkOpen: Rule = {
  id: "record/remark-open",
  severity: "warning",
  asks: "Every remark of a reviewer is answered before the revision is approved.",
  why: "What a reviewer saw and nobody answered is what goes wrong later.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const { record } of recordsOf(collection))
      if (record.status === "approved")
        for (const remark of remarksOn(collection, record).filter(isOpen))
          report(remark.at["text"] ?? remark.where, {
            message:
              `Revision ${record.revision} of \`${record.id}\` is approved, ` + `and nobody answered \`${remark.by}\``,
            fix: "Add `answer`, or set `status` back to `in review`",
            cause: record.at["status"] ?? record.where,
          });
  },
};
