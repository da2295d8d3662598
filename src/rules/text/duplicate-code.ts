/** Two documents under one code. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import type { Controlled } from "../../schema/collection.ts";

/** A document has a code of its own, in the whole collection; withdrawn ones count: their copies may still be about. */
export const duplicateCode: Rule = {
  id: "text/duplicate-code",
  severity: "error",
  asks: "A procedure, configuration or option has a `code` of its own.",
  why: "Who asks for a document by its code, or reads it from a card, gets the wrong one.",
  source: "ISO 9001:2015, 7.5.2 a (identification of documented information); how it is coded: common practice",
  check({ platforms }, report) {
    const first = new Map<string, Controlled>();
    for (const { procedures, configurations, options } of platforms)
      for (const record of [...configurations, ...options, ...procedures]) {
        if (record.code === "") continue;
        const earlier = first.get(record.code);
        if (!earlier) first.set(record.code, record);
        else
          report(whereOf(record, "code"), {
            message: `\`${record.code}\` is the code of \`${earlier.title}\` already`,
            fix: "Give it a code that no other document has",
            actual: record.code,
            cause: whereOf(earlier, "code"),
          });
      }
  },
};
