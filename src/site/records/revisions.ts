/**
 * The revisions of controlled documents as pages need them: what stood before, what stands now, where their pages are,
 * and what they make stale.
 */
import { wordsFor } from "../../words/words.ts";
import { printedCodes } from "../../paper/printed-card.ts";
import type { Change, Platform, Procedure } from "../../schema/collection.ts";
import type { Issuable } from "../../schema/documents.ts";
import { bandStandings, cardStandings, type CardStanding } from "../../domain/cards/card-standing.ts";
import { printChangeover } from "../../paper/changeover-card.ts";
import { asIssued } from "../../domain/force/amendments.ts";
import type { Proposal } from "../../domain/force/force.ts";
import type { Content } from "../../domain/records/content.ts";
import { codeOf } from "../../domain/cards/check-code.ts";
import { effectsOf, type Effects, type Planned } from "../../domain/cards/effects.ts";
import { auditFolders, type AuditedFolder } from "../../paper/folder-audit.ts";
import { contentOf, contentOfIssue, hashOf, kindOf } from "../../domain/records/freeze.ts";
import { changedSteps, noticeOf, type Notice } from "../../domain/records/notice.ts";
import { contentsBefore, issueOf, issuesOf } from "../../domain/records/issues.ts";
import { differenceBetween, type Difference } from "../../domain/records/revisions.ts";
import type { ThingNames } from "../../domain/records/step-lines.ts";
import { changeoversOf } from "../plans/changeovers.ts";
import { remember } from "../../domain/words/remember.ts";
import type { Site } from "../site.ts";
import { proposalsOn } from "../telling-force.ts";

/** One revision of a document: frozen, or the present text. */
export interface Revision {
  readonly number: number;
  /** What it says. */
  readonly after: Content;
  /** What the newest frozen issue before it says; absent for the first, or if none before it is frozen. */
  readonly before?: Content;
  /** Whether it is the document as its own page shows it: what is in force, unless nothing is. */
  readonly isPresent: boolean;
  /** Whether it has been approved: frozen, or the present text of an approved document. */
  readonly isApproved: boolean;
  /** Newer text than what is in force; absent for everything else. */
  readonly proposal?: Proposal;
  readonly change?: Change | Content["record"]["changes"][number];
}

/** The folder in which documents of a kind have their pages. */
export const FOLDERS = { procedure: "procedures", configuration: "configurations", option: "options" } as const;

/** Address of a document's page. */
export function addressOfDocument({ platform, id }: Pick<Issuable, "platform" | "id">, kind: Content["kind"]): string {
  return `${platform}/${FOLDERS[kind]}/${id}/`;
}

/**
 * The known revisions of a document in rising order: its frozen issues, its text as its own page shows it, then the
 * proposals, each compared with what is in force.
 */
export const revisionsOf: (site: Site, platform: Platform, document: Issuable) => Revision[] = remember(
  (site: Site, platform: Platform, document: Issuable) => {
    const kind = kindOf(document);
    const chain = [...contentsBefore(site.collection, document), contentOf(document, platform)];
    const known = chain.map((after, at): Revision => {
      const isPresent = at === chain.length - 1;
      const change = (isPresent ? document.changes : after.record.changes).findLast(
        ({ revision }) => revision === after.revision,
      );
      return {
        number: after.revision,
        after,
        ...(chain[at - 1] ? { before: chain[at - 1]! } : {}),
        isPresent,
        isApproved: !isPresent || !isBeingWritten(document),
        ...(change ? { change } : {}),
      };
    });
    const proposals = proposalsOn(site.force, { platform: platform.id, id: document.id }, kind).filter(
      ({ revision }) => revision > document.revision,
    );
    const ofRevision = (revision: number) => proposals.findIndex((each) => each.revision === revision);
    return [
      ...known,
      // Should one revision be issued and then written otherwise, the issue is what is compared.
      ...proposals
        .filter(({ revision }, at) => ofRevision(revision) === at)
        .map((proposal) => proposedRevision(proposal, platform, chain.at(-1)!)),
    ];
  },
);

/**
 * The check code of what a document says, by which an approver signs and `rerig issue --signed` issues: of the frozen
 * content where this revision is issued, else of the text with the hashes of its photos, as it would be frozen.
 */
export function contentCodeOf(site: Site, platform: Platform, document: Issuable): string {
  const issue = issueOf(site.collection, document);
  return codeOf(hashOf((issue && contentOfIssue(issue)) ?? contentOf(document, platform)));
}

/** A revision with a page that shows the difference to the one before. */
export type Differing = Revision & { readonly before: Content };

