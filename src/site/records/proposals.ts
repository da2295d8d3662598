/**
 * Proposals as pages show them: newer text of a document than the one that stands on its own page, each with an address
 * of its own and the collection as it would be with it.
 */
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import type { Collection, Controlled, Platform } from "../../schema/collection.ts";
import { type Proposal, withProposal } from "../../domain/force/force.ts";
import { kindOf } from "../../domain/records/freeze.ts";
import { issueOf, nameOf } from "../../domain/records/issues.ts";
import { withoutTelling } from "../../domain/words/reads.ts";
import { remember } from "../../domain/words/remember.ts";
import { sayDate } from "../../domain/words/say.ts";
import { needed, platformOf, type Site } from "../site.ts";
import { proposalsOn, withdrawalDays } from "../telling-force.ts";
import { addressOfDocument, differenceAddress, FOLDERS } from "./revisions.ts";
import { heard } from "../../words/heard.ts";

/** A proposal with all that its pages are made of. */
export interface Proposed {
  readonly proposal: Proposal;
  /** The site as it would be with it in force: everything on its pages is worked out from this. */
  readonly view: Site;
  /** The platform as it would be. */
  readonly platform: Platform;
  /** The document as it would be, as if approved. */
  readonly document: Issuable;
  /** The document that stands on its own page, and its address; what is in force, unless nothing is. */
  readonly shown: Issuable;
  readonly shownAddress: string;
  /** What is said of the proposal: its own status, code, revision and dates. */
  readonly said: Controlled;
  readonly address: string;
  /** The last part of the address: its revision, or that with a word where an issue has the number already. */
  readonly n: string;
  /** Whether its words stand in the file under a number that was issued with others: it can't come into force so. */
  readonly isTwin: boolean;
  /** Address of the comparison with what is in force; absent if nothing earlier was frozen. */
  readonly difference?: string;
}

/** What stands in the margin of every sheet of a proposal, after its code and revision. */
export function proposedOnPaper(): string {
  return heard("reviewList").proposedNotInForce;
}

/**
 * What stands in the margin of every printed sheet of a document's page: its code and revision, and that it is not to
 * be used where it is not approved: `T-01 · revision 2 · DRAFT`.
 */
export function marginOf({ code, revision, status }: Controlled, proposed: Proposed | undefined): string {
  const { status: proposal, effective } = proposed?.proposal ?? {};
  // True on either side of the day, for a saved set is printed on both.
  const issued = proposal === "coming" && effective && heard("reviewList").issuedFor({ day: sayDate(effective) });
  const mark = issued
    ? issued
    : proposed
      ? proposedOnPaper()
      : status === "approved"
        ? ""
        : ` · ${status.toUpperCase()}`;
  return heard("reviewList").revision({ code, revision, mark });
}

/** Every proposal that has pages of its own; a document of which nothing else is known has its usual page. */
export const proposalsOf: (site: Site) => readonly Proposed[] = remember((site: Site) =>
  site.force.proposals.flatMap((proposal) => {
    const platform = platformOf(site, proposal.platform);
    const isTwin = proposal.status !== "coming" && issueOf(site.collection, proposal.record) !== undefined;
    const shown = documentsOf(platform).find(
      (each) =>
        each.id === proposal.id &&
        kindOf(each) === proposal.kind &&
        (each.revision < proposal.revision || (isTwin && each.revision === proposal.revision)),
    );
    return shown ? [show(site, platform, shown, proposal, isTwin)] : [];
  }),
);

/** What a proposal says of itself and where it is shown: all that does not rest on the proposals of other documents. */
type ProposedLink = Pick<Proposed, "proposal" | "shownAddress" | "said" | "address" | "n" | "isTwin" | "difference">;

/** Proposals of a document, the nearest to its day first; empty if there is none. */
export function proposalsFor(
  site: Site,
  document: Pick<Issuable, "platform" | "id">,
  kind: Proposal["kind"],
): readonly ProposedLink[] {
  const own = new Set(proposalsOn(site.force, document, kind));
  return withoutTelling(() => proposalsOf(site)).filter(({ proposal }) => own.has(proposal));
}

/** The ones among them that have a day: issued for it, or approved and not issued yet. */
export function successorsOf(site: Site, document: Issuable): readonly ProposedLink[] {
  return proposalsFor(site, document, kindOf(document)).filter(
    ({ proposal: { status, effective }, isTwin }) =>
      effective && !isTwin && (status === "coming" || status === "approved"),
  );
}

/** The day on which a document in force is to be withdrawn, `YYYY-MM-DD`; `undefined` where no file says so. */
export function withdrawalAhead({ force, today }: Site, document: Issuable): string | undefined {
  const from = withdrawalDays(force).get(nameOf(document, kindOf(document)));
  return from !== undefined && from > today ? from : undefined;
}

/** Routes of the pages of proposals. */
export function proposalRoutes(site: Site) {
  return proposalsOf(site).map((proposed) => ({
    params: {
      platform: proposed.platform.id,
      kind: FOLDERS[proposed.proposal.kind],
      id: proposed.document.id,
      n: proposed.n,
    },
    props: { proposed },
  }));
}

/** The site as it would be over another collection; one for each, so that what is worked out of it is so once. */
const viewOf = remember((site: Site, collection: Collection): Site => ({ ...site, collection }));

function show(site: Site, now: Platform, shown: Issuable, proposal: Proposal, isTwin: boolean): Proposed {
  const view = viewOf(site, withProposal(site.force, proposal));
  const platform = platformOf(view, proposal.platform);
  const document = needed(
    documentsOf(platform).find((each) => each.id === proposal.id && kindOf(each) === proposal.kind),
    `proposal ${proposal.id}`,
  );
  const shownAddress = addressOfDocument(shown, proposal.kind);
  // The page of that number compares what was issued under it.
  const difference = isTwin ? undefined : differenceAddress(site, now, shown, proposal.revision),
    n = isTwin ? `${proposal.revision}-as-written` : String(proposal.revision);
  return {
    proposal,
    view,
    platform,
    document,
    shown,
    shownAddress,
    said: { ...document, status: proposal.status },
    n,
    isTwin,
    address: `${shownAddress}proposed/${n}/`,
    ...(difference ? { difference } : {}),
  };
}
