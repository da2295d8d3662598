/** Remarks at steps that are not there. */
import { isOpen, remarksOn, stepOfRemark } from "../../domain/records/remarks.ts";
import { type Rule } from "../../findings/finding.ts";
import { sayList } from "../../schema/wording.ts";
import { recordsOf } from "../records.ts";

/**
 * A remark that waits for an answer is about a step that the revision has. One that was answered may be about a step
 * that the answer took out.
 */
export const remarkUnknownStep: Rule = {
  id: "record/remark-unknown-step",
  severity: "warning",
  asks: "A remark that has no answer yet is about a step that the revision has.",
  why: "At a step that is gone nobody reads it.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { record } of recordsOf(collection, damaged))
      for (const remark of remarksOn(collection, record).filter(isOpen)) {
        if (remark.step === undefined || stepOfRemark(remark, record)) continue;
        const own = "steps" in record ? record.steps.filter(({ procedure }) => procedure === record.id) : [],
          ids = own.flatMap(({ id }) => id ?? []);
        report(remark.at["step"] ?? remark.where, {
          message: `\`${record.id}\` has no step \`${remark.step}\` in revision ${record.revision}`,
          fix:
            own.length === 0
              ? "Remove `step`: the remark is then about the whole document"
              : `Write the number of the step${
                  ids.length === 0
                    ? ""
                    : `, or its id: ${sayList(
                        ids.map((id) => `\`${id}\``),
                        "or",
                      )}`
                }; if it was taken out, write so in \`answer\``,
          actual: remark.step,
          expected: ids,
        });
      }
  },
};
