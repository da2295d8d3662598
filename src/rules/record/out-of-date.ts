/** Things whose date has passed, or passes before somebody looks at them again. */
import { daysToNextLook, readyDates } from "../../domain/ready/readiness.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import { sayDate } from "../../domain/words/say.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";

/** What expires or is serviced is in date until somebody looks at it again. */
export const outOfDate: Rule = {
  id: "record/out-of-date",
  severity: "warning",
  asks: "What has an `until` is good today, and stays so until somebody looks at it again.",
  why: "What expires between two looks is on the trolley when it is needed, and nobody knows.",
  source: "common practice, no source",
  byPlatform: true,
  check({ platforms }, report, { today }) {
    for (const { of, line } of readyDates(platforms)) {
      const nextLook = addDays(today, daysToNextLook(line));
      if (line.until >= nextLook) continue;
      const passed = line.until < today;
      report(whereOf(line, "until"), {
        message: passed
          ? `${of.name}: \`${line.look}\` was good until ${sayDate(line.until)}`
          : `${of.name}: \`${line.look}\` is good until ${sayDate(line.until)}, and the next look may be on ` +
            sayDate(nextLook),
        fix: "Replace it or have it serviced, then write the new date in `until`",
      });
    }
  },
};
