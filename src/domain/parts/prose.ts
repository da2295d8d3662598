/** What of a platform is words for readers, which no proof of its parts and procedures reads. */
import type { Unread } from "../words/keep.ts";

/** Fields of every record of a platform. */
const OF_ALL: ReadonlySet<string> = new Set([
  "alerts",
  "alertsAfter",
  "alt",
  "approvedBy",
  "authority",
  "body",
  "changes",
  "children",
  "datum",
  "detail",
  "effective",
  "guards",
  "instruction",
  "owner",
  "photos",
  "purpose",
  "readings",
  "reason",
  "reviewBy",
  "rows",
  "unnoticed",
]);
/** Those of procedures; a card's title and revision stand in what the crew is told to read. */
const OF_PROCEDURES: ReadonlySet<string> = new Set(["code", "revision"]);

/** Whether a field of a record of a platform is words for readers (for `kept`). */
export const isProse: Unread = (field, record) =>
  OF_ALL.has(field) || ("sections" in record && OF_PROCEDURES.has(field));
