/** Which issues of which document are frozen, and what they say: the one reading of a collection's list of issues. */
import type { Collection, Controlled, Issued } from "../../schema/collection.ts";
import { remember } from "../words/remember.ts";
import type { Content } from "./content.ts";
import { contentOfIssue, kindOf } from "./freeze.ts";

/** What a document is called in a collection, whatever its revision: `tern/procedure/seat-capsule`. */
export function nameOf({ platform, id }: Pick<Controlled, "platform" | "id">, kind: Issued["kind"]): string {
  return `${platform}/${kind}/${id}`;
}

/** Frozen issues of every document that has any, by `nameOf`, each list in rising order of revision. */
export function issuesByDocument({ issued }: Pick<Collection, "issued">): ReadonlyMap<string, readonly Issued[]> {
  return byDocument(issued);
}

const byDocument = remember((issued: readonly Issued[]) =>
  Map.groupBy(
    [...issued].sort((a, b) => a.revision - b.revision),
    (issue) => nameOf(issue, issue.kind),
  ),
);

/** Frozen issues of a document in rising order of revision, altered ones among them; empty if none was issued. */
export function issuesOf(collection: Pick<Collection, "issued">, record: Controlled): readonly Issued[] {
  return issuesByDocument(collection).get(nameOf(record, kindOf(record))) ?? [];
}

/** The frozen issue of a record's own revision, altered or not; `undefined` if it was not issued. */
export function issueOf(collection: Pick<Collection, "issued">, record: Controlled): Issued | undefined {
  return issuesOf(collection, record).find(({ revision }) => revision === record.revision);
}

/** That a document is withdrawn which was issued before. */
interface Withdrawal {
  /** The number of its last issue. */
  readonly issued: number;
  /** The day from which it is not used, `YYYY-MM-DD`; absent where it was withdrawn as it stood, which has no day. */
  readonly from?: string;
}

/** The withdrawal of a document; `undefined` if it is not withdrawn, or never was issued. */
export function withdrawalOf(collection: Pick<Collection, "issued">, record: Controlled): Withdrawal | undefined {
  const issued = issuesOf(collection, record).at(-1)?.revision,
    { status, revision, effective } = record;
  if (status !== "withdrawn" || issued === undefined) return undefined;
  return { issued, ...(revision > issued && effective ? { from: effective } : {}) };
}

/** What the whole issues before a record's own revision say, in rising order; altered ones are left out. */
export function contentsBefore(collection: Pick<Collection, "issued">, record: Controlled): Content[] {
  return issuesOf(collection, record)
    .filter(({ revision }) => revision < record.revision)
    .flatMap((issue) => contentOfIssue(issue) ?? []);
}

/** What the whole issues of a platform's documents say, in the order of the collection. */
export function contentsOnPlatform({ issued }: Pick<Collection, "issued">, platform: string): Content[] {
  return issued.filter((issue) => issue.platform === platform).flatMap((issue) => contentOfIssue(issue) ?? []);
}
