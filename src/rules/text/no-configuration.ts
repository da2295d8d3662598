/** A platform of which nothing says for whom it is. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import { sayList } from "../../schema/wording.ts";
import { wordsFor } from "../../words/words.ts";

/** A platform has a configuration: without one it can't be chosen, and no other rule has anything to say of it. */
export const noConfiguration: Rule = {
  id: "text/no-configuration",
  severity: "warning",
  asks: "A platform has a configuration, which says for whom it is and what then stands where.",
  why: "A platform that is only begun looks finished: nothing is wrong in what is not there.",
  source: "Common practice, no source",
  byPlatform: true,
  check({ platforms, service }, report, { damaged }) {
    const say = wordsFor(service).findings;
    for (const platform of platforms) {
      const { id, name, configurations, items, procedures } = platform;
      if (configurations.length > 0 || [...damaged].some((file) => file.startsWith(`${id}/`))) continue;
      const missing = [
        ...(items.length === 0 ? [say.noItems] : []),
        say.noConfigurations,
        ...(procedures.length === 0 ? [say.noProcedures] : []),
      ];
      report(whereOf(platform, "name"), {
        message: say.onlyBegun({ name, missing: sayList(missing) }),
        fix: items.length === 0 ? say.writeItems({ file: `${id}/equipment.yaml` }) : say.writeConfigurations,
      });
    }
  },
};