/** Whether a document's text has not been approved yet. */
const isBeingWritten = ({ status }: Issuable) => ["draft", "in review"].includes(status);

/** Whether a document's text is its first and not approved: there is nothing before it, and nobody is told of it. */
const isFirstText = ({ collection }: Site, document: Issuable) =>
  isBeingWritten(document) && issuesOf(collection, document).length === 0;

/** The revisions that have an earlier issue to be compared with. */
export function differingRevisions(site: Site, platform: Platform, document: Issuable): Differing[] {
  if (isFirstText(site, document)) return [];
  return revisionsOf(site, platform, document).filter(
    (revision): revision is Differing => revision.before !== undefined,
  );
}

/**
 * The revision that a proposal is of `document`, also where an issue has its number already: who reads such a sheet
 * sees what was changed since without a number of its own.
 */
export function revisionOf(site: Site, platform: Platform, document: Issuable, proposal: Proposal): Revision {
  const known = revisionsOf(site, platform, document);
  return (
    known.find((each) => each.proposal === proposal) ??
    proposedRevision(proposal, platform, known.findLast((each) => each.proposal === undefined)!.after)
  );
}

function proposedRevision(proposal: Proposal, platform: Platform, before: Content): Revision {
  const { record, revision } = proposal,
    change = record.changes.findLast((each) => each.revision === revision);
  return {
    number: revision,
    after: contentOf(record, platform),
    before,
    isPresent: false,
    isApproved: proposal.status === "coming",
    proposal,
    ...(change ? { change } : {}),
  };
}

/** Comparisons over more than one issue: each revision with every known one before it but that which it follows. */
export function widerComparisons(site: Site, platform: Platform, document: Issuable): Differing[] {
  const revisions = revisionsOf(site, platform, document);
  return revisions.flatMap((revision, at) =>
    revisions
      .slice(0, at)
      .filter(({ number }) => number !== revision.before?.revision)
      .map(({ after }) => ({ ...revision, before: after })),
  );
}

/** Address of the page that compares two known revisions of a document which follow one another or not. */
export function comparisonAddress(
  site: Site,
  platform: Platform,
  document: Issuable,
  before: number,
  after: number,
): string {
  const follows = revisionsOf(site, platform, document).some(
    (revision) => revision.number === after && revision.before?.revision === before,
  );
  return `${addressOfDocument(document, kindOf(document))}revisions/${follows ? after : `${before}-${after}`}/`;
}

/** The difference of a revision to the issue before it. */
export function differenceOf({ before, after }: Pick<Differing, "before" | "after">): Difference {
  return differenceBetween(before, after);
}

/** Address of the page that shows a revision's difference; `undefined` if there is none. */
export function differenceAddress(
  site: Site,
  platform: Platform,
  document: Issuable,
  revision: number,
): string | undefined {
  return differingRevisions(site, platform, document).some(({ number }) => number === revision)
    ? `${addressOfDocument(document, kindOf(document))}revisions/${revision}/`
    : undefined;
}

/** The revisions of which a notice tells people: every approved one that is known. */
export function noticedRevisions(site: Site, platform: Platform, document: Issuable): Revision[] {
  return document.status === "withdrawn" || isFirstText(site, document)
    ? []
    : revisionsOf(site, platform, document).filter(({ isApproved }) => isApproved);
}

/** Address of the notice of a revision; `undefined` if there is none. */
export function noticeAddress(
  site: Site,
  platform: Platform,
  document: Issuable,
  revision: number,
): string | undefined {
  return noticedRevisions(site, platform, document).some(({ number }) => number === revision)
    ? `${addressOfDocument(document, kindOf(document))}notices/${revision}/`
    : undefined;
}

/** The notice of a revision; `undefined` for one that has no earlier issue to be compared with. */
export function noticeFor(site: Site, platform: Platform, revision: Revision): Notice | undefined {
  return revision.before ? noticeOf(differenceOf(revision as Differing), namesOf(site, platform)) : undefined;
}

/** What a revision makes stale, everything else being as it is now. */
export function effectsFor(site: Site, platform: Platform, { before, after }: Differing): Effects {
  return effectsOnce(site, platform, before, after);
}

const effectsOnce = remember((site: Site, platform: Platform, before: Content, after: Content) =>
  effectsOf(site.collection, platform, before, after, codesOf(site), plannedOf(site, platform)),
);

