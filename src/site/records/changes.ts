/** The changes of all documents as one list, for the pages of history. */
import type { Issuable } from "../../schema/documents.ts";
import type { Change, Controlled, Platform } from "../../schema/collection.ts";
import type { Proposal } from "../../domain/force/force.ts";
import { proposalsFor } from "./proposals.ts";
import { differenceAddress, noticeAddress, revisionsOf } from "./revisions.ts";
import { issueOf } from "../../domain/records/issues.ts";
import { platformOf, type Site } from "../site.ts";
import { heard } from "../../words/heard.ts";

/** One change. `date` is empty when nothing says when. */
export interface Entry {
  readonly document: Controlled;
  readonly kind: string;
  readonly address: string;
  readonly platformName?: string;
  readonly revision: number;
  readonly date: string;
  /** The day from which it is or was in force, where that is known; `date` is the day on which it was written. */
  readonly effective?: string;
  readonly by?: string;
  readonly summary: string;
  readonly reason?: string;
  readonly signOffs?: Change["signOffs"];
  /**
   * `now`: the present revision, in force; `coming`: the present one, not in force yet; `withdrawn`: the one that took
   * the document out of use, on its day `effective`; `before`: an earlier one, or one that was withdrawn as it stood.
   */
  readonly state: "now" | "coming" | "withdrawn" | "before";
  /** Address of the step by step difference to the revision before, where there is one. */
  readonly difference?: string;
  /** Address of the notice that says what to do differently, where there is one. */
  readonly notice?: string;
}

/**
 * The changes of one document, newest first; its first issue is among them also when the author gave no entry for it.
 */
export function changesOf(site: Site, document: Controlled, kind: string, address: string): Entry[] {
  const pagesOf = (revision: number) => {
    const of = [platformOf(site, document.platform), document as Issuable, revision] as const,
      difference = differenceAddress(site, ...of),
      notice = noticeAddress(site, ...of);
    const effective = inForceFrom(site, document, revision);
    return {
      ...(difference ? { difference } : {}),
      ...(notice ? { notice } : {}),
      ...(effective ? { effective } : {}),
    };
  };
  const entries = document.changes.map((change) => ({
    ...pagesOf(change.revision),
    ...writtenIn(change),
    document,
    kind,
    address,
    state: stateOf(site, document, change.revision),
  }));
  const known = new Set(entries.map(({ revision }) => revision));
  if (!known.has(1))
    entries.push({
      ...pagesOf(1),
      document,
      kind,
      address,
      revision: 1,
      date: inForceFrom(site, document, 1) ?? "",
      by: "",
      summary: heard("reviewList").firstIssue,
      state: stateOf(site, document, 1),
    });
  return [...entries, ...proposedChanges(site, document as Issuable, kind as Proposal["kind"], pagesOf)].sort(
    (a, b) => b.revision - a.revision,
  );
}

/** What the author wrote of a change. */
function writtenIn({ revision, date, by, summary, reason, signOffs }: Change) {
  return { revision, date, by, summary, ...(reason ? { reason } : {}), ...(signOffs ? { signOffs } : {}) };
}

/** What proposals of a document change, each at the proposal's own address. */
function proposedChanges(
  site: Site,
  document: Issuable,
  kind: Proposal["kind"],
  pagesOf: (revision: number) => Partial<Entry>,
): Entry[] {
  const told = new Set(document.changes.map(({ revision }) => revision));
  return proposalsFor(site, document, kind).flatMap(({ proposal: { record, revision, effective }, said, address }) => {
    const changes = record.changes.filter((change) => change.revision <= revision && !told.has(change.revision));
    for (const change of changes) told.add(change.revision);
    return changes.map((change): Entry => ({
      ...pagesOf(change.revision),
      ...writtenIn(change),
      document: said,
      kind,
      address,
      ...(effective ? { effective } : {}),
      state: "coming",
    }));
  });
}

/**
 * The day on which a revision took or takes effect, by the document for its present one, else by its frozen issue;
 * `undefined` where neither says it.
 */
export function inForceFrom(site: Site, document: Controlled, revision: number): string | undefined {
  if (revision === document.revision) return document.effective;
  return revisionsOf(site, platformOf(site, document.platform), document as Issuable).find(
    ({ number }) => number === revision,
  )?.after.effective;
}

function stateOf(site: Site, document: Controlled, of: number): Entry["state"] {
  const { revision, status, effective } = document;
  if (of !== revision) return "before";
  // An issue that was withdrawn as it stood has no day of that: it was in force from its own.
  if (status === "withdrawn") return issueOf(site.collection, document as Issuable) ? "before" : "withdrawn";
  return status === "approved" && (!effective || effective <= site.today) ? "now" : "coming";
}

/** Every dated change of the service, newest first. */
export function allChanges(site: Site): Entry[] {
  const { hasSeveral: several } = site.collection.service;
  return site.collection.platforms
    .flatMap((platform) =>
      documentsOf(platform).flatMap(({ document, kind, address }) =>
        changesOf(site, document, kind, address).map((entry) =>
          several ? { ...entry, platformName: platform.name } : entry,
        ),
      ),
    )
    .filter(({ date }) => date !== "")
    .sort((a, b) =>
      a.date === b.date ? a.document.code.localeCompare(b.document.code, "en") : a.date < b.date ? 1 : -1,
    );
}

/** Procedures, configurations and options of a platform with their addresses. */
function documentsOf(platform: Platform): { document: Controlled; kind: string; address: string }[] {
  return [
    ...platform.configurations.map((document) => ({
      document,
      kind: "configuration",
      address: `${platform.id}/configurations/${document.id}/`,
    })),
    ...platform.options.map((document) => ({
      document,
      kind: "option",
      address: `${platform.id}/options/${document.id}/`,
    })),
    ...platform.procedures.map((document) => ({
      document,
      kind: "procedure",
      address: `${platform.id}/procedures/${document.id}/`,
    })),
  ];
}
