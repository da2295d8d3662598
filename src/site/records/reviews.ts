/**
 * What is due for review, overdue, in review or has an open finding; the dates for a calendar and the issues for a
 * feed.
 */
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import type { Controlled, Platform } from "../../schema/collection.ts";
import type { FeedEntry } from "../../domain/records/feed.ts";
import type { ReviewDate } from "../../domain/records/calendar.ts";
import { kindOf } from "../../domain/records/freeze.ts";
import { withdrawalOf } from "../../domain/records/issues.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import { type Finding, Findings, inFileOrder } from "../../findings/finding.ts";
import { judgesForce, runRules } from "../../rules/run-rules.ts";
import { tellRead, withoutTelling } from "../../domain/words/reads.ts";
import { remember } from "../../domain/words/remember.ts";
import type { Site } from "../site.ts";
import { TOLD } from "../telling-force.ts";
import { proposalsFor, proposalsOf } from "./proposals.ts";
import { addressOfDocument, noticeAddress, noticedRevisions } from "./revisions.ts";
import { heard } from "../../words/heard.ts";

/** A document with its platform and the address of its page. */
export interface Reviewed {
  readonly platform: Platform;
  readonly document: Controlled;
  readonly address: string;
  /** Address of what it changes; absent if nothing was issued before. */
  readonly difference?: string;
}

/** What is not in force yet, in the order in which a reviewer is asked. */
const WAITING = ["in review", "draft", "approved", "coming"] as const;

/** How many days before its date a review counts as due. */
const SOON = 60;

/**
 * Documents by what a reviewer has to do: `overdue`, `due` within sixty days, `later`, by date, then code; and those
 * that are `waiting`: proposals, and documents of which nothing is in force yet, in review first, then drafts, what is
 * approved, what is issued for a later day.
 */
export const reviewLists: (site: Site) => {
  readonly overdue: readonly Reviewed[];
  readonly due: readonly Reviewed[];
  readonly later: readonly Reviewed[];
  readonly undated: readonly Reviewed[];
  readonly waiting: readonly Reviewed[];
} = remember((site: Site) => {
  const all = listed(site);
  const proposed = proposalsOf(site).map(({ platform, said, address, difference }) => ({
    platform,
    document: said,
    address,
    ...(difference ? { difference } : {}),
  }));
  const byDate = (a: Reviewed, b: Reviewed) =>
    (a.document.reviewBy ?? "").localeCompare(b.document.reviewBy ?? "") ||
    a.document.code.localeCompare(b.document.code, "en");
  const approved = all.filter(({ document }) => document.status === "approved"),
    dated = approved.filter(({ document }) => document.reviewBy).sort(byDate);
  const soon = addDays(site.today, SOON);
  const dateOf = ({ document }: Reviewed) => document.reviewBy!;
  return {
    overdue: dated.filter((each) => dateOf(each) < site.today),
    due: dated.filter((each) => dateOf(each) >= site.today && dateOf(each) <= soon),
    later: dated.filter((each) => dateOf(each) > soon),
    // Configurations and options need no date of their own.
    undated: approved.filter(({ document }) => !document.reviewBy && "steps" in document),
    waiting: WAITING.flatMap((status) => [
      ...all.filter(({ document }) => document.status === status && status !== "approved"),
      ...proposed.filter(({ document }) => document.status === status),
    ]),
  };
});

/** The reviews of one month (`YYYY-MM`), by date, then code; the last of the months may stand for all after it. */
interface ReviewMonth {
  readonly month: string;
  readonly andLater: boolean;
  readonly reviews: readonly Reviewed[];
  /** Some of them within sixty days. */
  readonly isSoon: boolean;
  /** The part of the month that lies before the sixty days are over, 0 to 1. */
  readonly soon: number;
}

/** Months that the rail of a year shows: this one, and the same again a year later. */
const MONTHS = 13;

/**
 * The thirteen months from that of today on, each with the reviews that are due in it and not overdue; what is due
 * after the last of them stands in a fourteenth, which is there only then.
 */
