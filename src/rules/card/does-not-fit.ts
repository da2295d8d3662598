/** Cards that are too long for their paper. */
import type { Configuration } from "../../schema/collection.ts";
import { formatFor } from "../../paper/card-format.ts";
import { layoutCard } from "../../paper/card-layout.ts";
import { printCard } from "../../paper/printed-card.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";

/**
 * Every card fits on its paper: its own lines on the front and back of one leaf, everything else on the leaves that a
 * card may have. Type is never made smaller,
 * and no line is split, to make it fit.
 */
export const doesNotFit: Rule = {
  id: "card/does-not-fit",
  severity: "error",
  asks: "The lines of a card fit on its paper at their full size, none of them split.",
  why: "What is cut off, or too small to read at arm's length, is not looked at.",
  source:
    "UK CAA CAP 676, issue 3, chapter 7 (type sizes, no drill broken across a turn); Degani 1992, NASA " +
    "CR-177605 (x-height at least 2.54 mm)",
  byPlatform: true,
  check(collection, report, { damaged }) {
    const format = formatFor(collection.service.cards.paper);
    for (const platform of collection.platforms)
      for (const configuration of platform.configurations.filter(
        ({ status, file }) => status !== "withdrawn" && !damaged.has(file),
      )) {
        const { tooLongMm } = layoutCard(printCard(collection, platform, configuration), format);
        if (tooLongMm > 0)
          report(placeOf(configuration), {
            message: `The card of \`${configuration.title}\` is ${tooLongMm} mm too long for ${format.name}`,
            fix:
              "Shorten its checks and warnings, or leave out those that another line " +
              `answers${format.paper === "A4" ? "" : "; or print on larger paper (`cards:` in service.yaml)"}`,
          });
      }
  },
};

/** The first check, which the author can shorten; the title if there is none. */
function placeOf(configuration: Configuration) {
  return configuration.checks[0]?.where ?? whereOf(configuration, "title");
}
