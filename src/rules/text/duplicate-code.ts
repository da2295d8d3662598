/** Two documents under one code. */
import type { Rule } from "../../findings/finding.ts";
import { factsOf, type PlatformFacts } from "../../schema/platform-facts.ts";

/** A document has a code of its own, in the whole collection; withdrawn ones count: their copies may still be about. */
export const duplicateCode: Rule = {
  id: "text/duplicate-code",
  severity: "error",
  asks: "A procedure, configuration or option has a `code` of its own.",
  why: "Who asks for a document by its code, or reads it from a card, gets the wrong one.",
  source: "ISO 9001:2015, 7.5.2 a (identification of documented information); how it is coded: common practice",
  check({ platforms }, report) {
    const first = new Map<string, PlatformFacts["codes"][number]>();
    for (const document of platforms.flatMap((platform) => factsOf(platform).codes)) {
      const { code, where } = document,
        earlier = first.get(code);
      if (!earlier) first.set(code, document);
      else
        report(where, {
          message: `\`${code}\` is the code of \`${earlier.title}\` already`,
          fix: "Give it a code that no other document has",
          actual: code,
          cause: earlier.where,
        });
    }
  },
};