export function reviewMonths(site: Site): ReviewMonth[] {
  const { due, later } = reviewLists(site),
    [year, month] = site.today.split("-").map(Number) as [number, number];
  const names = Array.from({ length: MONTHS + 1 }, (_, at) => {
    const count = month - 1 + at;
    return `${year + Math.floor(count / 12)}-${String((count % 12) + 1).padStart(2, "0")}`;
  });
  const last = names.at(-1)!,
    limit = addDays(site.today, SOON),
    monthOf = ({ document }: Reviewed) => document.reviewBy!.slice(0, 7);
  const months = names.map((name) => {
    const isIn = (each: Reviewed) => (name === last ? monthOf(each) >= last : monthOf(each) === name);
    return {
      month: name,
      andLater: name === last,
      reviews: [...due, ...later].filter(isIn),
      isSoon: due.some(isIn),
      soon: name < limit.slice(0, 7) ? 1 : limit.startsWith(name) ? Number(limit.slice(8)) / daysIn(name) : 0,
    };
  });
  return months.filter(({ andLater, reviews }) => !andLater || reviews.length > 0);
}

const daysIn = (month: string) => Number(addDays(`${addDays(`${month}-01`, 31).slice(0, 7)}-01`, -1).slice(8));

/** Every document with its platform and the address of its page. */
function listed({ collection }: Site): Reviewed[] {
  return collection.platforms.flatMap((platform) =>
    documentsOf(platform).map((document) => ({
      platform,
      document,
      address: addressOfDocument(document, kindOf(document)),
    })),
  );
}

/** Every finding over the collection as it is, in file order. */
export const openFindings: (site: Site) => readonly Finding[] = remember(
  ({ findingsOf, findings, force, today }: Site) => {
    tellRead(TOLD.findings);
    return withoutTelling(
      () => findingsOf?.() ?? findings ?? inFileOrder(runRules(force.files, new Findings(), today)),
    );
  },
);

/** What a finding is about, as people call it: a document with its code and page, or something that all share. */
interface Subject {
  readonly title: string;
  readonly code?: string;
  readonly address?: string;
}

/** Files of the whole service, in words; those of a platform are its own. */
const SHARED: Readonly<Record<string, string>> = {
  get "folders.yaml"() {
    return heard("reviewList").flightFolders;
  },
  get "incidents.yaml"() {
    return heard("reviewList").incidents;
  },
  get "service.yaml"() {
    return heard("reviewList").theService;
  },
};

/** The open findings by what they are about: what has an error first, then as the files stand. */
export function findingsBySubject(site: Site): (readonly [Subject, readonly Finding[]])[] {
  const { platforms } = site.collection;
  // A proposal of which nothing is in force yet has its own page; else the page is that of the document in force.
  const documents = new Map([...reviewLists(site).waiting, ...listed(site)].map((each) => [each.document.file, each]));
  const subjectOf = (file: string): Subject => {
    const found = documents.get(file);
    if (found) return { title: found.document.title, code: found.document.code, address: found.address };
    const platform = platforms.find(({ id }) => file.startsWith(`${id}/`));
    if (!platform) return { title: SHARED[file] ?? heard("reviewList").theCollection };
    return {
      title: `${platform.name}: ${file.includes("/photos/") ? "pictures" : heard("reviewList").itsPartsAndPlaces}`,
    };
  };
  const isGrave = (list: readonly Finding[]) => list.some(({ severity }) => severity === "error");
  const keyOf = ({ title, address = title }: Subject) => address;
  return [...Map.groupBy(openFindings(site), ({ file }) => keyOf(subjectOf(file))).values()]
    .map((list) => [subjectOf(list[0]!.file), list] as const)
    .sort(([, a], [, b]) => Number(isGrave(b)) - Number(isGrave(a)));
}

/**
 * The findings about a document's file: those of its text as it is in force, or those of its proposal. Where there is a
 * proposal, whatever judges the words in the file judges the proposal's.
 */
