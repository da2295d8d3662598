/** Configurations with no papers behind them. */
import type { Rule } from "../../findings/finding.ts";

/** Every configuration names the papers behind it. */
export const noAuthority: Rule = {
  id: "record/no-authority",
  severity: "warning",
  asks: "Every configuration names in `authority` the papers of the maker and the operator behind it.",
  why: "An arrangement that nobody has approved is an idea, and the crew can't tell.",
  source: "common practice, no source",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const platform of collection.platforms)
      for (const configuration of platform.configurations)
        if (
          configuration.status !== "withdrawn" &&
          !configuration.authority.length &&
          !(damaged.has(configuration.file) && Object.keys(configuration.at).length === 0)
        )
          report(configuration.where, {
            message: `\`authority\` of \`${configuration.id}\` is missing`,
            fix: "Add `authority: [{ kind: maker, reference: …, date: … }]`, one entry for each paper behind it",
          });
  },
};
