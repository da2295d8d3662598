/** Rule bands/outside-rating. */
import { listArrangements } from "../../domain/parts/arrangements.ts";
import { covers } from "../../domain/bands/bands.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";
import { hasDamage } from "./damage.ts";

/** The band lies inside what the maker allows for everything fitted that holds a patient. */
export const outsideRating: Rule = {
  id: "bands/outside-rating",
  severity: "error",
  asks: "The band of a configuration lies inside the rated patient weight of each restraint that is fitted.",
  why: "Two limits apply: what the maker allows and what the service chooses. The second must sit inside the first.",
  source: "The maker's instructions are the parent document (common practice, no source)",
  byPlatform: true,
  check({ platforms }, report, { damaged }) {
    for (const platform of platforms.filter((each) => !hasDamage(each, damaged))) {
      const items = new Map(platform.items.map((item) => [item.id, item]));
      for (const { configuration, options, band } of listArrangements(platform).filter(
        (each) => each.options.length < 2,
      )) {
        const record = options[0] ?? configuration;
        for (const id of new Set(record.fitted.map(({ item }) => item))) {
          const rated = items.get(id)?.restrains;
          if (!rated || covers(rated, band.weight)) continue;
          report(whereOf(record, "weight"), {
            message:
              `\`${record.id}\` is for \`${band.weight.text}\`, and \`${id}\`, fitted in it, restrains ` +
              `\`${rated.text}\``,
            fix: `Keep the band inside \`${rated.text}\`, or fit a restraint that is rated for it`,
            actual: band.weight.text,
            expected: [`inside ${rated.text}`],
            cause: whereOf(items.get(id)!, "restrains"),
          });
        }
      }
    }
  },
};