export function findingsFor(site: Site, document: Issuable, proposed: boolean): readonly Finding[] {
  const own = openFindings(site).filter(({ file }) => file === document.file);
  if (!proposed && proposalsFor(site, document, kindOf(document)).length === 0) return own;
  const isOfProposal = ({ rule, proposed: comesWithIt }: Finding) => comesWithIt === true || !judgesForce(rule);
  return own.filter((finding) => isOfProposal(finding) === proposed);
}

/** A review date for each approved document that has one. */
export function reviewDates(site: Site): ReviewDate[] {
  const { overdue, due, later } = reviewLists(site);
  const { site: home } = site.collection.service;
  return [...overdue, ...due, ...later].map(({ platform, document, address }) => ({
    id: `${address.replace(/\/$/, "").replaceAll("/", ".")}.review`,
    date: document.reviewBy!,
    title: heard("reviewList").review({ code: document.code, document: document.title }),
    text: heard("reviewList").revisionHas({
      document: document.title,
      whichPlatform: platform.name,
      revision: document.revision,
      owner: document.owner ? heard("reviewList").owner({ owner: document.owner }) : "",
    }),
    ...(home ? { address: `${home}${address}review/` } : {}),
    changed: changedOn(document),
    revision: document.revision,
  }));
}

/** The day on which a document was last changed, as far as it says. */
function changedOn({ changes, effective, revision }: Controlled): string {
  return changes.findLast((change) => change.revision === revision)?.date ?? effective ?? "1970-01-01";
}

/** Every approved issue that is known, newest first. */
export function issueEntries(site: Site): FeedEntry[] {
  const { hasSeveral: several } = site.collection.service;
  return site.collection.platforms
    .flatMap((platform) =>
      documentsOf(platform).flatMap((document) => [
        ...withdrawalEntry(site, document, several ? ` (${platform.name})` : ""),
        ...noticedRevisions(site, platform, document).map(({ number, change, after }): FeedEntry => {
          const notice = noticeAddress(site, platform, document, number);
          return {
            id: `${addressOfDocument(document, kindOf(document))}${number}`,
            title: heard("reviewList").codeAfterRevisionNumber({
              code: after.code,
              after: after.title,
              number,
              whichPlatform: several ? ` (${platform.name})` : "",
            }),
            date: change?.date ?? after.effective ?? "1970-01-01",
            ...(change?.by ? { author: change.by } : {}),
            summary: [
              change?.summary ?? (number === 1 ? heard("reviewList").firstIssue : heard("reviewList").noEntrySaysWhat),
              change?.reason,
              after.effective && heard("reviewList").inForce({ effective: after.effective }),
            ]
              .filter(Boolean)
              .join(" "),
            ...(notice ? { address: notice } : {}),
          };
        }),
      ]),
    )
    .sort((a, b) => (a.date === b.date ? a.id.localeCompare(b.id, "en") : a.date < b.date ? 1 : -1));
}

/** That an issued document is no longer used; withdrawn as it stood it has no day of that: it is listed by its last. */
function withdrawalEntry(site: Site, document: Issuable, whichPlatform: string): FeedEntry[] {
  const withdrawal = withdrawalOf(site.collection, document);
  if (!withdrawal) return [];
  const { issued, from: day } = withdrawal,
    change = document.changes.findLast(({ revision }) => revision > issued),
    { title, code, effective } = document;
  return [
    {
      id: `${addressOfDocument(document, kindOf(document))}withdrawn`,
      title: heard("reviewList").codeAfterWithdrawn({ code, after: title, whichPlatform }),
      date: day ?? change?.date ?? effective ?? "1970-01-01",
      ...(change?.by ? { author: change.by } : {}),
      summary: [
        change?.summary,
        change?.reason,
        day ? heard("reviewList").withdrawnFrom({ day }) : heard("reviewList").withdrawn,
      ]
        .filter(Boolean)
        .join(" "),
      address: addressOfDocument(document, kindOf(document)),
    },
  ];
}
