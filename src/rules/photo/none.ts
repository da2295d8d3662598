/** Steps that handle something and show nothing. */
import type { Rule } from "../../findings/finding.ts";
import { ownSteps } from "../texts.ts";
import { sayList } from "../../schema/wording.ts";

/** A step that moves or turns something has a photo. */
export const none: Rule = {
  id: "photo/none",
  severity: "warning",
  asks: "A step that moves or turns something has a photo.",
  why: "People copy an action better from a picture of that action beside the words than from words alone.",
  source: "Mayer and others on words near pictures: g = 0.63 over 58 comparisons (as quoted by others)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { step } of ownSteps(collection, damaged)) {
      if (!step.operations.length || step.photos.length) continue;
      const kinds = [...new Set(step.operations.map(({ kind }) => (kind === "move" ? "moves" : "turns")))];
      report(step.where, {
        message: `This step ${sayList(kinds)} something and has no photo`,
        fix: "Add `photo=…` with the name of a photo that shows this step",
      });
    }
  },
};
