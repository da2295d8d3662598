/** Rule plan/standing-unclear. */
import { inUse } from "../../domain/parts/lookup.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";
import { isFittedInDoubt } from "../doubt.ts";

/** One arrangement is the one in which the platform waits: without it `plan/no-way-back` asks nothing. */
export const standingUnclear: Rule = {
  id: "plan/standing-unclear",
  severity: "warning",
  asks: "One configuration of several is marked as the one in which the platform waits for the next call.",
  why: "The way back is proved to that one alone, and pages tell a crew from where a call begins.",
  source: "common practice, no source",
  byPlatform: true,
  check({ platforms }, report, { damaged }) {
    for (const platform of platforms.filter((each) => !isFittedInDoubt(each.id, damaged))) {
      const all = inUse(platform),
        [first, ...others] = all.filter(({ standing }) => standing),
        say = heard("standingFindings");
      if (all.length > 1 && !first) report(whereOf(platform, "name"), { message: say.none, fix: say.markOne });
      for (const other of others)
        report(whereOf(other, "standing"), {
          message: say.several({ first: first!.id, other: other.id }),
          fix: say.unmark({ other: other.id }),
        });
    }
  },
};
