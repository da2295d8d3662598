/** Weights typed into an instruction, where no check can reach them. */
import type { Rule } from "../../findings/finding.ts";
import { textsOf } from "../texts.ts";
import { flatten } from "../words.ts";

const WEIGHT =
  /(?<![\p{L}\p{N}.,-])\d+(?:[.,]\d+)?(?:\s*(?:-|–|to|and|or)\s*\d+(?:[.,]\d+)?)?[\s\u00a0-]?(?:kg|kgs|kilos?|kilograms?|kilogrammes?|g|grams?|grammes?|lbs?|pounds?)(?![\p{L}\p{N}])/iu;

/**
 * A weight is in a band or in an item's data, not in a step's words. Looks at instructions and details; reasons and
 * warnings may name a limit.
 */
export const weightInText: Rule = {
  id: "wording/weight-in-text",
  severity: "warning",
  asks: "A weight stands in a band (`weight=`) or in an item's data, not in the words of a step.",
  why: "A number in a sentence is not compared with the bands, and stays when the band is changed.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report) {
    for (const { kind, paragraph } of textsOf(collection)) {
      if (kind !== "instruction" && kind !== "detail") continue;
      const text = flatten(paragraph);
      const match = WEIGHT.exec(text.text);
      if (match)
        report(text.whereAt(match.index, match[0].length), {
          message: `The weight \`${match[0]}\` is typed into the text of a step`,
          fix: 'Give the step a `weight="…"`, or put it into the item\'s data (`mass`, `restrains`)',
          actual: match[0],
        });
    }
  },
};
