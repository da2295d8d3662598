/** Withdrawn procedures that are still carried out as part of another. */
import { forceOn } from "../../domain/force/force.ts";
import { whereOf, type Rule } from "../../findings/finding.ts";

/**
 * A procedure that is withdrawn on the day is not included in one that is in force then, whatever the files say of
 * either; nor in a proposal for one.
 */
export const withdrawnIncluded: Rule = {
  id: "record/withdrawn-included",
  severity: "warning",
  asks: "A procedure that has been withdrawn is not included in another one.",
  why: "It was taken out of use for a reason, and is still carried out, under another code.",
  source: "ISO 9001:2015, 7.5.3.2 d (unintended use of obsolete documents), second hand",
  byPlatform: true,
  check(files, report, { today }) {
    const { collection, proposed } = forceOn(files, today);
    const told = new Set<string>();
    for (const judged of proposed === collection ? [collection] : [collection, proposed])
      for (const { id: platform, procedures } of judged.platforms) {
        const written = files.platforms.find(({ id }) => id === platform)?.procedures ?? [];
        for (const { id, sections } of procedures)
          for (const entry of sections.flatMap(({ entries }) => entries)) {
            if (entry.kind !== "include") continue;
            const included = written.find((each) => each.id === entry.procedure),
              name = `${platform}/${id} ${entry.procedure}`;
            const isThere = procedures.some((each) => each.id === entry.procedure);
            if (included?.status !== "withdrawn" || isThere || told.has(name)) continue;
            told.add(name);
            report(entry.where, {
              message: `\`${included.title}\` is withdrawn, and its steps are still done here`,
              fix: "Include the procedure that has taken its place, or write here the steps that still hold",
              actual: entry.procedure,
              cause: whereOf(included, "status"),
              ...(judged === collection ? {} : { proposed: true }),
            });
          }
      }
  },
};
