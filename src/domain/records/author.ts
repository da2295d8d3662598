/** Who wrote a revision, and whether someone else approved it. */
import type { Controlled } from "../../schema/collection.ts";

/**
 * The author of a document's present revision: `by` of its change entry; without one, its owner. `undefined` if neither
 * is given.
 */
export function authorOf({ changes, revision, owner }: Controlled): string | undefined {
  return changes.findLast((change) => change.revision === revision)?.by ?? owner;
}

/** Whether the approver is the author, however their name is spaced or capitalised. */
export function isSelfApproved(record: Controlled): boolean {
  const author = authorOf(record);
  return author !== undefined && record.approvedBy !== undefined && isSameName(author, record.approvedBy);
}

/** Whether two names are the same, however they are spaced or capitalised. */
export function isSameName(a: string, b: string): boolean {
  return plain(a) === plain(b);
}

function plain(name: string): string {
  return name.normalize("NFKC").trim().replace(/\s+/g, " ").toLowerCase();
}
