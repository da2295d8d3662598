/** Where the site shows what a file says. */
import type { Issuable } from "../../schema/documents.ts";
import { kindOf } from "../../domain/records/freeze.ts";
import { proposalsFor } from "../../site/records/proposals.ts";
import { addressOfDocument, differenceAddress } from "../../site/records/revisions.ts";
import type { Platform } from "../../schema/collection.ts";
import type { Moment } from "../reader.ts";

/** Addresses below `site/`. */
interface PagesOf {
  /** What the file says: newer text than the one in force has a page of its own. */
  readonly page: string;
  /** What an approver signs: what changed, remarks, findings, what becomes stale. */
  readonly review: string;
  /** Step by step beside what is in force; absent if nothing earlier was issued. */
  readonly difference: string | undefined;
}

/** The pages of a document as its file says it now. */
export function pagesOf({ site }: Moment, platform: Platform, document: Issuable): PagesOf {
  const kind = kindOf(document);
  const proposed = proposalsFor(site, document, kind).find(({ proposal }) => proposal.status !== "coming"),
    page = proposed?.address ?? addressOfDocument(document, kind);
  const difference = proposed ? proposed.difference : differenceAddress(site, platform, document, document.revision);
  return { page, review: `${page}review/`, difference };
}
