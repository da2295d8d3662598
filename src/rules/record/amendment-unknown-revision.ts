/** Temporary amendments of a revision that nobody works by on one of their days. */
import { contentsOnPlatform } from "../../domain/records/issues.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import { forceOn } from "../../domain/force/force.ts";
import { heard } from "../../words/heard.ts";
import { sayDate } from "../../domain/words/say.ts";
import type { Remark, Rule } from "../../findings/finding.ts";
import type { Amendment, Collection, Platform } from "../../schema/collection.ts";
import { amendmentsOf, hasEnded } from "../records.ts";

/** The revision that an amendment names is in force on the day on which it begins, or today, and on every later one. */
export const amendmentUnknownRevision: Rule = {
  id: "record/amendment-unknown-revision",
  severity: "error",
  asks: "A temporary amendment is about the revision of a procedure that is in force while it runs.",
  why: "An amendment of another revision changes nothing: the crew would work by steps that it was meant to replace.",
  source: "common practice, no source",
  byPlatform: true,
  check(files, report, { today }) {
    for (const { amendment, platform } of amendmentsOf(files)) {
      if (hasEnded(amendment, today)) continue;
      const said = heard("amendmentFindings");
      const day = amendment.from > today ? amendment.from : today;
      for (const { procedure: id, revision, where } of amendment.amends) {
        const [now, ...changes] = revisionsWhile(files, platform, id, { today, from: day, until: amendment.until });
        const inForce = now!.revision;
        if (revision === 0 || (!inForce && !platform.procedures.some((each) => each.id === id))) continue;
        if (inForce === revision) {
          const [next] = changes;
          if (next) report(where, { ...sayReplaced(amendment, id, revision, next), actual: String(revision) });
          continue;
        }
        const begins = changes.find((each) => each.revision === revision);
        const facts = { number: amendment.number, id, revision, day: sayDate(day), other: inForce ?? 0 },
          first = begins && { ...facts, day: sayDate(begins.day), eve: sayDate(addDays(begins.day, -1)) };
        report(where, {
          message: inForce ? said.inForce(facts) : said.nothing(facts),
          fix: first
            ? inForce
              ? said.beginAndAnother(first)
              : said.begin(first)
            : inForce
              ? said.read({ other: inForce })
              : said.issueFirst,
          actual: String(revision),
          expected: inForce && !begins ? [String(inForce)] : [],
        });
      }
    }
  },
};

/** A day from which a revision of a procedure is in force; without a number none is. */
interface RevisionFrom {
  readonly day: string;
  readonly revision?: number;
}

/**
 * What is in force of a procedure on a first day, and what becomes of that up to a last one. Text approved for a
 * day to come and not issued yet is taken to be issued for it: who issues it has to end the amendment first.
 */
function revisionsWhile(
  files: Collection,
  platform: Platform,
  id: string,
  { today, from, until }: { readonly today: string; readonly from: string; readonly until: string },
): readonly RevisionFrom[] {
  const file = platform.procedures.find((each) => each.id === id),
    issues = contentsOnPlatform(files, platform.id).filter((issue) => issue.kind === "procedure" && issue.id === id);
  const revisionOn = (on: string) => {
    const issued = forceOn(files, on)
      .collection.platforms.find((each) => each.id === platform.id)
      ?.procedures.find((each) => each.id === id)?.revision;
    const isApproved = file?.status === "approved" && (file.effective ?? "") > today && file.effective! <= on;
    return isApproved && file.revision > (issued ?? 0) ? file.revision : issued;
  };
  const later = [file?.effective, ...issues.map(({ effective }) => effective)].flatMap((each) =>
    each !== undefined && each > from && each <= until ? each : [],
  );
  return [from, ...new Set(later.sort())]
    .map((day): RevisionFrom => {
      const revision = revisionOn(day);
      return { day, ...(revision === undefined ? {} : { revision }) };
    })
    .filter(({ revision }, at, all) => at === 0 || revision !== all[at - 1]!.revision);
}

function sayReplaced(
  { number, until }: Amendment,
  id: string,
  revision: number,
  next: RevisionFrom,
): Pick<Remark, "message" | "fix"> {
  const said = heard("amendmentFindings"),
    eve = addDays(next.day, -1);
  const facts = { number, revision, id, until: sayDate(until), day: sayDate(next.day) },
    ends = { eve: sayDate(eve), written: eve };
  return next.revision === undefined
    ? { message: said.withdrawn(facts), fix: said.end(ends) }
    : {
        message: said.replaced({ ...facts, other: next.revision }),
        fix: said.endAndAnother({ ...ends, day: facts.day, other: next.revision }),
      };
}
