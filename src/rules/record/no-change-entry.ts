/** Revisions that nobody explains. */
import { type Rule, whereOf } from "../../findings/finding.ts";
import { allRecordsOf } from "../records.ts";

/** `changes` has an entry for every revision above 1, also for the one with which a document is withdrawn. */
export const noChangeEntry: Rule = {
  id: "record/no-change-entry",
  severity: "error",
  asks: "`changes` has an entry for every revision above 1.",
  why: "Whoever was signed off on the last revision must find out what is new without comparing pages.",
  source: "ISO 9001:2015, 7.5.3.2 c (control of changes); CAP 676, list of effective pages with a revision history",
  byPlatform: true,
  check(collection, report, { damaged }) {
    for (const { record } of allRecordsOf(collection)) {
      // A head that could not be read whole may tell them.
      if (damaged.has(record.file)) continue;
      const told = new Set(record.changes.map(({ revision }) => revision));
      const missing = Array.from(
        { length: Math.max(0, Math.min(record.revision, 1000) - 1) },
        (_, at) => at + 2,
      ).filter((revision) => !told.has(revision));
      if (missing.length)
        report(whereOf(record, Object.hasOwn(record.at, "changes") ? "changes" : "revision"), {
          message: `\`changes\` says nothing about revision ${missing.join(", ")}`,
          fix: "Add an entry `{ revision: …, date: …, by: …, summary: … }` for each",
        });
    }
  },
};
