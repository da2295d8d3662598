/** Frozen issues that are gone. */
import { missingNumbers } from "../../domain/records/frozen.ts";
import { type Rule } from "../../findings/finding.ts";
import { heard } from "../../words/heard.ts";

/** What an issue names of others. */
const NAMED = [
  { key: "with", said: "was issued together with this one" },
  { key: "beside", said: "was there when this one was issued" },
] as const;

/**
 * No number is missing in the row of a document's frozen issues; of what was issued in one run, and of what was the
 * newest issue of each document and edition of each card at that time, every file is there; and so is what a card's
 * edition says was in force with it. The very last issue of all, if it was issued alone and changed no card, leaves no
 * trace here when it is deleted: `record/not-issued` then says that its file is not issued.
 */
export const issueLost: Rule = {
  id: "record/issue-lost",
  severity: "error",
  asks: "Every frozen issue under `issued/` stays there.",
  why: "Without it nobody can tell what a card or a sign-off was for; and the text before it would count.",
  source: "ISO 9001:2015, 7.5.3 (records are protected from loss and unintended alteration)",
  byPlatform: true,
  check({ issued, editions = [] }, report) {
    const fix = heard("issueFindings").putBack;
    const rows = Map.groupBy(issued, ({ platform, kind, id }) => `${platform}/${kind}/${id}`);
    const told = new Set<string>();
    for (const row of rows.values()) {
      const missing = missingNumbers(row.map(({ revision }) => revision));
      const next = row.find(({ revision }) => revision > (missing[0] ?? Infinity));
      if (next) {
        for (const number of missing) told.add(`${next.platform}/${next.id}@${number}`);
        report(next.where, {
          message:
            `The frozen issue of \`${next.platform}/${next.id}\`, revision ${missing.join(", ")}, is missing; ` +
            `revision ${next.revision} is there`,
          fix,
        });
      }
    }
    for (const row of Map.groupBy(editions, ({ platform, card }) => `${platform}/${card}`).values()) {
      const missing = missingNumbers([0, ...row.map(({ edition }) => edition)]).filter((number) => number > 0);
      const next = row.find(({ edition }) => edition > (missing[0] ?? Infinity));
      if (next)
        report(next.where, {
          message:
            `The frozen edition ${missing.join(", ")} of the card of \`${next.platform}/${next.card}\` is missing; ` +
            `edition ${next.edition} is there`,
          fix,
        });
    }
    const there = new Set([
      ...issued.map(({ platform, id, revision }) => `${platform}/${id}@${revision}`),
      ...editions.map(({ platform, card, edition }) => `${platform}/card-${card}@${edition}`),
    ]);
    for (const { head, where } of issued)
      for (const { key, said } of NAMED)
        for (const name of Array.isArray(head?.[key]) ? (head[key] as unknown[]) : []) {
          if (typeof name !== "string" || there.has(name) || told.has(name)) continue;
          told.add(name);
          report(where, { message: `The frozen issue \`${name}\` ${said} and is missing`, fix });
        }
    // Of a document that was issued before, only an issue can have been in force when a card was printed.
    for (const { platform, frozen, where } of editions)
      for (const named of Array.isArray(frozen["documents"]) ? (frozen["documents"] as unknown[]) : []) {
        const [, kind, id, revision] = /^(\w+)\/(.+)@(\d+)$/.exec(String(named)) ?? [],
          name = `${platform}/${id}@${revision}`;
        const wasIssued = rows.get(`${platform}/${kind}/${id}`)?.some((issue) => issue.revision < Number(revision));
        if (!wasIssued || there.has(name) || told.has(name)) continue;
        told.add(name);
        report(where, { message: `The frozen issue \`${name}\` was in force with this card and is missing`, fix });
      }
  },
};
