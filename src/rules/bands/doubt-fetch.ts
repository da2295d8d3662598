/** Rule bands/doubt-fetch. */
import { meetBands, sayBand } from "../../domain/bands/bands.ts";
import type { Rule } from "../../findings/finding.ts";
import { whereOf } from "../../findings/finding.ts";
import { hasDamage } from "./damage.ts";
import { heard } from "../../words/heard.ts";

/** What is to be had at hand while a weight is in doubt is every configuration with one of these patients, no other. */
export const doubtFetch: Rule = {
  id: "bands/doubt-fetch",
  severity: "error",
  asks: "What an entry of `doubt` says to fetch is what may be for these patients: all of it, and nothing else.",
  why: "The question is asked because either may be right. Where only one is at hand, the answer is guessed after all.",
  source: "common practice, no source",
  when: ({ service }) => (service.doubts ?? []).length > 0,
  check({ service, platforms }, report, { damaged }) {
    for (const doubt of service.doubts ?? [])
      for (const platform of platforms.filter((each) => !hasDamage(each, damaged))) {
        const own = platform.configurations.filter(({ id }) => doubt.fetch.some((named) => named.id === id));
        for (const { id, where } of doubt.fetch) {
          const configuration = own.find((each) => each.id === id);
          if (!configuration || meetBands(configuration.band, doubt.band)) continue;
          report(where, {
            message: heard("bandFindings").fetchesForOthers({
              id,
              band: sayBand(configuration.band),
              asked: sayBand(doubt.band),
            }),
            fix: `Remove \`${id}\` from \`fetch\``,
          });
        }
        if (own.length === 0) continue;
        const left = platform.configurations.filter(
          (each) => each.status === "approved" && !own.includes(each) && meetBands(each.band, doubt.band),
        );
        for (const { id } of left)
          report(whereOf(doubt, "fetch"), {
            message: heard("bandFindings").fetchLeavesOut({ id, band: sayBand(doubt.band) }),
            fix: `Add \`${id}\` to \`fetch\``,
          });
      }
  },
};