const plannedOf = remember((site: Site, platform: Platform): Planned[] =>
  [...changeoversOf(site, platform)].flatMap(([pair, plans]) => {
    const [from = "", to = ""] = pair.split("--");
    return [
      {
        from,
        to,
        procedures: [
          ...new Set(
            plans.flatMap(({ changeover }) =>
              changeover.steps.map(({ procedure, step }) => [procedure.id, step.procedure]).flat(),
            ),
          ),
        ],
      },
    ];
  }),
);

/** Names of items, places, fastenings and incidents of a platform; an id that is gone names itself. */
export const namesOf: (site: Site, platform: Platform) => ThingNames = remember((site: Site, platform: Platform) => {
  const nameIn = (list: readonly { readonly id: string; readonly name: string }[]) => {
    const names = new Map(list.map(({ id, name }) => [id, name]));
    return (id: string) => names.get(id) ?? id;
  };
  const incidents = new Map(site.collection.incidents.map(({ id, summary }) => [id, summary]));
  return {
    item: nameIn(platform.items),
    place: nameIn([...platform.places, { id: "aside", name: "aside" }]),
    fastening: nameIn(platform.fastenings),
    option: nameIn(platform.options.map(({ id, title }) => ({ id, name: title }))),
    incident: (id) => incidents.get(id) ?? id,
    crew: site.collection.service.crew,
    words: wordsFor(site.collection.service).records,
  };
});

/**
 * Numbers (over all steps, included ones counted) of the steps of a procedure that changed since its last issue; text
 * that only moved is not among them.
 */
export const barsOf: (site: Site, platform: Platform, procedure: Procedure) => ReadonlySet<number> = remember(
  (site: Site, platform: Platform, procedure: Procedure) => {
    const present = differingRevisions(site, platform, procedure).find(({ isPresent }) => isPresent);
    if (!present) return new Set<number>();
    const changed = changedSteps(differenceOf(present));
    const own = procedure.steps.filter((step) => step.procedure === procedure.id);
    return new Set(own.flatMap((step, at) => (changed.has(at + 1) ? [step.number] : [])));
  },
);

/** The check codes of this site's cards. */
const codesOf = ({ collection }: Site) => printedCodes(collection);

/** A card with its platform and what has become of it. */
export type Standing = CardStanding & { readonly platform: Platform };

/** Every card of a whole configuration, of every platform, that was ever in force, with what has become of it. */
export const standings: (site: Site) => readonly Standing[] = remember((site: Site) =>
  site.collection.platforms.flatMap((platform) =>
    cardStandings(site.collection, platform, site.today, codesOf(site)).map((standing) => ({
      ...standing,
      platform,
    })),
  ),
);

/** The same of the cards of elementary bands. */
export const standingsOfBands: (site: Site) => readonly Standing[] = remember((site: Site) =>
  site.collection.platforms.flatMap((platform) =>
    bandStandings(site.collection, platform, site.today, codesOf(site)).map((standing) => ({
      ...standing,
      platform,
    })),
  ),
);

/** Every folder with the state of its copies. */
export const audits: (site: Site) => readonly AuditedFolder[] = remember((site: Site) =>
  auditFolders(site.collection, site.today),
);

/** A card of a changeover with the way to it. */
export interface ChangeoverCode {
  readonly code: string;
  readonly platform: Platform;
  readonly title: string;
  readonly band: string;
  /** Of its page with the printed sides. */
  readonly address: string;
  /** Ids of the configurations from and to which it leads. */
  readonly ends: readonly string[];
  readonly procedures: readonly {
    readonly id: string;
    readonly title: string;
    readonly code: string;
    readonly revision: number;
  }[];
}

/**
 * The cards of changeovers as they are made today, without what a temporary amendment does to them: what lies in a
 * folder was printed so, and the slip lies over it. None of them is frozen: an older one is known only by not being
 * among these.
 */
export const changeoverCodes: (site: Site) => readonly ChangeoverCode[] = remember((site: Site) =>
  site.collection.platforms.flatMap((platform) =>
    [...changeoversOf(site, asIssued(platform))].flatMap(([pair, plans]) =>
      plans
        .filter(({ changeover }) => changeover.procedures.length > 0)
        .flatMap(({ changeover, cells }) => {
          const { checkCode, title, band } = printChangeover(site.collection, asIssued(platform), changeover, cells);
          const procedures = [...new Set(changeover.procedures)].map((procedure) => ({
            id: procedure.id,
            title: procedure.title,
            code: procedure.code,
            revision: procedure.revision,
          }));
          return checkCode
            ? [
                {
                  code: checkCode,
                  platform,
                  title,
                  band,
                  address: `${platform.id}/changeovers/${pair}/card/`,
                  procedures,
                  ends: pair.split("--"),
                },
              ]
            : [];
        }),
    ),
  ),
);
